// The fields of the selected marking: place, size, figure. What cannot be read is never written.
import type { Bench } from './bench.ts';
import { alignment } from './align.ts';
import { heightOf, movable, sizeOf, turnTo } from './changes.ts';
import { copySelected, deleteSelected, lock, partSides } from './deeds.ts';
import { h, patch, settle } from './dom.ts';
import type { Change } from './engine.ts';
import { nearly, read, show, steps, written } from './length.ts';
import type { Marking } from './protocol.ts';

/**
 * What stands in a field in the place of the model's value: what is typed and not taken, and
 * why it was refused; or what was taken, until the answer has come. `inches` is what was
 * taken last: steps count from it.
 */
interface Draft { text: string; why: string; taken: boolean; inches?: number }
const drafts = new Map<string, Draft>();

/** What a text in a field means: changes to be made and how it is shown then; none where it says what stands. */
type Meant = { why: string } | { changes: Change[]; label: string; shown: string; inches?: number } | null;

/** Makes the changes; until the model has them the field shows what was taken. */
async function carryOut(bench: Bench, key: string, made: { changes: Change[]; label: string; shown: string; inches?: number }): Promise<void> {
  const mine: Draft = { text: made.shown, why: '', taken: true, inches: made.inches };
  drafts.set(key, mine);
  bench.draw();
  if (await bench.edit(made.changes, made.label)) await bench.settled();
  if (drafts.get(key) === mine) drafts.delete(key);
  bench.draw();
}

const openTakes = new Map<string, () => Promise<void>>(); // of fields with something typed

function typedField(bench: Bench, key: string, label: string, shown: string, meant: (text: string, base?: number) => Meant, o: { disabled?: boolean; unit?: string; step?: (text: string, up: boolean, far: boolean, base?: number) => string } = {}): HTMLElement {
  const draft = drafts.get(key);
  const take = async (text: string): Promise<void> => {
    const d = drafts.get(key);
    openTakes.delete(key);
    if (!d || d.taken) return;
    const m = text.trim() === shown && d.inches === undefined ? null : meant(text, d.inches);
    if (m && !('why' in m)) return carryOut(bench, key, m);
    if (m) drafts.set(key, { ...d, text, why: m.why }); else drafts.delete(key);
    bench.draw();
  };
  const type = (text: string) => { drafts.set(key, { text, why: '', taken: false, inches: drafts.get(key)?.inches }); openTakes.set(key, () => take(text)); };
  return field(key, label, h('span', { class: 'box' }, h('input', {
    type: 'text', id: key, value: draft?.text ?? shown, autocomplete: 'off', spellcheck: 'false', disabled: o.disabled, 'aria-invalid': draft?.why ? 'true' : undefined, 'aria-describedby': draft?.why ? `${key}-why` : undefined,
    on: {
      input: (e: Event) => { type((e.target as HTMLInputElement).value); bench.draw(); },
      keydown: (e: KeyboardEvent) => {
        const input = e.target as HTMLInputElement;
        if (e.key === 'Enter') { e.preventDefault(); void take(input.value); }
        if (e.key === 'Escape' && drafts.get(key)?.taken === false) { e.stopPropagation(); openTakes.delete(key); drafts.delete(key); bench.draw(); }
        if (o.step && (e.key === 'ArrowUp' || e.key === 'ArrowDown')) {
          e.preventDefault();
          settle(input, o.step(input.value, e.key === 'ArrowUp', e.shiftKey, drafts.get(key)?.inches));
          type(input.value);
          void take(input.value);
        }
      },
      blur: (e: FocusEvent) => void take((e.target as HTMLInputElement).value),
    },
  }), o.unit ? h('span', { class: 'unit' }, o.unit) : null), draft?.why);
}

export function lengthField(bench: Bench, key: string, label: string, value: number, write: (inches: number) => Change[], options: { disabled?: boolean } = {}): HTMLElement {
  const unit = bench.state.unit;
  const meant = (text: string, base = value): Meant => {
    const r = read(text, unit, base);
    if (!r.ok) return { why: r.why };
    const changes = write(r.inches);
    if (!changes.length) return { why: `“${text.trim()}” is too small: more than 0 is wanted` };
    return Math.abs(r.inches - base) < 1e-9 ? null : { changes, label: `${label.toLowerCase()} ${written(r.inches, unit)}`, shown: show(r.inches, unit), inches: r.inches };
  };
  const step = (text: string, up: boolean, far: boolean, base = value) => {
    const now = read(text, unit, base), by = far ? (unit === 'mm' ? 10 / 25.4 : 1) : steps[unit][bench.state.step] ?? steps[unit][0];
    return show((now.ok ? now.inches : base) + (up ? by : -by), unit);
  };
  return typedField(bench, key, label, show(value, unit), meant, { ...options, unit, step });
}

const field = (key: string, label: string, control: HTMLElement, why?: string): HTMLElement =>
  h('div', { class: why ? 'field bad' : 'field', 'data-key': key }, h('label', { for: key }, label), control, why ? h('p', { class: 'why', id: `${key}-why`, role: 'alert' }, why) : null);

export function choiceField(bench: Bench, key: string, label: string, value: string, choices: [string, string][], write: (value: string) => Change[], disabled = false): HTMLElement {
  const now = drafts.get(key)?.text ?? value, all = choices.some(c => c[0] === now) ? choices : [...choices, [now, now] as [string, string]];
  return field(key, label, h('select', { id: key, value: now, disabled, on: { change: (e: Event) => { const v = (e.target as HTMLSelectElement).value; void carryOut(bench, key, { changes: write(v), label: `${label.toLowerCase()} ${v}`, shown: v }); } } },
    all.map(([v, words]) => h('option', { value: v, selected: v === now }, words))));
}

const textField = (bench: Bench, key: string, label: string, value: string, write: (v: string) => Change[]): HTMLElement =>
  typedField(bench, key, label, value, v => v ? { changes: write(v), label: `${label.toLowerCase()} ${v}`, shown: v } : null);

function angleField(bench: Bench, m: Marking, disabled: boolean): HTMLElement {
  return typedField(bench, 'field-angle', 'Turned', String(Number((m.angle || 0).toFixed(3))), text => {
    const n = Number(text.replace(/\s*(deg|°)$/, ''));
    if (!text.trim() || !Number.isFinite(n)) return { why: `“${text}” is no angle: write degrees, such as 15` };
    return n === m.angle ? null : { changes: turnTo(m, n), label: `turned ${n} deg`, shown: String(n) };
  }, { disabled, unit: 'deg' });
}

function placeFields(bench: Bench, m: Marking): HTMLElement[] {
  const off = bench.locked(m.id) || !movable(m), where = `${m.path}.where`, unit = bench.state.unit;
  const set = (key: string) => (v: number): Change[] => [{ path: `${where}.${key}`, value: written(v, unit) }];
  const out = [lengthField(bench, 'field-fs', 'Station, FS', m.fs, set('fs'), { disabled: off })];
  const ht = heightOf(m);
  if (m.held === 'between') out.push(field('field-between', 'Midway between', h('span', { class: 'box' }, h('input', { id: 'field-between', type: 'text', disabled: true, value: `${m.from} and ${m.to}` }))));
  else out.push(lengthField(bench, 'field-height', m.held === 'bl' ? 'Buttock line, BL' : m.held === 'girth' ? `${ht.name === 'down' ? 'Below' : 'Above'} ${m.from}, along the skin` : 'Waterline, WL', ht.value, v => [{ path: ht.path, value: written(v, unit) }], { disabled: off }));
  out.push(choiceField(bench, 'field-hold', 'Held at', m.hold || 'centre', [['centre', 'centre'], ['fore', 'fore edge'], ['aft', 'aft edge']], v => [{ path: `${where}.hold`, value: v }], off));
  const lines = (bench.model.scene?.lines ?? []).filter(l => m.surfaces.includes(l.surface)).map((l): [string, string] => [l.name, `line ${l.name}`]);
  const aligns: [string, string][] = m.held === 'bl' ? [['forward', 'forward'], ['leading-edge', 'leading edge']] : [['waterline', 'waterline'], ['station', 'station'], ...lines];
  out.push(choiceField(bench, 'field-align', 'Level with', m.align || 'waterline', aligns, v => [{ path: `${where}.align`, value: v }], off));
  out.push(angleField(bench, m, off));
  out.push(choiceField(bench, 'field-side', 'Sides', m.side, [['both', 'both'], ['left', 'left'], ['right', 'right']], v => [{ path: `${where}.side`, value: v }], bench.locked(m.id)));
  return out;
}

function figureFields(bench: Bench, m: Marking): HTMLElement[] {
  const out: HTMLElement[] = [], paints = bench.model.scene?.paints ?? [];
  if (m.kind === 'text') {
    out.push(textField(bench, 'field-text', 'Text', m.text ?? '', v => [{ path: `${m.path}.figure.text`, value: v }]));
    out.push(choiceField(bench, 'field-alphabet', 'Letters', m.alphabet ?? '', bench.alphabets.map(a => [a, a] as [string, string]), v => [{ path: `${m.path}.figure.alphabet`, value: v }]));
    const now = bench.model.figures.get(m.id)?.[0]?.regions[0]?.paint ?? '';
    out.push(choiceField(bench, 'field-paint', 'Paint', now, paints.map((p): [string, string] => [p.id, p.name || p.id]), v => [{ path: `${m.path}.colours.text`, value: v }]));
  }
  if (m.rule) out.push(field('field-rule', 'Rule', h('span', { class: 'box' }, h('input', { id: 'field-rule', type: 'text', disabled: true, value: m.rule }))));
  return out;
}

/** The panel itself. */
export function fields(bench: Bench, root: HTMLElement): void {
  let last = '';
  bench.typers.push(async () => { for (const take of [...openTakes.values()]) await take(); });
  bench.panel(() => {
    const m = bench.chosen, unit = bench.state.unit;
    if ((m?.id ?? '') + unit !== last) { drafts.clear(); openTakes.clear(); last = (m?.id ?? '') + unit; }
    if (!m) {
      patch(root, [h('h2', { class: 'big' }, 'Nothing selected'), h('p', { class: 'soft' }, 'Touch a marking on the drawing or in the list; Tab goes from one to the next.')]);
      return;
    }
    const size = sizeOf(m), film = bench.model.films.get(m.id)?.[0], figure = bench.model.figures.get(m.id)?.[0], several = bench.state.selected.length;
    const act = (name: string, f: () => void) => h('button', { type: 'button', class: 'link', on: { click: f } }, name);
    const told = [figure ? `${nearly(figure.bounds[2] - figure.bounds[0], unit)} wide` : '', film ? `${nearly(film.sideHeight, unit)} high seen from the side` : ''].filter(Boolean).join('; ');
    patch(root, [
      h('div', { class: 'head' }, h('h2', { class: 'big' }, several > 1 ? `${m.id} and ${several - 1} more` : m.id), h('span', { class: 'acts' }, act('Duplicate', () => void copySelected(bench)), act(bench.locked(m.id) ? 'Unlock' : 'Lock', () => lock(bench)), act('Delete', () => void deleteSelected(bench)))),
      m.held === 'own' ? h('p', { class: 'soft' }, 'This marking follows the skin and brings its own place: change it in the text.') : [h('h3', {}, 'Place'), h('div', { class: 'grid2' }, placeFields(bench, m)),
        m.side === 'both' ? act('Part the sides', () => void partSides(bench)) : null],
      size || m.true ? [h('h3', {}, 'Size'), h('div', { class: 'grid2' },
        size ? lengthField(bench, 'field-size', size.name, size.value, v => v > 0 ? [{ path: size.path, value: written(v, unit) }] : []) : null,
        choiceField(bench, 'field-true', 'True', m.true, [['skin', 'on the skin'], ['side', 'seen from the side']], v => [{ path: `${m.path}.true`, value: v }]))] : null,
      told ? h('p', { class: 'soft small' }, told) : null,
      m.kind === 'text' || m.rule ? [h('h3', {}, 'Figure'), h('div', { class: m.rule ? 'grid1' : 'grid3' }, figureFields(bench, m))] : null,
      m.evidence.length ? h('p', { class: 'soft small' }, `Evidence: ${m.evidence.map(id => { const e = bench.model.scene?.evidence.find(x => x.id === id); return e ? `${id} (${e.class}) ${e.what}` : id; }).join('; ')}`) : null,
      alignment(bench, m),
    ]);
  });
}
