// A marking moved by hand: its outline carried over the skin before the engine answers.
import { nearest, type Near } from './clear.ts';
import { carryLevel } from './level.ts';
import { outlinesOf } from './marks.ts';
import type { Model } from './model.ts';
import { boxOf, ringsWithin } from './outline.ts';
import type { Marking, Placed, SceneBar } from './protocol.ts';
import { axesOf, hold, locate, type Hit, type Mesh, type Sight } from './skin.ts';
import { add, dot, scale, sub, type Point, type Vec } from './vec.ts';
import { angleOf, carry, frameAt, type Frame } from './walk.ts';

/** One paint of a moved marking: closed lines on the skin. */
export interface Moved { hex: string; lines: Vec[][] }

/** A marking as it was grabbed on one side. */
export interface Grabbed {
  marking: Marking; placed: Placed; mesh: Mesh; sight: Sight; start: Hit; angle: number;
  paints: { hex: string; rings: Point[][]; rest: Vec[][] }[]; // rest: what the engine's own outline differs by, in the frame
  box: [number, number, number, number]; // of its outline, from the anchor: [fs, height, fs, height]
}

/** Where a marking would stand: the place, its frame, and its outlines. */
export interface Preview { grabbed: Grabbed; station: number; height: number; anchor: Vec; frame: Frame; paints: Moved[]; on: boolean }

const upright = (sight: Sight) => sight === 'left' || sight === 'right' ? 'level' as const : 'forward' as const;

/** The sight from which a placement is seen best. */
export function sightOf(p: Placed): Sight {
  if (Math.abs(p.out[2]) > 0.8 && !/^(fin|rudder)/.test(p.skin)) return p.out[2] > 0 ? 'above' : 'below';
  return p.out[1] < 0 || p.out[1] === 0 && p.side === 'left' ? 'left' : 'right';
}

/** Takes hold of a marking on one side; null where it has no drawing or no skin yet. */
export function grab(model: Model, marking: Marking, placed: Placed): Grabbed | null {
  const mesh = model.meshes.get(placed.skin), figure = model.figures.get(marking.id)?.find(f => f.id === placed.id);
  if (!mesh || !figure) return null;
  const sight = sightOf(placed), h = axesOf[sight].height;
  const start = locate(mesh, sight, placed.anchor[0], placed.anchor[h]) ?? hold(mesh, placed.anchor);
  const frame: Frame = { right: placed.right, up: placed.up, out: placed.out };
  const all = ringsWithin(figure.regions.map(r => r.d));
  const exact = outlinesOf(model, placed.id);
  const paints = figure.regions.map((r, i) => {
    const rings = all[i].map(ring => ring.map((p): Point => [p[0], p[1]]));
    const own = exact.filter(o => o.paint === r.paint).flatMap(o => o.lines as Vec[][]);
    return { hex: r.hex, rings, rest: rings.map(ring => restOf(carryOf(marking, mesh, sight, start, frame, ring), own, frame)) };
  });
  const box = boxOf(paints.flatMap(p => p.rings.flatMap((ring, k) => carryOf(marking, mesh, sight, start, frame, ring, p.rest[k]).map(q => [q[0] - placed.anchor[0], q[h] - placed.anchor[h]]))));
  return { marking, placed, mesh, sight, start, angle: angleOf(mesh, start, upright(sight), frame), paints, box };
}

/** The engine's outline less the page's own, at each point, where the two are near. */
function restOf(points: Vec[], own: Vec[][], f: Frame): Vec[] {
  return points.map(p => {
    let best: Vec | null = null, least = 0.5;
    for (const line of own) for (let i = 0, j = line.length - 1; i < line.length; j = i++) {
      const d = sub(line[i], line[j]), l = dot(d, d), t = l ? Math.max(0, Math.min(1, dot(sub(p, line[j]), d) / l)) : 0;
      const off = sub(add(line[j], scale(d, t)), p), far = Math.sqrt(dot(off, off));
      if (far < least) { least = far; best = off; }
    }
    return best ? [dot(best, f.right), dot(best, f.up), dot(best, f.out)] : [0, 0, 0];
  });
}

function carryOf(m: Marking, mesh: Mesh, sight: Sight, at: Hit, f: Frame, ring: Point[], rest?: Vec[]): Vec[] {
  if (m.true === 'side' && (sight === 'left' || sight === 'right')) {
    const across = sight === 'left' ? 1 : -1;
    const lean = Math.atan2(dot(f.right, [0, 0, 1]), dot(f.right, [across, 0, 0])), c = Math.cos(lean), s = Math.sin(lean);
    return ring.map(([x, y]) => {
      const fs = at.point[0] + across * (x * c - y * s), wl = at.point[2] + x * s + y * c;
      return locate(mesh, sight, fs, wl)?.point ?? [fs, at.point[1], wl];
    });
  }
  const points = m.baseline === 'waterline' ? carryLevel(mesh, at, f, ring) : carry(mesh, at, f, ring);
  if (!rest) return points;
  return points.map((p, i) => add(p, add(add(scale(f.right, rest[i][0]), scale(f.up, rest[i][1])), scale(f.out, rest[i][2]))));
}

/** The marking at a station and height of its view, turned by `turned` radians more and `sized` times as large. */
export function previewAt(g: Grabbed, station: number, height: number, turned = 0, sized = 1): Preview {
  const hit = locate(g.mesh, g.sight, station, height);
  const at = hit ?? g.start;
  const frame = hit ? frameAt(g.mesh, at, upright(g.sight), g.angle + turned) : { right: g.placed.right, up: g.placed.up, out: g.placed.out };
  if (!hit) { // off the skin: the old outline moved straight, so that the hand sees where it is
    const by: Vec = [station - g.placed.anchor[0], 0, 0];
    by[axesOf[g.sight].height] = height - g.placed.anchor[axesOf[g.sight].height];
    return { grabbed: g, station, height, anchor: add(g.placed.anchor, by), frame, on: false,
      paints: g.paints.map(p => ({ hex: p.hex, lines: p.rings.map((ring, k) => carryOf(g.marking, g.mesh, g.sight, g.start, frame, ring, p.rest[k]).map(q => add(q, by))) })) };
  }
  return { grabbed: g, station, height, anchor: at.point, frame, on: true,
    paints: g.paints.map(p => ({ hex: p.hex, lines: p.rings.map((ring, k) => {
      const drawn = sized === 1 ? ring : ring.map(([x, y]): Point => [x * sized, y * sized]);
      return carryOf(g.marking, g.mesh, g.sight, at, frame, drawn, p.rest[k]);
    }) })) };
}

/** Radians by which a placement is turned against the one that was grabbed, each beside the upright of its place. */
export function turnedTo(g: Grabbed, p: Placed): number {
  const at = locate(g.mesh, g.sight, p.anchor[0], p.anchor[axesOf[g.sight].height]);
  return at ? angleOf(g.mesh, at, upright(g.sight), { right: p.right, up: p.up, out: p.out }) - g.angle : 0;
}

/** The other side's view of the same place. */
export const otherSight: Record<Sight, Sight> = { left: 'right', right: 'left', above: 'above', below: 'below' };

/** What paint stands nearest to, of what it must keep clear of on its side. */
export interface Standing { obstacle: SceneBar; near: Near; limit: number }

export function standing(model: Model, p: Preview, within = 12): Standing | null {
  let best: Standing | null = null;
  const lines = p.paints.flatMap(x => x.lines);
  for (const o of model.scene?.obstacles ?? []) {
    if (!(o.clear > 0) || o.kind === 'tape' || o.kind === 'section' || !p.grabbed.marking.surfaces.includes(o.surface)) continue;
    if (o.face ? o.face !== p.grabbed.placed.skin.split('/').pop() : o.side !== p.grabbed.placed.side) continue;
    const points = (o.points.length ? o.points : o.at ? [o.at] : []) as Vec[];
    const ring = o.points.length > 2 && o.closed;
    const near = points.length ? nearest(lines, points, ring, ring ? 0 : o.size / 2, within) : null;
    if (near && (!best || near.distance - o.clear < best.near.distance - best.limit)) best = { obstacle: o, near, limit: o.clear };
  }
  return best;
}

/** The heights of the named lines of a surface at a station, on the side of a view. */
export function linesAt(model: Model, surface: string, sight: Sight, station: number): { name: string; height: number }[] {
  const h = axesOf[sight].height, out: { name: string; height: number }[] = [];
  for (const l of model.scene?.lines ?? []) {
    if (l.surface !== surface) continue;
    for (let i = 1; i < l.points.length; i++) {
      const a = l.points[i - 1], b = l.points[i];
      if (a[0] <= station && station <= b[0] && b[0] > a[0]) { out.push({ name: l.name, height: a[h] + (b[h] - a[h]) * (station - a[0]) / (b[0] - a[0]) }); break; }
    }
  }
  return out;
}

