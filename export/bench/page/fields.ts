// The fields of the selected marking: place, size, figure. What cannot be read is never written.
import type { Bench } from './bench.ts';
import { alignment } from './align.ts';
import { heightOf, movable, sizeOf, turnTo } from './changes.ts';
import { copySelected, deleteSelected, lock, partSides } from './deeds.ts';
import { h, patch } from './dom.ts';
import type { Change } from './engine.ts';
import { nearly, read, show, steps, written } from './length.ts';
import type { Marking } from './protocol.ts';

/** What is typed and not yet taken, and why it was refused, by field. */
const drafts = new Map<string, { text: string; why: string }>();

export function lengthField(bench: Bench, key: string, label: string, value: number, write: (inches: number) => Change[], options: { disabled?: boolean; label?: string } = {}): HTMLElement {
  const unit = bench.state.unit, draft = drafts.get(key), shown = draft?.text ?? show(value, unit);
  const take = async (text: string) => {
    if (!drafts.has(key)) return;
    if (text.trim() === show(value, unit)) { drafts.delete(key); bench.draw(); return; }
    const r = read(text, unit, value);
    if (!r.ok) { drafts.set(key, { text, why: r.why }); bench.draw(); return; }
    drafts.delete(key);
    if (Math.abs(r.inches - value) > 1e-9) await bench.edit(write(r.inches), `${label.toLowerCase()} ${written(r.inches, unit)}`);
    bench.draw();
  };
  return field(key, label, h('span', { class: 'box' }, h('input', {
    type: 'text', id: key, value: shown, autocomplete: 'off', spellcheck: 'false', disabled: options.disabled, 'aria-invalid': draft?.why ? 'true' : undefined, 'aria-describedby': draft?.why ? `${key}-why` : undefined, 'data-settled': draft ? undefined : '',
    on: {
      input: (e: Event) => { drafts.set(key, { text: (e.target as HTMLInputElement).value, why: '' }); bench.draw(); },
      keydown: (e: KeyboardEvent) => {
        const input = e.target as HTMLInputElement;
        if (e.key === 'Enter') { e.preventDefault(); void take(input.value); }
        if (e.key === 'Escape') { if (drafts.delete(key)) e.stopPropagation(); bench.draw(); }
        if (e.key === 'ArrowUp' || e.key === 'ArrowDown') {
          e.preventDefault();
          const now = read(input.value, unit, value), by = (e.shiftKey ? (unit === 'mm' ? 10 / 25.4 : 1) : steps[unit][bench.state.step] ?? steps[unit][0]) * (e.key === 'ArrowUp' ? 1 : -1);
          drafts.set(key, { text: show((now.ok ? now.inches : value) + by, unit), why: '' });
          void take(drafts.get(key)!.text);
        }
      },
      blur: (e: FocusEvent) => void take((e.target as HTMLInputElement).value),
    },
  }), h('span', { class: 'unit' }, unit)), draft?.why);
}

const field = (key: string, label: string, control: HTMLElement, why?: string): HTMLElement =>
  h('div', { class: why ? 'field bad' : 'field', 'data-key': key }, h('label', { for: key }, label), control, why ? h('p', { class: 'why', id: `${key}-why`, role: 'alert' }, why) : null);

export function choiceField(bench: Bench, key: string, label: string, value: string, choices: [string, string][], write: (value: string) => Change[], disabled = false): HTMLElement {
  const all = choices.some(c => c[0] === value) ? choices : [...choices, [value, value] as [string, string]];
  return field(key, label, h('select', { id: key, value, disabled, on: { change: (e: Event) => { const v = (e.target as HTMLSelectElement).value; void bench.edit(write(v), `${label.toLowerCase()} ${v}`); } } },
    all.map(([v, words]) => h('option', { value: v, selected: v === value }, words))));
}

function textField(bench: Bench, key: string, label: string, value: string, write: (v: string) => Change[]): HTMLElement {
  const take = (v: string) => { drafts.delete(key); if (v && v !== value) void bench.edit(write(v), `${label.toLowerCase()} ${v}`); else bench.draw(); };
  return field(key, label, h('span', { class: 'box' }, h('input', {
    type: 'text', id: key, value: drafts.get(key)?.text ?? value, autocomplete: 'off', spellcheck: 'false', 'data-settled': drafts.has(key) ? undefined : '',
    on: {
      input: (e: Event) => { drafts.set(key, { text: (e.target as HTMLInputElement).value, why: '' }); },
      keydown: (e: KeyboardEvent) => { if (e.key === 'Enter') { e.preventDefault(); take((e.target as HTMLInputElement).value); } if (e.key === 'Escape') { drafts.delete(key); bench.draw(); } },
      blur: (e: FocusEvent) => { if (drafts.has(key)) take((e.target as HTMLInputElement).value); },
    },
  })));
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
  const angle = drafts.get('field-angle');
  const takeAngle = (text: string) => {
    const n = Number(text.replace(/\s*(deg|°)$/, ''));
    if (!text.trim() || !Number.isFinite(n)) { drafts.set('field-angle', { text, why: `“${text}” is no angle: write degrees, such as 15` }); bench.draw(); return; }
    drafts.delete('field-angle');
    if (n !== m.angle) void bench.edit(turnTo(m, n), `turned ${n} deg`); else bench.draw();
  };
  out.push(field('field-angle', 'Turned', h('span', { class: 'box' }, h('input', {
    type: 'text', id: 'field-angle', disabled: off, value: angle?.text ?? String(Number((m.angle || 0).toFixed(3))), 'data-settled': angle ? undefined : '', autocomplete: 'off', 'aria-invalid': angle?.why ? 'true' : undefined, 'aria-describedby': angle?.why ? 'field-angle-why' : undefined,
    on: { input: (e: Event) => drafts.set('field-angle', { text: (e.target as HTMLInputElement).value, why: '' }), keydown: (e: KeyboardEvent) => { if (e.key === 'Enter') takeAngle((e.target as HTMLInputElement).value); }, blur: (e: FocusEvent) => { if (drafts.has('field-angle')) takeAngle((e.target as HTMLInputElement).value); } },
  }), h('span', { class: 'unit' }, 'deg')), angle?.why));
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
  bench.panel(() => {
    const m = bench.chosen, unit = bench.state.unit;
    if ((m?.id ?? '') + unit !== last) { drafts.clear(); last = (m?.id ?? '') + unit; }
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
