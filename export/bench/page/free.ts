// Where a new marking lands: clear of all that stands, nearest to the middle of the view.
import type { Bench } from './bench.ts';
import { outlinesOf } from './marks.ts';
import { boxOf } from './outline.ts';
import { axesOf, locate } from './skin.ts';
import { sightsOf } from './model.ts';

/** A place for a figure; whether it clears all that stands. */
export interface FreePlace { surface: string; face?: string; fs: number; at: number; axis: 'wl' | 'bl'; clear: boolean }

/** A surface, a station and a height for a figure of a width and height, in inches. */
export function freePlace(bench: Bench, width: number, height: number): FreePlace | null {
  const { model, state } = bench, sight = state.views === 'wings' ? 'above' as const : state.side, h = axesOf[sight].height;
  const look = state.looks[state.views];
  let best: FreePlace | null = null, least = Infinity;
  for (const skin of model.skins) {
    if (!sightsOf(skin).includes(sight) || skin.kind === 'plate' && model.skins.some(k => k.side === 'both' && k.kind !== 'plate')) continue;
    const mesh = model.meshes.get(skin.id)!, all: number[][] = [];
    for (let i = 0; i < mesh.points.length; i += 3) all.push([mesh.points[i], mesh.points[i + h]]);
    const box = boxOf(all), middle = look ? [look.fs, look.height] : [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
    const taken: [number, number, number, number][] = [];
    for (const m of model.markings) for (const p of m.placed) if (p.skin === skin.id && (p.side === state.side || skin.side !== 'both')) {
      const points = outlinesOf(model, p.id).flatMap(o => o.lines.flat());
      if (points.length) taken.push(boxOf(points.map(q => [q[0], q[h]])));
    }
    for (const o of model.scene?.obstacles ?? []) {
      if (o.surface !== skin.surface || !(o.clear > 0) || o.kind === 'tape' || o.kind === 'section' || o.face !== (skin.face || undefined) && o.face) continue;
      const points = (o.points.length ? o.points : o.at ? [o.at] : []).map(q => [q[0], q[h]]);
      if (points.length) { const b = boxOf(points), k = o.clear + (o.points.length ? 0 : o.size / 2); taken.push([b[0] - k, b[1] - k, b[2] + k, b[3] + k]); }
    }
    const step = Math.max(1, Math.min(width, height) / 4), w = width / 2, q = height / 2;
    for (let fs = box[0] + w; fs <= box[2] - w; fs += step) for (let z = box[1] + q; z <= box[3] - q; z += step) {
      const x = Math.round(fs), at = Math.round(z), far = Math.hypot(x - middle[0], at - middle[1]);
      if (far >= least || taken.some(b => x - w < b[2] && x + w > b[0] && at - q < b[3] && at + q > b[1])) continue;
      if ([[-w, -q], [w, -q], [-w, q], [w, q]].some(([a, b]) => !locate(mesh, sight, x + a, at + b))) continue;
      least = far;
      best = { surface: skin.surface, face: skin.face || undefined, fs: x, at: h === 1 ? Math.abs(at) : at, axis: h === 1 ? 'bl' : 'wl', clear: true };
    }
  }
  if (best) return best;
  const skin = model.skins.find(k => sightsOf(k).includes(sight));
  if (!skin) return null;
  const mesh = model.meshes.get(skin.id)!, all: number[][] = [];
  for (let i = 0; i < mesh.points.length; i += 3) all.push([mesh.points[i], mesh.points[i + h]]);
  const box = boxOf(all);
  return { surface: skin.surface, face: skin.face || undefined, fs: Math.round((box[0] + box[2]) / 2), at: Math.round(Math.abs(box[1] + box[3]) / 2), axis: h === 1 ? 'bl' : 'wl', clear: false };
}

/** The first of sizes, the largest first, at which a figure clears all that stands; else one that does and is listed nowhere. */
export function fitting(bench: Bench, sizes: number[], box: (size: number) => [number, number]): number {
  const clears = (size: number) => freePlace(bench, ...box(size))?.clear ?? false;
  const listed = sizes.find(clears), least = Math.min(...sizes);
  if (listed !== undefined) return listed;
  for (let size = Math.floor(least * 0.9); size >= 4; size = Math.min(size - 1, Math.floor(size * 0.9))) if (clears(size)) return size;
  return least;
}
