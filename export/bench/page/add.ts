// Adding a marking: by the rules of a nation and a date, by a text, by a drawing.
import type { Bench } from './bench.ts';
import { newId, quoted } from './changes.ts';
import { coatOf } from './coat.ts';
import { h } from './dom.ts';
import { refusal, type Change } from './engine.ts';
import { fitting, freePlace } from './free.ts';
import { nearly, read, show, written } from './length.ts';
import { picture } from './marks.ts';
import type { Alphabets, Drawing, DrawingPage, RuleFigure } from './protocol.ts';

interface UseReport { rule?: string; what?: string; from: string; to?: string; in_force?: boolean; document?: string; known: string; finishes?: string[]; types?: string[] }
interface AnswerReport { nation: string; kind: string; place?: string; forms: UseReport[]; none?: UseReport; unknown: boolean; possible?: boolean; depends?: string[]; before?: string; after?: string }
interface RuleReport { id: string; name: string; nation: string; kind: string; stood?: string; known: string; sizes_in?: number[] }

type By = 'rule' | 'text' | 'drawing';
const now = {
  by: 'rule' as By, nation: '', on: '', place: '', finish: '', text: '', sized: { rule: '', text: '', drawing: '' } as Record<By, string>, rules: [] as RuleReport[], answers: [] as AnswerReport[], asked: '',
  pictures: new Map<string, RuleFigure>(), alphabets: [] as RuleFigure[], setFor: '', drawing: null as { name: string; data: string; page: DrawingPage; paints: Record<string, string> } | null, why: '',
};

export function addPanelOpen(bench: Bench, by: By = now.by): void {
  now.by = by; now.why = '';
  const r = bench.model.scene?.rules;
  if (!now.nation && r) { now.nation = r.nation; now.on = r.date; now.finish = r.finish; }
  bench.set({ panel: 'add' });
  if (by === 'rule') void askRules(bench);
}

/** A paint that the layout has not yet. */
interface NewPaint { id: string; name: string; hex: string }

/** The paint to take for a colour: one that the layout has, or one to be made. */
interface Taken { id: string; made?: NewPaint }

/** How far a paint may be from a colour, of 255 in red, green and blue, to be taken for it. */
const nearPaint = 60;

/** The paint of the layout for a colour of a rule or drawing: that of its name, else one near to it; else a new one. */
export function paintFor(bench: Bench, key: string, hex: string): Taken {
  const paints = bench.model.scene?.paints ?? [], name = key.replaceAll('_', '-');
  const exact = paints.find(p => p.id === key || p.id === name);
  if (exact) return { id: exact.id };
  const rgb = (x: string) => { const n = parseInt(x.slice(1), 16); return [n >> 16 & 255, n >> 8 & 255, n & 255]; };
  if (!/^#[0-9a-f]{6}$/i.test(hex)) return { id: paints[0]?.id ?? 'white' };
  const a = rgb(hex), nearest = paints.map(p => ({ id: p.id, far: Math.hypot(...rgb(p.hex).map((x, i) => x - a[i])) })).sort((x, y) => x.far - y.far)[0];
  if (nearest && nearest.far <= nearPaint) return { id: nearest.id };
  const made = newPaint(bench, name, hex);
  return { id: made.id, made };
}

/** A paint named for a role, or for its colour, with an id that is free. */
function newPaint(bench: Bench, name: string, hex: string): NewPaint {
  const words = /[a-z]/i.test(name) && !/^#/.test(name) ? name.replaceAll('-', ' ') : `as drawn, ${hex}`;
  return { id: newId(/^#/.test(name) ? `paint ${hex.slice(1)}` : name, (bench.model.scene?.paints ?? []).map(p => p.id)), name: words, hex };
}

async function askRules(bench: Bench): Promise<void> {
  const key = [now.nation, now.on, now.place, now.finish].join('|');
  if (now.asked === key) return;
  now.asked = key;
  try {
    const a = await bench.engine.ask<{ rules?: RuleReport[]; answers?: AnswerReport[] }>('rules', { nation: now.nation || undefined, on: now.on || undefined, place: now.place || undefined, finish: now.finish || undefined }, { slot: 'rules' });
    now.rules = a.rules ?? []; now.answers = a.answers ?? []; now.why = '';
    bench.draw();
    for (const id of forms().map(f => f.rule)) {
      if (now.pictures.has(id)) continue;
      now.pictures.set(id, await bench.engine.ask<RuleFigure>('rule', { rule: id }));
      bench.draw();
    }
  } catch (e) {
    const r = refusal(e);
    if (r.code === 'cancelled') return;
    now.why = r.message; now.asked = '';
    bench.draw();
  }
}

/** The forms to offer: those in force as the answers say, then the other rules of the nation. */
interface Form { rule: string; name: string; kind: string; says: string; known: string; sizes: number[] }
function forms(): Form[] {
  const out: Form[] = [], seen = new Set<string>();
  const put = (id: string | undefined, says: string, known: string) => {
    if (!id || seen.has(id)) return;
    seen.add(id);
    const r = now.rules.find(r => r.id === id);
    out.push({ rule: id, name: r?.name ?? id, kind: r?.kind ?? '', says, known: known || r?.known || '', sizes: r?.sizes_in ?? [] });
  };
  for (const a of now.answers) for (const f of a.forms) put(f.rule, [a.kind, a.place, `from ${f.from}${f.to ? ` to ${f.to}` : ''}`, a.possible ? 'possible, not sure' : '', a.depends?.length ? `depends on ${a.depends.join(', ')}` : ''].filter(Boolean).join(', '), f.known);
  for (const r of now.rules) if (!now.answers.length || out.length < 24) put(r.id, [r.kind, r.stood].filter(Boolean).join(', '), r.known);
  return out.slice(0, 40);
}

/** The colour that a new marking most likely lies on. */
const body = (bench: Bench): string => coatOf(bench.model, bench.model.skins[0]?.surface ?? '');

/** Writes the marking and selects it. */
async function put(bench: Bench, base: string, figure: string, colours: string, box: [number, number], handed = '', paints: NewPaint[] = []): Promise<void> {
  const taken = bench.model.markings.map(m => m.id), id = newId(base, taken), unit = bench.state.unit, at = freePlace(bench, box[0], box[1]);
  if (!at) { now.why = 'the layout has no surface to put it on'; bench.draw(); return; }
  const where = `{surface: ${quoted(at.surface)}${at.face ? `, face: ${at.face}` : ''}, side: both, fs: ${written(at.fs, unit)}, ${at.axis}: ${written(at.at, unit)}}`;
  const yaml = [`id: ${quoted(id)}`, `figure: ${figure}`, `where: ${where}`, ...(handed ? [`handed: ${handed}`] : []), ...(colours ? [`colours: ${colours}`] : [])].join('\n');
  const mixed = paints.flatMap((p): Change[] => [{ path: `paint.colours.${p.id}`, yaml: `{name: ${quoted(p.name)}, hex: "${p.hex}"}` }, { add: 'paint.order', yaml: p.id }]);
  if (await bench.edit([...mixed, { add: 'markings', yaml }], `add ${id}`)) {
    bench.set({ panel: null });
    await bench.settled();
    bench.select([id]);
    bench.say(`${id} stands at FS ${show(at.fs, unit)}${at.clear ? '' : '; nothing clears all that stands there: move it'}${paints.length ? `; new in paint: ${paints.map(p => p.name).join(', ')}` : ''}`);
    bench.focus('drawing');
  }
}

const sizeIn = (bench: Bench, fallback: number): number => { const r = read(now.sized[now.by], bench.state.unit); return r.ok && r.inches > 0 ? r.inches : fallback; };

const sizeField = (bench: Bench, label: string, usual: string, hint = ''): HTMLElement => h('div', { class: 'field' }, h('label', { for: 'add-size' }, label),
  h('span', { class: 'box' }, h('input', { id: 'add-size', type: 'text', value: now.sized[now.by] || usual, placeholder: hint, autocomplete: 'off', on: { input: (e: Event) => { now.sized[now.by] = (e.target as HTMLInputElement).value; bench.draw(); } } })));

function byRule(bench: Bench): HTMLElement[] {
  const input = (label: string, key: 'nation' | 'on' | 'place' | 'finish', hint: string) => h('div', { class: 'field' }, h('label', { for: `add-${key}` }, label),
    h('span', { class: 'box' }, h('input', { id: `add-${key}`, type: 'text', value: now[key], placeholder: hint, autocomplete: 'off', on: { change: (e: Event) => { now[key] = (e.target as HTMLInputElement).value.trim(); void askRules(bench); } } })));
  const list = forms(), lacking = now.answers.filter(a => a.unknown || a.none);
  return [
    h('div', { class: 'grid5' }, input('Nation', 'nation', 'uk'), input('Date', 'on', '1935-06'), input('Place', 'place', 'fuselage'), input('Finish', 'finish', 'any'), sizeField(bench, `Size, ${bench.state.unit}`, '', 'listed')),
    now.why ? h('p', { class: 'stop' }, now.why) : h('p', { class: 'soft' }, list.length ? 'Touch a form: it lands where it clears everything.' : now.asked ? 'No form is known for this.' : ''),
    h('ul', { class: 'pictures' }, list.map(f => {
      const p = now.pictures.get(f.rule), drawn = p && !p.why && p.regions.length;
      return h('li', { 'data-key': f.rule }, h('button', {
        type: 'button', disabled: !drawn, on: { click: () => {
          const boxAt = (size: number): [number, number] => [(p!.bounds[2] - p!.bounds[0]) * size / (p!.size || 1), (p!.bounds[3] - p!.bounds[1]) * size / (p!.size || 1)];
          const size = now.sized.rule ? sizeIn(bench, p!.size) : fitting(bench, f.sizes.length ? [...f.sizes].sort((a, b) => b - a) : [p!.size], boxAt);
          const roles = [...new Map(p!.regions.map(r => [r.paint, r.hex]))].map(([role, hex]) => ({ role, paint: paintFor(bench, role, hex) }));
          const colours = roles.every(r => r.paint.id === r.role || r.paint.id === r.role.replaceAll('_', '-')) ? '' : `{${roles.map(r => `${quoted(r.role)}: ${quoted(r.paint.id)}`).join(', ')}}`;
          void put(bench, f.kind || f.rule, `{rule: ${f.rule}, size: ${written(size, bench.state.unit)}}`, colours, boxAt(size), '', roles.flatMap(r => r.paint.made ?? []));
        } },
      }, p && !drawn ? null : picture(p?.regions ?? [], p?.bounds ?? [-1, -1, 1, 1], 120, 88, body(bench)), h('b', {}, f.name), h('span', { class: 'soft' }, f.says), h('span', { class: 'soft few', title: p?.why || f.known }, p?.why ? p.why : f.known)));
    })),
    lacking.length ? h('details', {}, h('summary', {}, `Of ${lacking.length} kinds of marking none is given here`), h('ul', { class: 'soft small' }, lacking.map(a => h('li', {}, `${a.kind}${a.place ? `, ${a.place}` : ''}: ${a.unknown ? 'unknown' : `none (${a.none!.known})`}`)))) : h('span'),
  ];
}

async function setText(bench: Bench): Promise<void> {
  if (!now.text || now.setFor === now.text) return;
  now.setFor = now.text;
  try { now.alphabets = (await bench.engine.ask<Alphabets>('alphabets', { text: now.text }, { slot: 'alphabets' })).alphabets; now.why = ''; } catch (e) { const r = refusal(e); if (r.code !== 'cancelled') now.why = r.message; }
  bench.draw();
}

function byText(bench: Bench): HTMLElement[] {
  return [
    h('div', { class: 'grid2' },
      h('div', { class: 'field' }, h('label', { for: 'add-text' }, 'Text'), h('span', { class: 'box' }, h('input', { id: 'add-text', type: 'text', value: now.text, autocomplete: 'off', spellcheck: 'false', on: { input: (e: Event) => { now.text = (e.target as HTMLInputElement).value; void setText(bench); } } }))),
      sizeField(bench, `Height, ${bench.state.unit}`, show(12, bench.state.unit))),
    now.why ? h('p', { class: 'stop' }, now.why) : h('p', { class: 'soft' }, now.text ? 'Touch the letters to take.' : 'Type the text: it is shown in every alphabet.'),
    h('ul', { class: 'pictures wide' }, now.alphabets.map(a => h('li', { 'data-key': a.id }, h('button', {
      type: 'button', disabled: !!a.why, on: { click: () => {
        const height = sizeIn(bench, 12), white = paintFor(bench, 'text', '#ffffff'), k = height / (a.bounds[3] - a.bounds[1] || 10);
        void put(bench, now.text, `{text: ${quoted(now.text)}, alphabet: ${a.id}, height: ${written(height, bench.state.unit)}}`, `{text: ${quoted(white.id)}}`, [(a.bounds[2] - a.bounds[0]) * k, height], 'text', white.made ? [{ ...white.made, name: 'white' }] : []);
      } },
    }, picture(a.regions, a.bounds, 210, 64, body(bench)), h('b', {}, a.name || a.id), h('span', { class: 'soft' }, a.why ?? a.id))))),
  ];
}

/** The choice of a paint that is made of a drawing's own colour. */
const asDrawn = '#';

/** Reads a dropped or chosen file and shows its parts. */
export async function dropDrawing(bench: Bench, file: File): Promise<void> {
  now.by = 'drawing'; now.why = ''; now.drawing = null;
  bench.set({ panel: 'add' });
  if (file.size > 16 << 20) { now.why = `${file.name} is larger than 16 MB`; bench.draw(); return; }
  const data = base64(new Uint8Array(await file.arrayBuffer()));
  try {
    const d = await bench.engine.ask<Drawing>('drawing', { name: file.name, data }, { slot: 'drawing' });
    const page = d.pages[0];
    if (!page?.regions.length) { now.why = `${file.name} paints nothing`; bench.draw(); return; }
    now.drawing = { name: file.name, data, page, paints: Object.fromEntries(page.regions.map(r => { const p = paintFor(bench, r.paint, r.hex); return [r.paint, p.made ? asDrawn : p.id]; })) };
    now.sized.drawing = '';
  } catch (e) { now.why = refusal(e).message; }
  bench.draw();
}

export function base64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return btoa(text);
}

function byDrawing(bench: Bench): HTMLElement[] {
  const d = now.drawing, unit = bench.state.unit;
  const choose = h('input', { type: 'file', id: 'add-file', accept: '.svg,.pdf,.dxf', on: { change: (e: Event) => { const f = (e.target as HTMLInputElement).files?.[0]; if (f) void dropDrawing(bench, f); } } });
  if (!d) return [h('div', { class: 'drop' }, h('label', { for: 'add-file' }, 'Drop a drawing on the page, or choose one: SVG, PDF or DXF'), choose), now.why ? h('p', { class: 'stop' }, now.why) : h('p', { class: 'soft' }, 'It is read here and drawn anew; it never runs in the page.')];
  const box = boundsOf(d.page), aspect = (box[2] - box[0]) / Math.max(1e-6, box[3] - box[1]);
  const keys = [...new Map(d.page.regions.map(r => [r.paint, r.hex]))], paints = bench.model.scene?.paints ?? [];
  return [
    h('div', { class: 'dropped' }, picture(d.page.regions, box, 200, 150, body(bench)),
      h('div', {}, h('b', {}, d.name), h('p', { class: 'soft' }, `${nearly(box[2] - box[0], unit)} by ${nearly(box[3] - box[1], unit)} in its own size`),
        sizeField(bench, `Height on the aircraft, ${unit}`, show(12, unit)))),
    h('h3', {}, 'Paints'),
    h('ul', { class: 'paints' }, keys.map(([k, hex]) => h('li', {}, h('label', { for: `paint-${k}` }, picture([{ hex, d: 'M-1-1L1-1 1 1-1 1Z' }], [-1, -1, 1, 1], 22, 22), k || 'no colour'),
      h('select', { id: `paint-${k}`, value: d.paints[k], on: { change: (e: Event) => { d.paints[k] = (e.target as HTMLSelectElement).value; } } }, [...paints.map(p => h('option', { value: p.id, selected: d.paints[k] === p.id }, p.name || p.id)), h('option', { value: asDrawn, selected: d.paints[k] === asDrawn }, `new paint, ${hex}`)])))),
    d.page.recognised.length ? h('h3', {}, 'Its proportions are those of') : h('p', { class: 'soft' }, 'Its proportions are those of no rule that is known here.'),
    h('ul', { class: 'recognised' }, d.page.recognised.slice(0, 5).map(r => h('li', {}, h('button', { type: 'button', on: { click: () => void put(bench, r.rule.split('/')[1] ?? 'marking', `{rule: ${r.rule}, size: ${written(sizeIn(bench, r.size || 20), unit)}}`, '', [sizeIn(bench, 20), sizeIn(bench, 20)]) } }, `Take the rule: ${r.name}`), h('span', { class: 'soft' }, h('span', { class: 'mono' }, r.rule), ` ${r.says}`)))),
    h('button', { type: 'button', class: 'strong', id: 'add-drawing', on: { click: async () => {
      const height = sizeIn(bench, 12);
      try {
        const kept = await bench.engine.ask<Drawing & { file?: string }>('drawing', { name: d.name, data: d.data, to: 'keep' });
        const made = new Map(keys.filter(([k]) => d.paints[k] === asDrawn).map(([k, hex]) => [k, newPaint(bench, hex, hex)]));
        await put(bench, d.name.replace(/\.\w+$/, ''), `{drawing: ${quoted(kept.file ?? d.name)}, paints: {${keys.map(([k]) => `${JSON.stringify(k)}: ${quoted(made.get(k)?.id ?? d.paints[k])}`).join(', ')}}, height: ${written(height, unit)}}`, '', [height * aspect, height], '', [...made.values()]);
      } catch (e) { now.why = refusal(e).message; bench.draw(); }
    } } }, 'Put it on the aircraft'),
    now.why ? h('p', { class: 'stop' }, now.why) : h('span'),
    h('button', { type: 'button', class: 'link', on: { click: () => { now.drawing = null; bench.draw(); } } }, 'Another drawing'),
  ];
}

function boundsOf(page: DrawingPage & { bounds?: [number, number, number, number] }): [number, number, number, number] {
  return page.bounds ?? [0, 0, page.width, page.height];
}

/** The panel over the drawing. */
export function addPanel(bench: Bench): HTMLElement {
  const tab = (by: By, name: string) => h('button', { type: 'button', 'aria-pressed': String(now.by === by), on: { click: () => { now.by = by; now.why = ''; if (by === 'rule') void askRules(bench); bench.draw(); } } }, name);
  return h('div', { class: 'add' }, h('div', { class: 'tabs', role: 'group', 'aria-label': 'How' }, tab('rule', 'By rule'), tab('text', 'By text'), tab('drawing', 'By drawing')),
    now.by === 'rule' ? byRule(bench) : now.by === 'text' ? byText(bench) : byDrawing(bench));
}

/** Drawings dropped anywhere on the page. */
export function acceptDrops(bench: Bench): void {
  window.addEventListener('dragover', e => { if (e.dataTransfer?.types.includes('Files')) e.preventDefault(); });
  window.addEventListener('drop', e => {
    const file = e.dataTransfer?.files[0];
    if (!file) return;
    e.preventDefault();
    if (/\.(svg|pdf|dxf)$/i.test(file.name)) void dropDrawing(bench, file);
    else if (/^image\//.test(file.type)) { bench.droppedPhoto = file; bench.set({ job: 'photograph', panel: null }); }
    else bench.say(`${file.name} is neither a drawing (.svg, .pdf, .dxf) nor a photograph`);
  });
}

