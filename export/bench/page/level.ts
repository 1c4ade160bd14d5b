// Lettering that follows the waterline of its anchor: along it by x, then square to it by y.
import { cornersOf, neighbourOf, outOf, type Hit, type Mesh } from './skin.ts';
import { add, cross, dot, scale, sub, unit, type Point, type Vec } from './vec.ts';
import { turn, walk, type Frame } from './walk.ts';

/** A place of a waterline, how far along it from the anchor, and its direction there. */
interface Step { far: number; hit: Hit; ahead: Vec }

/** The waterline from a place: over each triangle in the level plane; past the border straight on. */
function waterline(m: Mesh, from: Hit, ahead: Vec, far: number): Step[] {
  const steps: Step[] = [];
  let t = from.triangle, p = from.point, gone = 0, way = ahead;
  for (let i = 0; i < 4000; i++) {
    const level = cross([0, 0, 1], outOf(m, t)), d = unit(dot(level, way) < 0 ? scale(level, -1) : level), corners = cornersOf(m, t), n = cross(sub(corners[1], corners[0]), sub(corners[2], corners[0]));
    steps.push({ far: gone, hit: { triangle: t, point: p }, ahead: d });
    let reach = Infinity, exit = -1;
    for (let k = 0; k < 3; k++) {
      const away = unit(cross(sub(corners[(k + 1) % 3], corners[k]), n)), speed = dot(d, away);
      if (speed <= 1e-12) continue;
      const there = Math.max(0, -dot(sub(p, corners[k]), away) / speed);
      if (there < reach) { reach = there; exit = k; }
    }
    if (exit < 0 || gone + reach >= far) break;
    const next = neighbourOf(m, t, exit);
    if (next < 0) break;
    p = add(p, scale(d, reach));
    gone += reach;
    way = d;
    t = next;
  }
  return steps;
}

/** Points of a drawing about its anchor, whose x runs along the waterline and whose y goes straight, square to it. */
export function carryLevel(m: Mesh, at: Hit, f: Frame, points: Point[]): Vec[] {
  const n = outOf(m, at.triangle), right = turn(f.out, n, f.right), reach = (sign: 1 | -1) => Math.max(0, ...points.map(p => sign * p[0]));
  const fore = waterline(m, at, right, reach(1)), back = waterline(m, at, scale(right, -1), reach(-1));
  return points.map(([x, y]) => {
    const steps = x < 0 ? back : fore, far = Math.abs(x);
    let lo = 0, hi = steps.length - 1; // the last that is not farther
    while (lo < hi) { const mid = (lo + hi + 1) >> 1; if (steps[mid].far <= far) lo = mid; else hi = mid - 1; }
    const s = steps[lo], foot: Hit = { triangle: s.hit.triangle, point: add(s.hit.point, scale(s.ahead, far - s.far)) };
    if (!y) return foot.point;
    const up = cross(outOf(m, foot.triangle), x < 0 ? scale(s.ahead, -1) : s.ahead);
    return walk(m, foot, scale(up, Math.sign(y)), Math.abs(y)).point;
  });
}
