// The strip of findings: worst first, what is gone and new before all, hints as buttons.
import type { Bench } from './bench.ts';
import { h, patch, s } from './dom.ts';
import { read, written } from './length.ts';
import { announce } from './live.ts';
import { baseIn } from './marks.ts';
import { listed } from './model.ts';
import type { Finding, Proposal } from './protocol.ts';

let current = -1;

/** The symbol of a level: a shape besides its colour. */
export function levelSign(level: string): SVGElement {
  const shape: Record<string, SVGElement> = {
    stop: s('rect', { x: 2, y: 2, width: 10, height: 10 }), warn: s('path', { d: 'M7 1.5L13 12.5H1z' }), note: s('circle', { cx: 7, cy: 7, r: 4.5 }),
    good: s('path', { d: 'M1.5 7.5l4 4 7-8.5' }), gone: s('path', { d: 'M1.5 7.5l4 4 7-8.5' }), unknown: s('path', { d: 'M3 7h8' }),
  };
  return s('svg', { class: `sign ${level}`, width: 14, height: 14, 'aria-hidden': true }, shape[level] ?? shape.note);
}

/** What a hint does, as a button says it: "Up 1/8 in", "Set field 1-1/4 in". */
export function hintName(bench: Bench, p: Proposal): string {
  const key = p.path.split('.').pop() ?? p.path, m = bench.model.markings.find(m => p.path.startsWith(m.path));
  const unit = bench.state.unit, value = read(p.value, unit);
  if (m && value.ok) {
    if (key === 'wl') return by(value.inches - m.wl, 'Up', 'Down', unit);
    if (key === 'fs') return by(value.inches - m.fs, 'Aft', 'Forward', unit);
    if (key === 'bl') return by(value.inches - m.bl, 'Outboard', 'Inboard', unit);
  }
  return `Set ${key} ${p.value}`;
}

const by = (d: number, plus: string, minus: string, unit: 'in' | 'mm'): string => `${d >= 0 ? plus : minus} ${written(Math.abs(d), unit)}`;

/** Takes a hint: one step of undo; what moved is selected. */
export async function take(bench: Bench, p: Proposal): Promise<void> {
  const m = bench.model.markings.find(m => p.path.startsWith(m.path));
  if (await bench.edit([{ path: p.path, value: p.value }], hintName(bench, p))) {
    if (m) bench.select([m.id]);
    bench.say(`taken: ${hintName(bench, p)}`);
  }
}

/** Goes to the next finding and selects its marking. */
export function nextFinding(bench: Bench): void {
  const all = listed(bench.model);
  if (!all.length) return bench.say('nothing is found');
  current = (current + 1) % all.length;
  show(bench, all[current].finding);
  announce(`${all[current].finding.level}, ${current + 1} of ${all.length}: ${all[current].finding.message}`);
  document.querySelector(`[data-finding="${CSS.escape(all[current].finding.key)}"]`)?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
}

export async function takeCurrent(bench: Bench): Promise<void> {
  const f = listed(bench.model)[Math.max(0, current)]?.finding, p = f?.proposals?.[0];
  if (p) await take(bench, p); else bench.say('this finding has no hint with a value');
}

function show(bench: Bench, f: Finding): void {
  const id = baseIn(bench.model, f.marking);
  if (bench.marking(id)) bench.select([id], f.marking.endsWith('-right') ? 'right' : 'left');
  bench.draw();
}

const card = (bench: Bench, f: Finding, sides: string, how: string, n: number) => {
  const fs = f.at[0], place = fs || f.at[2] ? `FS ${Number(fs.toFixed(1))}, ${Math.abs(f.at[1]) > 40 && bench.state.views === 'wings' ? `BL ${Number(Math.abs(f.at[1]).toFixed(1))}` : `WL ${Number(f.at[2].toFixed(1))}`}` : '';
  const what = [sides && f.marking ? `${baseIn(bench.model, f.marking)}, ${sides}` : f.marking, place].filter(Boolean).join('; ');
  return h('li', { class: `finding ${how} ${n === current ? 'current' : ''}`, 'data-key': `${how} ${f.key}`, 'data-finding': f.key },
    levelSign(how === 'gone' ? 'gone' : f.level),
    h('div', { class: 'words' },
      h('p', {}, h('b', { class: how }, how === 'fresh' ? `new ${f.level}` : how), ' ', h('button', { type: 'button', class: 'plain', on: { click: () => show(bench, f) } }, f.message)),
      h('p', { class: 'soft' }, [what, f.hint].filter(Boolean).join('. '))),
    how !== 'gone' && f.proposals?.length ? h('div', { class: 'hints' }, f.proposals.slice(0, 2).map(p => h('button', { type: 'button', class: 'hint', title: p.why, on: { click: () => void take(bench, p) } }, hintName(bench, p)))) : null);
};

export function findings(bench: Bench, root: HTMLElement): void {
  root.setAttribute('role', 'region');
  root.setAttribute('aria-label', 'Findings');
  bench.panel(() => {
    const { model } = bench, all = model.summary.listed, problems = bench.engine.problems;
    const decide = all.filter(x => x.finding.level !== 'note').length, notes = all.length - decide;
    const fresh = all.filter(x => model.fresh.has(x.finding.key)).length;
    const summary = problems.length ? 'the text has mistakes: the drawing is as it was before them'
      : `${decide} to decide, ${notes} ${notes === 1 ? 'note' : 'notes'}${model.gone.length || fresh ? `; ${model.gone.length} gone, ${fresh} new with this change` : ''}${model.whole ? '' : '; the whole is being looked at'}`;
    patch(root, [
      h('div', { class: 'head' }, h('h2', {}, 'Findings'), h('span', { class: 'soft' }, summary), model.trouble ? h('span', { class: 'stop' }, model.trouble) : null),
      h('ul', { class: 'cards', tabindex: 0, 'aria-label': 'Findings, worst first' },
        problems.map(p => h('li', { class: 'finding stop', 'data-key': `p${p.at.line} ${p.at.column} ${p.message}` }, levelSign('stop'), h('div', { class: 'words' },
          h('p', {}, h('b', { class: 'stop' }, `line ${p.at.line}, column ${p.at.column}`), ' ', h('button', { type: 'button', class: 'plain', on: { click: () => bench.focus('text') } }, p.message)), p.hint ? h('p', { class: 'soft' }, p.hint) : null))),
        model.gone.map(f => card(bench, f, '', 'gone', -2)),
        all.slice(0, 80).map((x, i) => card(bench, x.finding, x.sides, model.fresh.has(x.finding.key) ? 'fresh' : x.finding.level, i)),
        !all.length && !problems.length && model.whole ? h('li', { class: 'finding good' }, levelSign('good'), h('div', { class: 'words' }, h('p', {}, 'Nothing is found.'))) : null),
    ]);
  });
}
