// The first visit: a kind of skin, its sections in a table drawn as they are typed,
// hardpoints, and a layout to change.
import type { Bench } from './bench.ts';
import { h, patch, s } from './dom.ts';
import { refusal } from './engine.ts';
import type { Example, Examples } from './protocol.ts';
import { blank, columnsOf, kinds, layoutText, outlineOf, sectionsOf, type Kind, type Typed } from './starter.ts';

export function visit(bench: Bench, root: HTMLElement): void {
  let t: Typed | null = null, told: string[] = [], examples: Example[] | null = null;
  const again = () => bench.draw();
  const choose = (kind: Kind) => { t = blank(kind, bench.state.unit); told = []; again(); requestAnimationFrame(() => document.getElementById('visit-name')?.focus()); };
  const make = async () => {
    const made = layoutText(t!);
    if ('why' in made) { told = made.why; again(); return; }
    const before = bench.engine.text.toString().trim();
    await take(made.text, before ? 'a new layout stands in the text; undo brings back what was there' : `the layout stands; save writes ${bench.name}`);
    if (!t) bench.select(['code']);
  };
  /** Puts a whole text in the place of the one that is open: one step of undo. */
  const take = async (text: string, says: string) => {
    try { await bench.engine.type(() => text, `first visit ${Date.now()}`); t = null; told = []; bench.set({ job: 'layout', looks: {}, selected: [] }); bench.say(says); } catch (e) { told = [refusal(e).message]; again(); }
  };
  const chosen = async (file: File | undefined) => {
    if (!file) return;
    if (file.size > 4 << 20) { told = [`${file.name} is larger than 4 MB`]; again(); return; }
    await take(await file.text(), `${file.name} is open as a copy; save writes ${bench.name}`);
  };
  bench.panel(() => {
    if (bench.state.job !== 'visit') return;
    if (!examples) { examples = []; void bench.engine.ask<Examples>('examples').then(a => { examples = a.examples; again(); }).catch(() => {}); }
    patch(root, t ? sheet(t) : start());
  });

  const start = (): HTMLElement[] => [
    h('h2', { class: 'big' }, 'What is it covered on?'),
    h('ul', { class: 'kinds' }, (Object.keys(kinds) as Kind[]).map(k => h('li', {}, h('button', { type: 'button', on: { click: () => choose(k) } }, sketch(k), h('b', {}, kinds[k].name), h('span', { class: 'soft' }, kinds[k].says))))),
    h('h3', {}, 'Or look at an invented aircraft first'),
    h('ul', { class: 'acts examples' }, examples?.map(e => h('li', { 'data-key': e.id }, h('button', { type: 'button', on: { click: () => void take(e.text, `${e.name}: an example, to look at and to change`) } }, e.name)))),
    h('h3', {}, 'Or open a layout of yours'),
    h('p', {}, h('input', { type: 'file', id: 'visit-file', 'aria-label': 'Layout file', accept: '.yaml,.yml', on: { change: (e: Event) => void chosen((e.target as HTMLInputElement).files?.[0]) } })),
    told.length ? h('p', { class: 'stop', role: 'alert' }, told.join('; ')) : h('span'),
    bench.engine.text.toString().trim() ? h('p', {}, 'The layout that is open stays one undo away. ', h('button', { type: 'button', class: 'link', on: { click: () => bench.set({ job: 'layout' }) } }, `Go on with ${bench.name}`)) : h('span'),
    h('p', { class: 'soft' }, 'Nothing leaves this machine.'),
  ];

  const sheet = (t: Typed): HTMLElement[] => {
    const columns = columnsOf(t), { rows } = sectionsOf(t);
    const input = (id: string, label: string, value: string, set: (v: string) => void, wide = false) => h('div', { class: wide ? 'field wide' : 'field' }, h('label', { for: id }, label), h('span', { class: 'box' }, h('input', { id, type: 'text', value, autocomplete: 'off', on: { input: (e: Event) => { set((e.target as HTMLInputElement).value); again(); } } })));
    return [
      h('div', { class: 'head' }, h('h2', { class: 'big' }, `New layout: ${kinds[t.kind].name.toLowerCase()}`), h('button', { type: 'button', on: { click: () => { told = []; (root as HTMLElement).scrollTop = 0; reset(); } } }, 'Another kind')),
      h('section', { class: 'sheet' }, h('div', { class: 'grid2' }, input('visit-name', 'Name of the aircraft', t.name, v => { t.name = v; }), h('div', { class: 'field' }, h('label', { for: 'visit-unit' }, 'Unit'), h('select', { id: 'visit-unit', value: t.unit, on: { change: (e: Event) => { t.unit = (e.target as HTMLSelectElement).value as 'in' | 'mm'; again(); } } }, h('option', { value: 'in', selected: t.unit === 'in' }, 'inches'), h('option', { value: 'mm', selected: t.unit === 'mm' }, 'millimetres')))),
        h('div', { class: 'field wide' }, h('label', { for: 'visit-datum' }, 'Datum: what FS 0, WL 0 and BL 0 are'), h('span', { class: 'box' }, h('textarea', { id: 'visit-datum', rows: 2, on: { input: (e: Event) => { t.datum = (e.target as HTMLTextAreaElement).value; } } }, t.datum)))),
      t.kind === 'scan' ? h('section', { class: 'sheet' }, input('visit-scan', 'File of the scan, beside the layout (STL, OBJ or PLY)', t.scan, v => { t.scan = v; }), h('p', { class: 'soft' }, 'Write the known points into the text that comes next.'))
        : h('section', { class: 'sheet' }, h('h3', {}, 'Sections'), h('p', { class: 'soft' }, 'One row a section; Tab goes to the next number. 20-1/2, 1 ft 8 1/2 and 520.7 mm are read.'),
          h('div', { class: 'sections' }, h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Numbers' }, h('table', {}, h('thead', {}, h('tr', {}, columns.map(c => h('th', { scope: 'col' }, c)))),
            h('tbody', {}, t.sections.map((row, r) => h('tr', {}, row.map((v, c) => h('td', {}, h('input', { type: 'text', id: `cell-${r}-${c}`, 'aria-label': `section ${r + 1}, ${columns[c]}`, value: v, autocomplete: 'off', on: { input: (e: Event) => { t.sections[r][c] = (e.target as HTMLInputElement).value; again(); } } })))))))),
            h('div', { class: 'acts' }, h('button', { type: 'button', on: { click: () => { t.sections.push(columns.map(() => '')); again(); } } }, 'Another section'),
              t.kind === 'stringers' ? h('button', { type: 'button', on: { click: () => { t.lines.splice(t.lines.length - 1, 0, `S${t.lines.length - 1}`); t.sections = t.sections.map(r => [...r.slice(0, -2), '', '', ...r.slice(-2)]); again(); } } }, 'Another line') : null), drawn(t, rows))),
      h('section', { class: 'sheet' }, h('h3', {}, 'Hardpoints, one pair each'), h('p', { class: 'soft' }, 'Where a tape hooks, on both sides. May be typed later.'),
        h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'Numbers' }, h('table', {}, h('thead', {}, h('tr', {}, ['point', 'what it is', 'FS', 'BL', 'WL'].map(c => h('th', { scope: 'col' }, c)))), h('tbody', {}, t.hardpoints.map((p, i) => h('tr', {}, h('th', { scope: 'row' }, p.id), (['name', 'fs', 'bl', 'wl'] as const).map(k => h('td', {}, h('input', { type: 'text', id: `hard-${i}-${k}`, 'aria-label': `${p.id} ${k}`, value: p[k], autocomplete: 'off', on: { input: (e: Event) => { p[k] = (e.target as HTMLInputElement).value; } } })))))))),
        h('button', { type: 'button', on: { click: () => { t.hardpoints.push({ id: `P${t.hardpoints.length + 1}`, name: '', fs: '', bl: '', wl: '' }); again(); } } }, 'Another hardpoint')),
      h('section', { class: 'sheet' }, h('h3', {}, 'First marking, and whose rules'), h('div', { class: 'grid4' }, input('visit-text', 'Text', t.text, v => { t.text = v; }), input('visit-height', `Height, ${t.unit}`, t.height, v => { t.height = v; }), input('visit-nation', 'Nation', t.nation, v => { t.nation = v; }), input('visit-date', 'Date', t.date, v => { t.date = v; })), h('p', { class: 'soft' }, 'More are added from the rules once the aircraft stands.')),
      told.length ? h('ul', { class: 'stop', role: 'alert' }, told.map(w => h('li', {}, w))) : h('span'),
      h('button', { type: 'button', class: 'strong', id: 'visit-make', on: { click: () => void make() } }, 'Make the layout'),
    ];
  };
  const reset = () => { t = null; again(); };
}

/** The sections as typed: from ahead, and along the side. */
function drawn(t: Typed, rows: number[][]): SVGElement {
  const w = 560, high = 180, shapes = rows.map(r => ({ fs: r[0], points: outlineOf(t, r) }));
  if (!shapes.length) return s('svg', { class: 'typed', viewBox: `0 0 ${w} ${high}`, role: 'img', 'aria-label': 'no section yet' }, s('text', { x: w / 2, y: high / 2, 'text-anchor': 'middle' }, 'Sections are drawn here as they are typed.'));
  const z = shapes.flatMap(q => q.points.map(p => p[1])), x0 = shapes[0].fs, x1 = shapes[shapes.length - 1].fs, lo = Math.min(...z), hi = Math.max(...z), b = Math.max(...shapes.flatMap(q => q.points.map(p => p[0])), 1);
  const k = Math.min((w - 200) / Math.max(1, x1 - x0), (high - 30) / Math.max(1, hi - lo), 80 / b), y = (v: number) => high / 2 - (v - (lo + hi) / 2) * k;
  const along = (i: number) => shapes.map((q, n) => `${n ? 'L' : 'M'}${20 + (q.fs - x0) * k} ${y(q.points[Math.min(i, q.points.length - 1)][1])}`).join('');
  return s('svg', { class: 'typed', viewBox: `0 0 ${w} ${high}`, role: 'img', 'aria-label': `${rows.length} sections as typed` },
    shapes[0].points.map((_, i) => t.kind === 'stringers' || i % 6 === 0 ? s('path', { class: i === 0 || i === shapes[0].points.length - 1 ? 'edge' : 'stringer', d: along(i) }) : null),
    shapes.map(q => s('path', { class: 'opening', d: `M${20 + (q.fs - x0) * k} ${y(Math.max(...q.points.map(p => p[1])))}V${y(Math.min(...q.points.map(p => p[1])))}` })),
    shapes.map(q => s('path', { class: 'opening', d: [...q.points.map(p => [p[0], p[1]]), ...[...q.points].reverse().map(p => [-p[0], p[1]])].map((p, i) => `${i ? 'L' : 'M'}${w - 90 + p[0] * k} ${y(p[1])}`).join('') + 'Z' })));
}

function sketch(kind: Kind): SVGElement {
  const d: Record<Kind, string> = { stringers: 'M10 22L110 34M10 36L110 42M10 50L110 50M10 64L110 56M10 22V64M110 34V56M45 26V60M78 30V58', round: 'M10 42C25 15 70 22 112 38M10 42C25 68 70 62 112 46M112 38V46M40 23a8 20 0 0 0 0 38M75 26a6 16 0 0 0 0 32', faired: 'M10 44C20 20 50 24 62 18C80 14 90 34 112 36M10 44C20 66 70 62 112 44M112 36V44', scan: 'M14 50L30 28 46 46 62 24 78 44 94 30 108 42M14 50L40 62 60 50 84 60 108 42M30 28L40 62M46 46L40 62M46 46L60 50M62 24L60 50M78 44L60 50M78 44L84 60M94 30L84 60' };
  return s('svg', { viewBox: '0 0 120 80', width: 180, height: 120, class: 'sketch', 'aria-hidden': true }, s('path', { d: d[kind] }));
}
