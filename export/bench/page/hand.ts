// The layer of the hand: selection, handles, and what a gesture shows.
import { boxesIn } from './boxes.ts';
import type { Bench } from './bench.ts';
import { movable, sizeOf } from './changes.ts';
import { s } from './dom.ts';
import type { Gesture } from './drag.ts';
import { chains, clearance, neighbourDim, outlineOf, previewBox, readout, saysAt } from './guides.ts';
import { axesOf } from './skin.ts';
import { pixelOf, type View } from './project.ts';

/** Handles of a selected marking in a view: pixels and what each does. */
export interface Handle { kind: 'size' | 'turn' | 'anchor'; x: number; y: number }

export function handlesOf(bench: Bench, v: View): Handle[] {
  const m = bench.chosen;
  if (!m || !movable(m) || bench.locked(m.id)) return [];
  const b = boxesIn(v, bench.model).find(b => b.marking.id === m.id && (b.placed.side === bench.state.side || m.placed.length === 1 || v.sight === 'above' || v.sight === 'below'));
  if (!b) return [];
  const [x0, y0, x1, y1] = b.box, out: Handle[] = [];
  if (sizeOf(m)) for (const [x, y] of [[x0 - 4, y0 - 4], [x1 + 4, y0 - 4], [x0 - 4, y1 + 4], [x1 + 4, y1 + 4]]) out.push({ kind: 'size', x, y });
  out.push({ kind: 'turn', x: (x0 + x1) / 2, y: y0 - 26 });
  return out;
}

/** Draws the layer anew. */
export function hand(bench: Bench, v: View, gesture: Gesture | null): SVGElement[] {
  const out: SVGElement[] = [], { model, state } = bench;
  if (gesture?.previews.length) {
    const active = gesture.previews[0], mine = active.grabbed.sight === v.sight;
    for (const p of gesture.previews) {
      if (p.grabbed.sight !== v.sight) continue;
      const lead = p.grabbed.marking.id === active.grabbed.marking.id && mine;
      out.push(outlineOf(v, p, p.grabbed.placed.side === active.grabbed.placed.side ? 'held' : 'follows'));
      if (!lead) {
        out.push(chains(v, p.station, p.height, false));
        const box = previewBox(v, p);
        if (p.grabbed.marking.side === 'both') out.push(s('text', { class: 'follows-text', x: (box[0] + box[2]) / 2, y: box[3] + 20, 'text-anchor': 'middle' }, 'follows: side: both'));
        continue;
      }
      out.push(chains(v, p.station, p.height, true));
      for (const g of gesture.guides) if (g.height !== undefined) out.push(chains(v, p.station, g.height, false));
      const dim = neighbourDim(v, model, p, state.unit);
      if (dim) out.push(dim);
      if (gesture.standing) out.push(...clearance(v, model, p, gesture.standing, gesture.was, state.unit));
      out.push(readout(v, p, [...saysAt(p, state.unit, gesture.guides.map(g => g.why)), ...gesture.extra]));
    }
    return out;
  }
  const plan = v.sight === 'above' || v.sight === 'below';
  for (const b of boxesIn(v, model)) {
    if (!state.selected.includes(b.marking.id)) continue;
    const main = b.marking === bench.chosen && (plan || b.placed.side === state.side || b.marking.placed.length === 1);
    const [x0, y0, x1, y1] = b.box, [ax, ay] = pixelOf(v, b.placed.anchor);
    if (main) out.push(chains(v, b.placed.anchor[0], b.placed.anchor[axesOf[v.sight].height], true));
    out.push(s('rect', { class: main ? 'frame' : 'frame follows', x: x0 - 4, y: y0 - 4, width: x1 - x0 + 8, height: y1 - y0 + 8 }));
    out.push(s('g', { class: 'anchor', transform: `translate(${ax} ${ay})` }, s('circle', { r: 4.5 }), s('path', { d: 'M-9 0H9M0-9V9' })));
    if (!main) continue;
    if (bench.locked(b.marking.id)) out.push(s('text', { class: 'lockname', x: x1 + 8, y: y0 + 4 }, 'locked'));
    for (const hd of handlesOf(bench, v)) {
      if (hd.kind === 'turn') out.push(s('path', { class: 'stem', d: `M${hd.x} ${y0 - 4}V${hd.y + 5}` }), s('circle', { class: 'handle turn', cx: hd.x, cy: hd.y, r: 5 }));
      else out.push(s('rect', { class: 'handle size', x: hd.x - 4, y: hd.y - 4, width: 8, height: 8 }));
    }
  }
  return out;
}


