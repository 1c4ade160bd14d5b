// Skins of known shape, for tests alone.
import type { Skin } from './protocol.ts';
import type { Vec } from './vec.ts';

/** A skin of points, row by row, as the engine would send it. */
export function skinOf(u: number[], v: number[], points: Vec[], more: Partial<Skin> = {}): Skin {
  let last = [0, 0, 0];
  const xyz = points.flatMap(p => {
    const now = p.map(x => Math.round(x * 1000)), step = now.map((x, k) => x - last[k]);
    last = now;
    return step;
  });
  return {
    id: 'body', surface: 'body', kind: 'round', side: 'both', mirror: true, closed: true, u, v,
    panelsU: [0, u.length - 1], panelsV: [0, v.length - 1], xyz, within: 0, lines: {}, outlines: [], ...more,
  };
}

/** A body of circles: radius by station; the right half in 65 columns, crown to keel. */
export function roundSkin(stations: number[], radius: (x: number) => number): Skin {
  const v = Array.from({ length: 65 }, (_, i) => i);
  const points = stations.flatMap(x => v.map((i): Vec => [x, radius(x) * Math.sin(Math.PI * i / 64), radius(x) * Math.cos(Math.PI * i / 64)]));
  return skinOf(stations, v, points, { panelsU: stations.map((_, i) => i) });
}

/** A square box of half breadth b: crown corner, lower corner, flat sides. */
export const boxSkin = (b: number, length: number): Skin =>
  skinOf([0, length], [0, 1, 2, 3], [0, length].flatMap((x): Vec[] => [[x, 0, b], [x, b, b], [x, b, -b], [x, 0, -b]]), { kind: 'stringers', panelsV: [0, 1, 2, 3] });
