// What slides over the drawing: adding, keys, the pack, what differs, the aircraft.
import { addPanel } from './add.ts';
import type { Bench } from './bench.ts';
import { h, patch } from './dom.ts';
import { refusal } from './engine.ts';
import { table } from './keys.ts';
import { nearly, show } from './length.ts';
import { joined, lineDiff, merge, type Part } from './merge.ts';
import { packPanel } from './pack.ts';

const titles: Record<string, string> = { add: 'Add a marking', keys: 'Keys', pack: 'The pack', diff: 'Text and file', aircraft: 'Aircraft' };

export function panels(bench: Bench, root: HTMLElement): void {
  let was: string | null = null, back: HTMLElement | null = null;
  bench.engine.on('file', () => { if (bench.state.panel === 'diff') void askDisk(bench); });
  root.setAttribute('role', 'dialog');
  root.setAttribute('aria-modal', 'false');
  bench.panel(() => {
    const { panel } = bench.state, open = panel !== null && panel in titles;
    root.hidden = !open;
    root.setAttribute('aria-label', open ? titles[panel!] : 'Panel');
    if (open) patch(root, [
      h('div', { class: 'head', 'data-key': panel! }, h('h2', { class: 'big', tabindex: -1 }, titles[panel!]), h('button', { type: 'button', on: { click: () => bench.set({ panel: null }) } }, 'Close')),
      h('div', { class: 'body', 'data-key': `body ${panel}` }, panel === 'add' ? addPanel(bench) : panel === 'keys' ? keys(bench) : panel === 'pack' ? packPanel(bench) : panel === 'diff' ? diff(bench) : aircraft(bench)),
    ]);
    if (open && was !== panel) { back = document.activeElement as HTMLElement | null; if (panel === 'diff') void askDisk(bench); root.querySelector<HTMLElement>('h2')?.focus(); }
    if (!open && was && back?.isConnected && (document.activeElement === document.body || root.contains(document.activeElement))) back.focus();
    was = panel;
  });
}

function keys(bench: Bench): HTMLElement {
  return h('div', {}, h('table', { class: 'keys' }, h('tbody', {}, table.map(([k, does]) => h('tr', {}, h('th', { scope: 'row' }, k), h('td', {}, does))))),
    h('label', {}, h('input', { type: 'checkbox', checked: bench.state.letters, on: { change: (e: Event) => bench.set({ letters: (e.target as HTMLInputElement).checked }) } }), 'Single letters are keys while the drawing has the focus'));
}

const disk = { text: null as string | null, file: '', why: '' };
async function askDisk(bench: Bench): Promise<void> {
  try { const d = await bench.engine.ask<{ file: string; text?: string }>('disk', {}, { slot: 'disk' }); disk.text = d.file === 'none' ? null : d.text ?? null; disk.file = d.file; disk.why = ''; } catch (e) { const r = refusal(e); if (r.code !== 'cancelled') { disk.text = null; disk.why = r.message; } }
  bench.draw();
}

/** What was chosen for each clash, of one pair of texts. */
const choice = { of: '', chosen: [] as ('mine' | 'theirs' | undefined)[] };

function partsOf(bench: Bench): Part[] | null {
  const { base, text } = bench.engine;
  if (base === null || disk.text === null || disk.text === base) return null;
  const of = `${bench.engine.hash} ${disk.text}`;
  if (choice.of !== of) { choice.of = of; choice.chosen = []; }
  return merge(base.split('\n'), text.toString().split('\n'), disk.text.split('\n'));
}

function both(bench: Bench, act: (name: string, f: () => Promise<unknown>, strong?: boolean) => HTMLElement): HTMLElement | null {
  const parts = partsOf(bench), theirs = disk.text;
  if (!parts) return null;
  const open = parts.filter(p => !('agreed' in p)).length, text = joined(parts, choice.chosen);
  const b = act(open ? `Both, ${open === 1 ? 'the clash' : `the ${open} clashes`} as chosen` : 'Both: they do not clash', () => bench.engine.takeBoth(text!, theirs!).then(() => bench.say('mine and the file are merged; save writes it')), true);
  if (text === null) b.setAttribute('disabled', '');
  return b;
}

/** Each place that both changed: which of the two is to stand. */
function clashes(bench: Bench): HTMLElement | null {
  const all = partsOf(bench)?.flatMap(p => 'agreed' in p ? [] : [p]) ?? [];
  if (!all.length) return null;
  return h('div', { class: 'clashes' }, h('h3', {}, all.length === 1 ? 'One place was changed by both' : `${all.length} places were changed by both`), all.map((p, i) => h('fieldset', {}, h('legend', {}, `line ${p.line}`),
    (['mine', 'theirs'] as const).map(side => h('label', {}, h('input', { type: 'radio', name: `clash${i}`, checked: choice.chosen[i] === side, on: { change: () => { choice.chosen[i] = side; bench.draw(); } } }), `${side}: `, h('code', {}, p[side].join('\n').trim() || 'nothing'))))));
}

function diff(bench: Bench): HTMLElement {
  const { engine } = bench, mine = engine.text.toString(), rows = disk.text === null ? [] : lineDiff(disk.text.split('\n'), mine.split('\n')), changed = rows.filter(r => r.sign !== ' ');
  const act = (name: string, f: () => Promise<unknown>, strong = false) => h('button', { type: 'button', 'data-key': name, class: strong ? 'strong' : '', on: { click: () => void f().then(() => { void askDisk(bench); bench.draw(); }).catch(e => bench.say(refusal(e).message)) } }, name);
  return h('div', { class: 'diff' },
    engine.file === 'changed-on-disk' ? h('p', { class: 'warn' }, 'The file was changed by another program since it was read. It is not overwritten.') : null,
    engine.file === 'gone' ? h('p', { class: 'warn' }, 'The file is gone from its folder.') : null,
    disk.why ? h('p', { class: 'stop' }, disk.why) : disk.text === null ? h('p', { class: 'soft' }, 'There is no file to hold it against.') : h('p', {}, changed.length ? `${changed.filter(r => r.sign === '+').length} lines of the text and ${changed.filter(r => r.sign === '-').length} of the file differ` : 'Text and file are the same.'),
    h('div', { class: 'acts' },
      engine.file === 'changed-on-disk' ? [both(bench, act), act('Take theirs (mine stays one undo away)', () => engine.takeTheirs()), act('Mine under a new name', () => engine.save(`${bench.name.replace(/\.ya?ml$/, '')}-mine.yaml`))] : act('Save', () => bench.save(), true),
      engine.undoLabels.length ? h('span', { class: 'soft' }, `${engine.undoLabels.length} steps to undo; the last: ${engine.undoLabels[0]}`) : null),
    engine.file === 'changed-on-disk' ? clashes(bench) : null,
    h('pre', { tabindex: 0, role: 'region', 'aria-label': 'What differs' }, rows.slice(0, 400).map(r => h('span', { class: r.sign === '+' ? 'plus' : r.sign === '-' ? 'minus' : '' }, `${String(r.line).padStart(4)} ${r.sign} ${r.text}\n`))));
}

function aircraft(bench: Bench): HTMLElement {
  const { scene, skins } = bench.model, unit = bench.state.unit;
  if (!scene) return h('p', {}, 'There is no aircraft yet.');
  const at = (p: readonly number[]) => `FS ${show(p[0], unit, 16)}, BL ${show(p[1], unit, 16)}, WL ${show(p[2], unit, 16)}`;
  return h('div', { class: 'aircraft' }, h('p', {}, h('b', {}, scene.aircraft)), h('p', { class: 'soft' }, scene.datum),
    h('h3', {}, 'Surfaces'), h('ul', {}, [...new Map(skins.map(k => [k.surface, k])).values()].map(k => h('li', {}, `${k.surface}: ${k.kind}; the net of the page is within ${nearly(k.within, unit)}`))),
    h('h3', {}, 'Hardpoints'), h('ul', {}, scene.hardpoints.map(p => h('li', {}, `${p.id} ${p.side}, ${p.name}: ${at(p.at)}${p.measured ? ', measured' : ''}`))),
    h('h3', {}, 'Obstacles'), h('ul', {}, scene.obstacles.map(o => h('li', {}, `${o.id}, ${o.side}${o.face ? `, ${o.face} face` : ''}: ${o.kind}${o.clear ? `, paint keeps ${nearly(o.clear, unit)}` : ''}`))),
    scene.skipped.length ? [h('h3', {}, 'Not drawn'), h('ul', {}, scene.skipped.map(x => h('li', {}, `${x.id}: ${x.why}`)))] : null);
}
