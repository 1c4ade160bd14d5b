// Film: the web with all films on it, and each film with its passes, tiles and strain.
import type { Bench } from './bench.ts';
import { h, patch, s } from './dom.ts';
import { refusal } from './engine.ts';
import { nearly, show } from './length.ts';
import type { Film, Films, Pass, Run, StrainGrid } from './protocol.ts';
import { ladder } from './theme.ts';

export function film(bench: Bench, root: HTMLElement): void {
  let run: Run | null = null, of = '', why = '', asking = false, marking = '', pass = 0, chosen = '', cost = '', showStrain = true;
  const films = new Map<string, { of: string; list: Film[] }>();
  const ask = async () => {
    if (asking || of === bench.engine.hash || bench.engine.problems.length) return;
    asking = true;
    const hash = bench.engine.hash;
    try { run = await bench.engine.ask<Run>('run', {}, { slot: 'run' }); why = ''; of = hash; } catch (e) { const r = refusal(e); if (r.code !== 'cancelled') { why = r.message; of = hash; } }
    asking = false;
    bench.draw();
  };
  let wanted = '';
  const askFilm = async (id: string) => {
    const hash = bench.engine.hash, key = `${id} ${hash}`;
    if (films.get(id)?.of === hash || wanted === key) return;
    wanted = key;
    try { films.set(id, { of: hash, list: (await bench.engine.ask<Films>('film', { marking: id }, { slot: 'film view' })).films }); } catch (e) { const r = refusal(e); if (r.code !== 'cancelled') why = r.message; }
    bench.draw();
  };
  bench.panel(() => {
    if (bench.state.job !== 'film') return;
    void ask();
    const unit = bench.state.unit, placed = bench.model.markings.filter(m => m.placed.length);
    if (!placed.some(m => m.id === marking)) marking = bench.chosen?.id ?? placed[0]?.id ?? '';
    if (marking) void askFilm(marking);
    const list = films.get(marking)?.list ?? [], one = list.find(f => f.id === chosen) ?? list[0], p = one?.passes[Math.min(pass, (one?.passes.length ?? 1) - 1)];
    const price = Number(cost), length = run?.length ?? 0;
    patch(root, [
      h('div', { class: 'head' }, h('h2', { class: 'big' }, 'Film'), h('span', { class: 'soft' }, run ? `web ${nearly(run.web, unit)}, ${run.films.length} films` : asking ? 'films are being cut and nested' : '')),
      why ? h('p', { class: 'stop' }, why) : null,
      run ? h('section', { class: 'sheet' },
        h('dl', { class: 'figures' }, ...pair('length', `${nearly(length, unit)}${unit === 'in' ? ` (${(length / 12).toFixed(1)} ft)` : ''}`), ...pair('waste', `${(run.waste * 100).toFixed(0)} %`), ...pair('usable width', nearly(run.usable, unit)),
          h('div', {}, h('dt', {}, h('label', { for: 'film-cost' }, unit === 'in' ? 'price of a foot' : 'price of a metre')), h('dd', {}, h('input', { id: 'film-cost', type: 'text', value: cost, inputmode: 'decimal', on: { input: (e: Event) => { cost = (e.target as HTMLInputElement).value; bench.draw(); } } }))),
          ...(price > 0 ? pair('cost of web', (price * (unit === 'in' ? length / 12 : length * 0.0254)).toFixed(2)) : [])),
        h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'The web as it runs' }, nest(run, id => { chosen = filmOf(id); marking = placed.find(m => m.placed.some(q => q.id === chosen))?.id ?? marking; pass = 0; bench.draw(); }, one?.id ?? ''))) : null,
      h('div', { class: 'acts' }, h('label', {}, 'Marking ', h('select', { value: marking, on: { change: (e: Event) => { marking = (e.target as HTMLSelectElement).value; pass = 0; bench.draw(); } } }, placed.map(m => h('option', { value: m.id, selected: m.id === marking }, m.id)))),
        list.length > 1 ? h('span', { class: 'pair', role: 'group', 'aria-label': 'Film of' }, list.map(f => h('button', { type: 'button', 'aria-pressed': String(f === one), on: { click: () => { chosen = f.id; bench.draw(); } } }, f.id.startsWith(`${marking}-`) ? f.id.slice(marking.length + 1).replace('-', ' ') : f.id))) : null,
        one ? h('span', { class: 'pair', role: 'group', 'aria-label': 'Pass' }, one.passes.map((q, i) => h('button', { type: 'button', 'aria-pressed': String(q === p), on: { click: () => { pass = i; bench.draw(); } } }, `pass ${i + 1}: ${q.paint}`))) : null,
        strained(one) ? h('label', {}, h('input', { type: 'checkbox', checked: showStrain, on: { change: (e: Event) => { showStrain = (e.target as HTMLInputElement).checked; bench.draw(); } } }), ' strain') : null),
      one && p ? h('section', { class: 'sheet' }, h('div', { class: 'split' }, drawing(one, p, showStrain),
        h('dl', { class: 'list' }, ...pair('film', `${show(p.field[2] - p.field[0], unit, 16)} by ${nearly(p.field[3] - p.field[1], unit)}`), ...pair('pieces', String(p.tiles.length)), ...pair('loose parts', String(p.islands)), ...pair('seams', String(p.seams.length)), ...pair('way', p.polarity === 'open' ? 'open: paint goes through' : 'keep-down: film keeps the paint'),
          ...pair('coats', String(p.coats)), ...pair('sprayed', `${(p.opening / 144).toFixed(2)} ft²`), ...pair('of film', `${(p.area / 144).toFixed(2)} ft²`), ...pair('strain', one.exact ? 'none: it unrolls' : `${percent(one.strain.least)} to ${percent(one.strain.most)} %`), ...(one.strain.advice ? pair('advice', one.strain.advice) : []),
          ...pair('outline within', unit === 'mm' ? `${(one.outlineError * 25.4).toFixed(3)} mm` : `${one.outlineError.toFixed(4)} in`), ...pair('height along the skin', nearly(one.height, unit)), ...pair('height seen from the side', nearly(one.sideHeight, unit)),
          ...one.clearances.slice(0, 6).flatMap(c => pair(`to the ${c.obstacle}`, `${nearly(c.distance, unit)} (keep ${nearly(c.limit, unit)})`)))),
        showStrain && strained(one) ? strainTable(one.strain.grid!) : null) : marking ? h('p', { class: 'soft' }, 'The film is being laid.') : h('p', { class: 'soft' }, 'No marking has a place yet.'),
    ]);
  });
}

/** The film that a piece on the web is cut from. */
const filmOf = (piece: string): string => piece.replace(/-pass-\d+-.*$/, '');

/** Below a twentieth of a percent nothing is drawn: the film lies as on a flat. */
const strained = (f: Film | undefined): boolean => !!f?.strain.grid && Math.max(-f.strain.least, f.strain.most) > 0.0005;

const percent = (x: number): string => String(Number((x * 100).toFixed(2)) || 0);

const pair = (name: string, value: string): HTMLElement[] => [h('div', {}, h('dt', {}, name), h('dd', {}, value))];

function nest(run: Run, open: (id: string) => void, film: string): SVGElement {
  const k = Math.min(8, Math.max(3, 170 / run.web)), w = run.length * k, high = run.web * k;
  return s('svg', { class: 'nest', width: w + 2, height: high + 26, role: 'img', 'aria-label': `${run.films.length} films on the web` },
    s('rect', { class: 'web', x: 1, y: 1, width: w, height: high }),
    run.films.map(f => s('g', { class: filmOf(f.id) === film ? 'onweb on' : 'onweb', on: { click: () => open(f.id) } }, s('title', {}, `${f.number}: ${f.id}`),
      s('rect', { x: 1 + f.rect[0] * k, y: 1 + (run.web - f.rect[3]) * k, width: (f.rect[2] - f.rect[0]) * k, height: (f.rect[3] - f.rect[1]) * k }),
      s('text', { x: 1 + (f.rect[0] + f.rect[2]) / 2 * k, y: 6 + (run.web - (f.rect[1] + f.rect[3]) / 2) * k, 'text-anchor': 'middle' }, String(f.number)))),
    run.stretches.map(t => s('path', { class: 'stretch', d: `M${1 + t[0] * k} ${high + 5}v8H${1 + t[1] * k}v-8` })));
}

function drawing(f: Film, p: Pass, strain: boolean): SVGElement {
  const [x0, y0, x1, y1] = p.field, m = Math.max(x1 - x0, y1 - y0) * 0.03;
  const line = (d: string, name: string) => s('path', { d, class: name, 'vector-effect': 'non-scaling-stroke' });
  const box = (b: readonly number[]) => `M${b[0]} ${b[1]}L${b[2]} ${b[1]} ${b[2]} ${b[3]} ${b[0]} ${b[3]}Z`;
  const text: SVGElement[] = [];
  const cells = strain && strained(f) ? strainCells(f.strain.grid!, text, (x1 - x0) / 46) : [];
  return s('svg', { class: 'filmview', viewBox: `${x0 - m} ${-y1 - m} ${x1 - x0 + 2 * m} ${y1 - y0 + 2 * m}`, role: 'img', 'aria-label': `Film of ${f.id}, ${p.paint}: ${p.tiles.length} pieces` },
    s('g', { transform: 'scale(1 -1)' }, s('path', { d: box(p.field), class: cells.length ? 'fieldback' : 'fieldback sprayed', 'vector-effect': 'non-scaling-stroke', fill: cells.length ? undefined : p.hex }), cells, s('path', { d: p.d, class: cells.length ? 'cut' : 'cut film', 'vector-effect': 'non-scaling-stroke', fill: 'none' }),
      p.tiles.map(t => line(box(t.rect), 'tile')), p.paper.map(b => line(box(b), 'paper')),
      p.seams.map(q => line(q.upright ? `M${q.at} ${y0}V${y1}` : `M${x0} ${q.at}H${x1}`, 'seam')),
      f.marks.map(q => line(`M${q.at[0] - 0.25} ${q.at[1]}h.5M${q.at[0]} ${q.at[1] - 0.25}v.5`, 'regmark'))), text);
}

/** Bands of strain as cells of the ladder, with contours labelled in percent where a band begins. */
function strainCells(g: StrainGrid, text: SVGElement[], size: number): SVGElement[] {
  const most = Math.max(1e-4, ...g.values.map(v => Math.abs(v ?? 0))), step = most / 3, out: SVGElement[] = [];
  const band = (v: number) => Math.max(-3, Math.min(3, Math.round(v / step)));
  const named = new Set<number>();
  for (let r = 0; r < g.rows; r++) for (let c = 0; c < g.columns; c++) {
    const v = g.values[r * g.columns + c];
    if (v === null) continue;
    const k = band(v), x = g.x0 + c * g.dx, y = g.y0 + r * g.dy;
    out.push(s('rect', { x: x - g.dx / 2, y: y - g.dy / 2, width: g.dx * 1.02, height: g.dy * 1.02, fill: ladder[k + 3], class: 'strain' }));
    const next = c + 1 < g.columns ? g.values[r * g.columns + c + 1] : null, above = r + 1 < g.rows ? g.values[(r + 1) * g.columns + c] : null;
    if (next !== null && band(next) !== k) out.push(s('path', { class: 'contour', d: `M${x + g.dx / 2} ${y - g.dy / 2}v${g.dy}`, 'vector-effect': 'non-scaling-stroke' }));
    if (above !== null && band(above) !== k) out.push(s('path', { class: 'contour', d: `M${x - g.dx / 2} ${y + g.dy / 2}h${g.dx}`, 'vector-effect': 'non-scaling-stroke' }));
    if (next !== null && band(next) !== k) {
      const at = Math.max(band(next), k) > 0 ? Math.max(band(next), k) : Math.min(band(next), k), key = at * 10 + (r * 4 / g.rows | 0);
      if (!named.has(key) && at) { named.add(key); text.push(s('text', { class: 'strainname', x: x + g.dx / 2, y: -y, 'font-size': size, 'text-anchor': 'middle' }, `${at > 0 ? '+' : ''}${((at - Math.sign(at) * 0.5) * step * 100).toFixed(2)}`)); }
    }
  }
  return out;
}

function strainTable(g: StrainGrid): HTMLElement {
  const most = Math.max(1e-4, ...g.values.map(v => Math.abs(v ?? 0)));
  return h('p', { class: 'ladder' }, 'squeezed ', ladder.map((hex, i) => { const e = s('svg', { width: 30, height: 14, 'aria-hidden': true }, s('rect', { width: 30, height: 14, fill: hex })); return [e, i === 0 || i === 6 ? ` ${((i - 3) / 3 * most * 100).toFixed(2)} % ` : i === 3 ? ' none ' : ' ']; }), 'stretched');
}

