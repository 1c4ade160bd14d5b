// The markings of a view, as the engine last drew them on the skin.
import { coatUnder, paintClass } from './coat.ts';
import { s } from './dom.ts';
import { dOf } from './lines.ts';
import { baseOf, type Model } from './model.ts';
import { faces, transformOf, type View } from './project.ts';
import type { Film, Marking, Outline, Placed } from './protocol.ts';
import type { State } from './state.ts';
import { carry } from './walk.ts';
import { hold } from './skin.ts';

/** A placement of a marking that a view shows. */
export interface Seen { marking: Marking; placed: Placed }

export function seenIn(v: View, model: Model): Seen[] {
  const out: Seen[] = [];
  for (const marking of model.markings) for (const placed of marking.placed) if (faces(v.sight, placed.out)) out.push({ marking, placed });
  return out;
}

export const outlinesOf = (model: Model, id: string): Outline[] => model.outlines.get(baseIn(model, id))?.list.filter(o => o.id === id) ?? [];

/** The marking that a placement is of: some ids end in a side themselves. */
export function baseIn(model: Model, placed: string): string {
  return model.markings.find(m => m.placed.some(p => p.id === placed))?.id ?? baseOf(placed);
}

/** All markings but those that the hand moves. */
export function marks(v: View, model: Model, state: State, moving: Set<string>): SVGElement {
  const out: SVGElement[] = [];
  for (const { marking, placed } of seenIn(v, model)) {
    const lines = outlinesOf(model, placed.id), coat = state.theme === 'sunlight' ? '' : coatUnder(model, marking.surfaces), away = moving.has(placed.id);
    out.push(s('g', { class: away ? 'marking away' : 'marking', 'data-id': marking.id, 'data-placed': placed.id },
      lines.map(o => s('path', { d: o.lines.map(l => dOf(v.sight, l, true)).join(''), fill: o.hex, class: paintClass(o.hex, coat), 'vector-effect': 'non-scaling-stroke' }))));
    if (state.shown.films) for (const f of model.films.get(marking.id) ?? []) if (f.id === placed.id) out.push(filmEdges(v, model, f, placed));
  }
  return s('g', { transform: transformOf(v) }, out);
}

/** The edges of the film and its seams, carried over the skin. */
function filmEdges(v: View, model: Model, film: Film, placed: Placed): SVGElement {
  const mesh = model.meshes.get(placed.skin);
  if (!mesh) return s('g');
  const at = hold(mesh, placed.anchor), frame = { right: placed.right, up: placed.up, out: placed.out };
  const line = (points: [number, number][], closed: boolean) => dOf(v.sight, carry(mesh, at, frame, points), closed);
  const [x0, y0, x1, y1] = film.field;
  const d = [line([[x0, y0], [x1, y0], [x1, y1], [x0, y1]], true)];
  for (const seam of film.passes[0]?.seams ?? []) d.push(line(seam.upright ? [[seam.at, y0], [seam.at, y1]] : [[x0, seam.at], [x1, seam.at]], false));
  return s('path', { d: d.join(''), class: 'filmedge', 'vector-effect': 'non-scaling-stroke' });
}

/** A small picture of a marking for lists. */
export function thumb(model: Model, marking: Marking, size = 44): SVGElement {
  const figure = model.figures.get(marking.id)?.[0];
  return picture(figure?.regions ?? [], figure?.bounds ?? [-1, -1, 1, 1], size, size, coatUnder(model, marking.surfaces));
}

/** Regions of a drawing in a box of pixels, y up, on the colour of a skin. */
export function picture(regions: { hex: string; d: string }[], box: readonly number[], width: number, height: number, coat = ''): SVGElement {
  const w = Math.max(1e-3, box[2] - box[0]), h = Math.max(1e-3, box[3] - box[1]);
  const k = 0.84 * Math.min(width / w, height / h), x = width / 2 - (box[0] + box[2]) / 2 * k, y = height / 2 + (box[1] + box[3]) / 2 * k;
  return s('svg', { class: 'thumb', width, height, viewBox: `0 0 ${width} ${height}`, 'aria-hidden': true },
    s('rect', { class: coat ? 'back coated' : 'back', fill: coat || undefined, width, height, rx: 2 }),
    s('g', { transform: `matrix(${k} 0 0 ${-k} ${x} ${y})` },
      regions.map(r => s('path', { d: r.d, fill: r.hex || '#9aa0a3', class: paintClass(r.hex || '#9aa0a3', coat), 'fill-rule': 'evenodd', 'vector-effect': 'non-scaling-stroke' }))));
}


