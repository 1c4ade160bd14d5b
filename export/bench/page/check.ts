// Check: each figure with its rule laid over, what was wanted and what was found. Faults first.
import type { Bench } from './bench.ts';
import { h, patch, s } from './dom.ts';
import { refusal } from './engine.ts';
import { levelSign } from './findings.ts';
import { near } from './length.ts';
import { gaugesOf } from './lettering.ts';
import { coatUnder, paintClass } from './coat.ts';
import { baseIn } from './marks.ts';
import type { Figure, RuleFigure } from './protocol.ts';

interface CheckRecord { dimension: string; what: string; measured_in: number; expected_in: number; difference_in: number; tolerance_in: number; ratio?: number; expected_ratio?: number; unit?: string; verdict: string; text: string }
interface Insignia { id: string; rule: string; checks: CheckRecord[] }
interface Report { insignia: Insignia[]; notes?: string[] }

export function check(bench: Bench, root: HTMLElement): void {
  let report: Report | null = null, of = '', why = '', asking = false;
  const rules = new Map<string, RuleFigure | null>();
  const ask = async () => {
    if (asking || of === bench.engine.hash || bench.engine.problems.length) return;
    asking = true;
    const hash = bench.engine.hash;
    bench.draw();
    try { report = await bench.engine.ask<Report>('check', {}, { slot: 'check' }); why = ''; of = hash; } catch (e) { const r = refusal(e); if (r.code !== 'cancelled') { why = r.message; of = hash; } }
    asking = false;
    bench.draw();
    for (const i of report?.insignia ?? []) {
      const size = i.checks.find(c => c.dimension === 'size')?.expected_in, key = `${i.rule} ${size}`;
      if (rules.has(key) || !i.rule) continue;
      rules.set(key, null);
      try { rules.set(key, await bench.engine.ask<RuleFigure>('rule', { rule: i.rule, size: size ? `${size} in` : undefined })); bench.draw(); } catch { /* a rule for lettering has no figure */ }
    }
  };
  bench.panel(() => {
    if (bench.state.job !== 'check') return;
    void ask();
    const unit = bench.state.unit, all = report?.insignia ?? [];
    const bad = (i: Insignia) => i.checks.filter(c => c.verdict !== 'conforms').length;
    const merged: { i: Insignia; sides: string }[] = [];
    for (const i of all) {
      const same = merged.find(m => baseIn(bench.model, m.i.id) === baseIn(bench.model, i.id) && bad(m.i) === bad(i) && m.i.checks.length === i.checks.length && m.i.rule === i.rule);
      if (same) same.sides = 'both sides'; else merged.push({ i, sides: i.id.endsWith('-left') ? 'left' : i.id.endsWith('-right') ? 'right' : '' });
    }
    merged.sort((a, b) => bad(b.i) - bad(a.i));
    patch(root, [
      h('div', { class: 'head' }, h('h2', { class: 'big' }, 'Check'), h('span', { class: 'soft' }, asking ? 'is being measured' : `${merged.filter(m => bad(m.i)).length} with something to look at, ${merged.filter(m => !bad(m.i)).length} conform`)),
      why ? h('p', { class: 'stop' }, why) : null,
      !all.length && report && !asking ? h('p', { class: 'soft' }, 'No marking is held against a rule: give a figure rule:, or a text as:.') : null,
      merged.map(({ i, sides }) => {
        const marking = baseIn(bench.model, i.id), figure = bench.model.figures.get(marking)?.find(f => f.id === i.id), size = i.checks.find(c => c.dimension === 'size')?.expected_in, rule = rules.get(`${i.rule} ${size}`);
        const faults = i.checks.filter(c => c.verdict !== 'conforms'), right = i.checks.filter(c => c.verdict === 'conforms');
        return h('section', { class: 'sheet', 'data-key': i.id }, h('div', { class: 'head' }, levelSign(faults.length ? 'warn' : 'good'), h('h3', {}, `${marking}${sides ? `, ${sides}` : ''}`), h('span', { class: 'mono' }, i.rule), h('button', { type: 'button', class: 'link', on: { click: () => { bench.set({ job: 'layout' }); bench.select([marking]); } } }, 'Lay out')),
          h('div', { class: figure && figure.bounds[2] - figure.bounds[0] > 2 * (figure.bounds[3] - figure.bounds[1]) ? 'checked wide' : 'checked' }, figure ? laid(figure, rule ?? null, i.checks, i.id.endsWith('right'), coatUnder(bench.model, bench.marking(marking)?.surfaces ?? [])) : null,
            h('div', {}, figure?.characters.length ? h('p', { class: 'soft small' }, 'Dashed: width and least gap as the rule wants them, red where they are not met. Under each character its stroke, wanted above found.') : null, faults.length ? table(faults, unit) : null,
              right.length ? h('details', { open: false }, h('summary', {}, faults.length ? `the other ${right.length} conform` : `all ${right.length} conform`), table(right, unit)) : null)));
      }),
      (report?.notes ?? []).map(n => h('p', { class: 'soft' }, n)),
    ]);
  });
}

/** The figure in its paints with the rule's lines over it. */
function laid(figure: Figure, rule: RuleFigure | null, checks: CheckRecord[], mirrored: boolean, coat: string): SVGElement {
  const gauges = gaugesOf(figure.characters, checks), low = Math.min(figure.bounds[1], ...gauges.map(g => g.box[1])), far = Math.max(figure.bounds[2], ...gauges.map(g => g.box[2]));
  const [x0, y0, x1, y1] = [figure.bounds[0], low, far, figure.bounds[3]], m = Math.max(x1 - x0, y1 - y0) * 0.06, w = x1 - x0 + 2 * m, high = y1 - y0 + 2 * m;
  return s('svg', { class: 'laid', viewBox: `${x0 - m} ${-y1 - m} ${w} ${high}`, role: 'img', 'aria-label': 'The figure in its paints with the lines of the rule over it' },
    coat ? s('rect', { x: x0 - m, y: -y1 - m, width: w, height: high, fill: coat }) : null,
    s('g', { transform: 'scale(1 -1)' },
      figure.regions.map(r => s('path', { d: r.d, fill: r.hex, class: paintClass(r.hex, coat), 'vector-effect': 'non-scaling-stroke' })),
      rule?.regions.flatMap(r => ['rulecase', 'rulelines'].map(name => s('path', { d: r.d, class: name, transform: mirrored ? 'scale(-1 1)' : undefined, 'vector-effect': 'non-scaling-stroke' }))) ?? null,
      gauges.flatMap(({ kind, of, box: [a, b, c, d], conforms }) => (kind === 'width' || kind === 'gap' ? ['rulecase', conforms ? 'rulelines' : 'rulelines off'] : [conforms ? `bar ${kind}` : `bar ${kind} off`]).map(name =>
        s('rect', { class: name, x: a, y: b, width: Math.max(0, c - a), height: d - b, 'vector-effect': 'non-scaling-stroke' }, s('title', {}, of))))));
}

function table(checks: CheckRecord[], unit: 'in' | 'mm'): HTMLElement {
  const same = checks.length > 1 && checks.every(c => c.text === checks[0].text) ? checks[0].text : '';
  const value = (c: CheckRecord, x: number, ratio?: number) => c.unit === 'deg' && ratio !== undefined ? `${Number(ratio.toFixed(2))} deg` : `${unit === 'in' ? Number(x.toFixed(3)) : near(x, unit)} ${unit}`;
  return h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Dimensions' }, h('table', {}, h('thead', {}, h('tr', {}, ['dimension, and its source', 'wanted', 'found', 'off', 'verdict'].map(n => h('th', { scope: 'col' }, n)))),
    h('tbody', {}, checks.map(c => h('tr', {}, h('td', {}, h('b', {}, c.dimension), h('div', { class: 'small' }, c.what), same === c.text ? null : h('div', { class: 'soft small' }, c.text)), h('td', { class: 'n' }, value(c, c.expected_in, c.expected_ratio)), h('td', { class: 'n' }, value(c, c.measured_in, c.ratio)),
      h('td', { class: 'n' }, Math.abs(c.difference_in) < 0.0005 ? '0' : value(c, c.difference_in, c.unit === 'deg' && c.ratio !== undefined ? c.ratio - (c.expected_ratio ?? 0) : undefined)), h('td', { class: c.verdict === 'conforms' ? 'good' : 'warn' }, c.verdict))))), same ? h('p', { class: 'soft small' }, `All: ${same}`) : null);
}
