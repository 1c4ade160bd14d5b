// A side view traced: by four known points, station and waterline, a drawing or photograph of
// a side view is a map of their plane. What is touched in it becomes stations and waterlines
// with their plus or minus, and from there a place, a line, an opening, or text to take elsewhere.
import type { Bench } from './bench.ts';
import { heightOf, movable, newId, quoted } from './changes.ts';
import { pick } from './pick.ts';
import { h, s } from './dom.ts';
import type { Edge } from './edge.ts';
import type { Change } from './engine.ts';
import { near, written, type Unit } from './length.ts';
import { announce } from './live.ts';
import type { SpotAsked, TraceSeen } from './protocol.ts';

type Pixel = [number, number];
/** A place that was touched; off is its standard deviation where edges give it, else 0. */
interface Touched { pixel: Pixel; off: number }
export const leastKnown = 4;

/** Stations and waterlines as they are written: to a sixteenth or a millimetre. */
const grain = (inches: number, unit: Unit): string => written(unit === 'mm' ? Math.round(inches * 25.4) / 25.4 : Math.round(inches * 16) / 16, unit);

export class Trace {
  points: Touched[] = [];
  seen: TraceSeen | null = null;
  surface = '';
  cursor: Pixel | null = null; // of the keyboard
  constructor(private readonly bench: Bench, private readonly changed: () => void) {}

  clear(): void { this.points = []; this.seen = null; this.cursor = null; }
  add(pixel: Pixel, off = 0): void { this.points.push({ pixel, off }); this.cursor = pixel; this.changed(); }
  move(pixel: Pixel): void { if (this.points.length) { this.points[this.points.length - 1] = { pixel, off: 0 }; this.cursor = pixel; this.changed(); } }
  /** Both ends of a straight edge that was fitted. */
  addEdge(e: Edge): void { for (const t of [-e.half, e.half]) this.points.push({ pixel: [e.at[0] + t * e.along[0], e.at[1] + t * e.along[1]], off: Math.max(0.1, Math.hypot(e.off, t * e.turn)) }); this.changed(); }

  async ask(spots: SpotAsked[]): Promise<void> {
    this.seen = spots.length < leastKnown ? null : await this.bench.engine.ask<TraceSeen>('trace', { spots, pixels: this.points.map(p => p.pixel), within: this.points.map(p => p.off) }, { slot: 'photo' });
  }

  /** Keys: arrows move the cross, Enter takes its place, Backspace takes the last one out. */
  key(e: KeyboardEvent, image: ImageBitmap, by: Pixel | null): Pixel | null {
    if (!by && e.key !== 'Enter' && e.key !== 'Backspace') return null;
    const at: Pixel = this.cursor ??= [(image.width - 1) / 2, (image.height - 1) / 2];
    if (by) { this.cursor = [Number((at[0] + by[0]).toFixed(2)), Number((at[1] + by[1]).toFixed(2))]; announce(`pixel ${this.cursor.map(x => x.toFixed(1)).join(', ')}`); this.changed(); }
    else if (e.key === 'Enter') { this.add(at); announce(`point ${this.points.length} taken`); }
    else { this.points.pop(); announce(`${this.points.length} points left`); this.changed(); }
    return this.cursor;
  }

  over(toStage: (p: readonly number[]) => Pixel, drawing: boolean): SVGElement[] {
    const at = this.points.map(p => toStage(p.pixel)), d = at.map(([x, y], i) => `${i ? 'L' : 'M'}${x} ${y}`).join(''), out: SVGElement[] = [];
    if (at.length > 1) out.push(s('g', { class: 'edge traced' }, s('path', { class: 'halo', d }), s('path', { d })));
    out.push(...at.map((p, i) => pick(p, String(i + 1), 'read', true)));
    if (drawing && this.cursor) out.push(pick(toStage(this.cursor), '', 'read on', true));
    return out;
  }

  /** What was traced, and what it can become. */
  panel(file: string, cite: Node | null): (Node | null)[] {
    const bench = this.bench, unit = bench.state.unit, seen = this.seen, m = bench.chosen;
    if (!seen || !this.current) return [seen ? h('h2', { class: 'rule' }, 'Traced') : null];
    const places = seen.places.filter(p => !p.why), last = places[places.length - 1], half = (a: readonly number[]) => { const x = (a[1] - a[0]) / 2; return unit === 'mm' ? (25.4 * x).toFixed(1) : x.toFixed(2); };
    const names = [...new Set(bench.model.skins.filter(k => k.side !== 'right').map(k => k.surface))], paint = bench.model.scene?.paints[0];
    if (!names.includes(this.surface)) this.surface = names[0] ?? '';
    const own = /^aircraft:[ \t]*(#.*)?$/m.test(bench.engine.text.toString()), pairs = `[${places.map(p => `[${grain(p.at[0], unit)}, ${grain(p.at[1], unit)}]`).join(', ')}]`;
    return [
      h('h2', { class: 'rule' }, 'Traced'),
      h('p', { class: 'soft' }, `The ${seen.side} side is seen. What lies in the plane of the known points is true; on a photograph, what stands nearer to the camera or farther off is shifted.`),
      places.length ? null : h('p', { class: 'soft' }, 'Touch the picture: a place, or the points of a line or an outline in turn. By keys, Enter takes the cross, Backspace takes the last point out.'),
      seen.places.length ? h('table', { id: 'traced' }, h('thead', {}, h('tr', {}, ['', `FS, ${unit}`, `WL, ${unit}`, 'take out'].map(n => h('th', { scope: 'col' }, n || h('span', { class: 'unseen' }, 'number'))))), h('tbody', {}, seen.places.map((p, i) => h('tr', { 'data-key': `traced ${i}` }, h('td', {}, i + 1), p.why ? h('td', { colspan: 2, class: 'warn' }, p.why) : p.at.map((x, k) => h('td', { class: 'n' }, `${near(x, unit)} ± ${half(p.in95[k])}`)), h('td', {}, h('button', { type: 'button', class: 'link', 'aria-label': `remove traced point ${i + 1}`, on: { click: () => { this.points.splice(i, 1); this.changed(); } } }, 'remove')))))) : null,
      seen.length ? h('p', { id: 'traced-length' }, h('b', {}, 'The last two '), `${unit === 'mm' ? (25.4 * seen.length).toFixed(1) : seen.length.toFixed(2)} ± ${half(seen.length95)} ${unit} apart`) : null,
      last ? h('div', { class: 'acts' },
        m && movable(m) ? h('button', { type: 'button', on: { click: () => void this.takePlace() } }, `Take point ${places.length} as place of ${m.id}`) : null,
        m?.kind === 'line' && places.length > 1 ? h('button', { type: 'button', on: { click: () => void bench.edit([{ path: `${m.path}.figure.demarcation.points`, yaml: this.linePoints(unit) }], `${m.id}: line traced from ${file}`) } }, `Take as the line of ${m.id}`) : null,
        cite) : null,
      places.length > 1 ? h('div', { class: 'field' }, h('label', { for: 'trace-surface' }, 'On which surface?'), h('select', { id: 'trace-surface', value: this.surface, on: { change: (e: Event) => { this.surface = (e.target as HTMLSelectElement).value; bench.draw(); } } }, names.map(n => h('option', { value: n, selected: n === this.surface }, n)))) : null,
      places.length > 1 ? h('div', { class: 'acts' },
        paint ? h('button', { type: 'button', on: { click: () => void this.addLine(file, paint.id) } }, 'Add a line of paint') : null,
        places.length > 2 && own ? h('button', { type: 'button', on: { click: () => void this.addOpening(file, pairs) } }, 'Add an opening') : null) : null,
      places.length ? h('div', { class: 'field' }, h('label', { for: 'trace-text' }, own ? 'As text, for an outline, a profile or a section' : 'As text: for the points of an opening, an outline or a profile of the aircraft\'s own file'), h('textarea', { id: 'trace-text', readonly: true, rows: Math.min(6, places.length + 1), 'data-key': `text ${pairs}` }, pairs)) : null,
    ];
  }

  /** The answer is of the points as they stand. */
  private get current(): boolean { return this.seen?.places.length === this.points.length && this.seen.places.every((p, i) => Math.hypot(p.pixel[0] - this.points[i].pixel[0], p.pixel[1] - this.points[i].pixel[1]) < 1e-3); }
  private get places(): TraceSeen['places'] { return this.seen?.places.filter(p => !p.why) ?? []; }
  /** Points of a line from nose to tail. */
  private linePoints(unit: Unit): string { return `[${[...this.places].sort((a, b) => a.at[0] - b.at[0]).map(p => `{fs: ${grain(p.at[0], unit)}, wl: ${grain(p.at[1], unit)}}`).join(', ')}]`; }

  private async takePlace(): Promise<void> {
    const m = this.bench.chosen, last = this.places[this.places.length - 1], unit = this.bench.state.unit;
    if (!m || !last) return;
    await this.bench.edit([{ path: `${m.path}.where.fs`, value: grain(last.at[0], unit) }, ...(m.held === 'wl' ? [{ path: heightOf(m).path, value: grain(last.at[1], unit) }] : [])], `${m.id}: place traced`);
  }
  private async addLine(file: string, paint: string): Promise<void> {
    const bench = this.bench, unit = bench.state.unit, id = newId('line', bench.model.markings.map(m => m.id));
    const yaml = `id: ${id}\nfigure: {demarcation: {points: ${this.linePoints(unit)}, paint: ${quoted(paint)}, width: ${written(unit === 'mm' ? 25 / 25.4 : 1, unit)}}}\nwhere: {surface: ${quoted(this.surface)}, side: ${this.seen!.side}}`;
    if (await bench.edit([{ add: 'markings', yaml }], `line traced from ${file}`)) { await bench.settled(); bench.select([id]); bench.say(`${id} stands on the ${this.seen?.side ?? ''} side of ${this.surface}`); }
  }
  private async addOpening(file: string, pairs: string): Promise<void> {
    const bench = this.bench, id = newId('opening', (bench.model.scene?.obstacles ?? []).map(o => o.id)), yaml = `{id: ${id}, kind: opening, surface: ${quoted(this.surface)}, side: ${this.seen!.side}, points: ${pairs}}`;
    const change: Change = /^ {2,}obstacles:/m.test(bench.engine.text.toString()) ? { add: 'aircraft.obstacles', yaml } : { path: 'aircraft.obstacles', yaml: `[${yaml}]` };
    if (await bench.edit([change], `opening traced from ${file}`)) bench.say(`${id} lies in ${this.surface}`);
  }
}
