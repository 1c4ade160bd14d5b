// Edges of a photograph: lines drawn along them in the picture, what was fitted, and what two
// of them say. Pixels of the picture are read here and stay here.
import { fitEdge, leastLine, lightOf, normalOf, type Edge, type Light } from './edge.ts';
import { angleOf, apart, crossing } from './edgepair.ts';
import { pick } from './pick.ts';
import { h, s } from './dom.ts';
import { near, type Unit } from './length.ts';
import { announce } from './live.ts';
import type { EdgeAsked, PhotoSeen } from './protocol.ts';

type Pixel = [number, number];
const both95 = 1.96;
const px = (x: number): string => `${x < 0.095 ? x.toFixed(2) : x.toFixed(1)} px`;

/** A length with its plus or minus: to a hundredth of an inch, or a tenth of a millimetre. */
const within = (is: number, span: readonly number[], unit: Unit): string => {
  const k = unit === 'mm' ? 25.4 : 1, places = unit === 'mm' ? 1 : 2, half = k * (span[1] - span[0]) / 2;
  return `${(k * is).toFixed(places)} ± ${Math.max(half, 10 ** -places).toFixed(places)} ${unit}`;
};

export class Edges {
  list: Edge[] = [];
  round = false;
  why = '';
  line: { from: Pixel; to: Pixel } | null = null; // that is being drawn
  cursor: Pixel | null = null; // of the keyboard
  constructor(private readonly changed: () => void) {}

  clear(): void { this.list = []; this.line = null; this.cursor = null; this.why = ''; }

  /** Fits the line that was drawn; scale is screen pixels to one of the picture. */
  fit(image: ImageBitmap, scale: number): void {
    if (!this.line) return;
    const { from, to } = this.line, reach = Math.max(4, Math.min(40, 12 / scale));
    this.line = null;
    if (Math.hypot(to[0] - from[0], to[1] - from[1]) < 2) { this.changed(); return; } // a touch
    const got = fitEdge(lightAlong(image, from, to, reach + 16), from, to, this.round, reach);
    this.why = got.ok ? '' : got.why;
    if (got.ok) this.list = [...this.list.slice(-1), got.edge];
    announce(got.ok ? `edge ${this.list.length}: ${px(both95 * got.edge.off)} plus or minus` : got.why);
    this.changed();
  }

  /** Keys while edges are drawn: arrows move the cross, Enter begins a line and ends it. */
  key(e: KeyboardEvent, image: ImageBitmap, scale: number, by: Pixel | null): Pixel | null {
    if (!by && e.key !== 'Enter' && e.key !== 'Escape') return null;
    const at: Pixel = this.cursor ??= [(image.width - 1) / 2, (image.height - 1) / 2];
    if (by) {
      this.cursor = [at[0] + by[0], at[1] + by[1]];
      if (this.line) this.line.to = this.cursor;
      announce(`${this.line ? 'line to ' : ''}pixel ${this.cursor.map(x => x.toFixed(1)).join(', ')}`);
    } else if (e.key === 'Enter') {
      if (this.line) this.fit(image, scale); else { this.line = { from: at, to: at }; announce('line begun; Enter ends it'); }
    } else this.line = null;
    this.changed();
    return this.cursor;
  }

  asked(): EdgeAsked[] { return this.list.map(e => ({ at: e.at, along: e.along, off: e.off, turn: e.turn, round: e.round, tone: e.tone })); }
  get crossing() { return this.list.length === 2 ? crossing(this.list[0], this.list[1]) : null; }

  /** Edges, the line that is being drawn and the cross of the keys, over the picture. */
  over(toStage: (p: readonly number[]) => Pixel, drawing: boolean): SVGElement[] {
    const path = (points: Pixel[], name: string) => { const d = points.map(toStage).map(([x, y], i) => `${i ? 'L' : 'M'}${x} ${y}`).join(''); return s('g', { class: name }, s('path', { class: 'halo', d }), s('path', { d })); };
    const out = this.list.map((e, k) => {
      const n = normalOf(e.along), points = [-1, -0.8, -0.6, -0.4, -0.2, 0, 0.2, 0.4, 0.6, 0.8, 1].map((f): Pixel => { const t = f * e.half, c = e.bend * t * t; return [e.at[0] + t * e.along[0] + c * n[0], e.at[1] + t * e.along[1] + c * n[1]]; }), [x, y] = toStage(points[10]);
      return s('g', {}, path(points, 'edge'), s('text', { class: 'edgename', x: x + 6, y: y - 6 }, k + 1));
    });
    if (this.line) out.push(path([this.line.from, this.line.to], 'edge drawn'));
    if (this.cursor && drawing) out.push(pick(toStage(this.cursor), '', 'read on'));
    return out;
  }

  /** What was fitted and what it says; `takes` are buttons for the crossing and the width, and what takes the ends of an edge. */
  panel(seen: PhotoSeen | null, unit: Unit, takes: { crossing: Node[]; width: Node[]; ends: ((e: Edge) => void) | null }): (Node | null)[] {
    // an answer to edges that are no more there is not shown
    const of = (i: number) => { const p = seen?.edges[i], e = this.list[i]; return p && e && Math.hypot(p.pixel[0] - e.at[0], p.pixel[1] - e.at[1]) < 1e-3 ? p : null; };
    const [a, b] = this.list, met = this.crossing, pair = b ? apart(a, b) : null, width = of(0) && of(1) ? seen?.width : null;
    return [
      h('h2', { class: 'rule' }, 'Edges'),
      h('div', { class: 'acts' }, h('span', { class: 'pair', role: 'group', 'aria-label': 'Kind of edge' }, [false, true].map(x => h('button', { type: 'button', 'aria-pressed': String(this.round === x), on: { click: () => { this.round = x; this.changed(); } } }, x ? 'Round' : 'Straight')))),
      this.list.length ? null : h('p', { class: 'soft' }, `Draw a line of ${leastLine} px or more along an edge of a letter, bar or disc: by keys, Enter begins and ends it.`),
      this.why ? h('p', { class: 'stop' }, this.why) : null,
      ...this.list.map((e, i) => {
        const place = of(i);
        return h('div', { class: 'readplace edgerow', 'data-key': `edge ${i}` },
          h('p', {}, h('b', {}, `Edge ${i + 1} `), `${e.round ? 'round' : 'straight'}, ± ${px(both95 * e.off)} across `, h('button', { type: 'button', class: 'link', 'aria-label': `remove edge ${i + 1}`, on: { click: () => { this.list.splice(i, 1); this.changed(); } } }, 'remove')),
          h('p', { class: 'soft' }, `blur ${px(e.blur)}, light steps by ${Math.round(100 * e.contrast)} %${e.leftOut ? `; ${e.leftOut} of ${e.leftOut + e.stretches} stretches left out` : ''}${Math.abs(e.tone) > 0.05 ? `; ${px(Math.abs(e.tone))} elsewhere if its tones are not those of light` : ''}`),
          e.curved ? h('p', { class: 'warn' }, `It bends by ${px(e.curved)} over its length: take it as round, or a shorter stretch.`) : null,
          takes.ends && !e.round ? h('div', { class: 'acts' }, h('button', { type: 'button', on: { click: () => takes.ends!(e) } }, `Trace edge ${i + 1} by its ends`)) : null,
          place && !place.why ? h('p', {}, `${place.on}, ${['FS', 'BL', 'WL'].map((n, k) => `${n} ${near(place.at[k], unit)} ± ${within(0, place.in95[k], unit).split('± ')[1]}`).join(', ')}: across it; along it as drawn`) : null);
      }),
      met ? h('div', { class: 'readplace', id: 'edge-crossing' }, h('p', {}, h('b', {}, 'They cross '), `at ${met.at.map(x => x.toFixed(2)).join(', ')} ± ${px(both95 * met.off)}`), h('div', { class: 'acts' }, takes.crossing)) : null,
      pair ? h('div', { class: 'readplace', id: 'edge-width' },
        h('p', {}, h('b', {}, a.round ? 'Diameter ' : 'Between them '), `${pair.pixels.toFixed(2)} ± ${px(both95 * pair.off)} in the picture, ${(pair.askew * 180 / Math.PI).toFixed(1)}° askew`),
        width?.why ? h('p', { class: 'warn' }, width.why) : null,
        width && !width.why ? h('p', { class: 'edgewidth' }, width.length.along ? `${within(width.length.along, width.length.skin95, unit)} along the skin; ` : '', `${within(width.length.air, width.length.air95, unit)} straight; askew on the skin by ${width.askew.toFixed(1)}° ± ${width.sure.toFixed(1)}`, width.tones > 0.005 ? `; ${within(0, [-width.tones, width.tones], unit).split('± ')[1]} more or less if its tones are not those of light` : '') : null,
        width ? h('div', { class: 'acts' }, takes.width) : null) : null,
      b && !met && !pair ? h('p', { class: 'soft' }, a.round === b.round ? `They meet at ${(angleOf(a, b) * 180 / Math.PI).toFixed(0)}°: neither a pair nor a corner.` : 'One is straight and one round.') : null,
    ];
  }
}

/** The light of the picture in a box round a line. */
function lightAlong(image: ImageBitmap, from: Pixel, to: Pixel, margin: number): Light {
  const x0 = Math.max(0, Math.floor(Math.min(from[0], to[0]) - margin)), y0 = Math.max(0, Math.floor(Math.min(from[1], to[1]) - margin));
  const width = Math.max(1, Math.min(image.width, Math.ceil(Math.max(from[0], to[0]) + margin)) - x0), height = Math.max(1, Math.min(image.height, Math.ceil(Math.max(from[1], to[1]) + margin)) - y0);
  const c = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true })!;
  c.fillStyle = '#fff';
  c.fillRect(0, 0, width, height);
  c.drawImage(image, -x0, -y0);
  const data = c.getImageData(0, 0, width, height).data, table = Array.from({ length: 256 }, (_, v) => lightOf(v / 255)), light = new Float32Array(width * height), stored = new Float32Array(width * height);
  for (let i = 0; i < light.length; i++) {
    const [r, g, b] = [data[4 * i], data[4 * i + 1], data[4 * i + 2]]; // luminance of sRGB (IEC 61966-2-1)
    light[i] = 0.2126 * table[r] + 0.7152 * table[g] + 0.0722 * table[b];
    stored[i] = (0.2126 * r + 0.7152 * g + 0.0722 * b) / 255;
  }
  return { x0, y0, width, height, light, stored };
}
