// From the aircraft to the screen: every view is affine in x, y, z.
import { axesOf, type Sight } from './skin.ts';
import type { Point, Vec } from './vec.ts';

/** What all views of a page share: scale in pixels to the inch, and the place in their middle. */
export interface Look { scale: number; fs: number; height: number }

/** One view: its sight, its size in pixels, and what it shares. */
export interface View { sight: Sight; width: number; height: number; look: Look }

/** Screen direction of stations and of heights: 1 to the right, or up. */
export const directionOf: Record<Sight, { across: 1 | -1; up: 1 | -1 }> = {
  left: { across: 1, up: 1 },
  right: { across: -1, up: 1 },
  above: { across: 1, up: 1 }, // nose to the left, the pilot's right is up
  below: { across: 1, up: -1 },
};

export const nameOf: Record<Sight, string> = { left: 'Left side', right: 'Right side', above: 'From above', below: 'From below' };

/** A station and a height (WL from the side, BL from above or below) in pixels. */
export function toScreen(v: View, station: number, height: number): Point {
  const d = directionOf[v.sight];
  return [v.width / 2 + (station - v.look.fs) * d.across * v.look.scale, v.height / 2 - (height - v.look.height) * d.up * v.look.scale];
}

export const pixelOf = (v: View, p: Vec): Point => toScreen(v, p[0], p[axesOf[v.sight].height]);

/** The station and height under a pixel. */
export function fromScreen(v: View, [x, y]: Point): Point {
  const d = directionOf[v.sight];
  return [v.look.fs + (x - v.width / 2) * d.across / v.look.scale, v.look.height - (y - v.height / 2) * d.up / v.look.scale];
}

/** The transform of a group whose coordinates are stations and heights in inches. */
export function transformOf(v: View): string {
  const d = directionOf[v.sight], [x, y] = toScreen(v, 0, 0);
  return `matrix(${d.across * v.look.scale} 0 0 ${-d.up * v.look.scale} ${x} ${y})`;
}

/** The look that shows a box [station0, height0, station1, height1] whole. */
export function fit(box: [number, number, number, number], width: number, height: number, margin = 24): Look {
  const w = Math.max(1, box[2] - box[0]), h = Math.max(1, box[3] - box[1]);
  const scale = Math.max(0.05, Math.min((width - 2 * margin) / w, (height - 2 * margin) / h));
  return { scale, fs: (box[0] + box[2]) / 2, height: (box[1] + box[3]) / 2 };
}

/** The look scaled about a pixel, whose place stays under it. */
export function zoomed(v: View, about: Point, by: number): Look {
  const scale = Math.max(0.05, Math.min(400, v.look.scale * by)), [fs, height] = fromScreen(v, about), d = directionOf[v.sight];
  return { scale, fs: fs - (about[0] - v.width / 2) * d.across / scale, height: height + (about[1] - v.height / 2) * d.up / scale };
}

/** The look moved by pixels. */
export function panned(v: View, dx: number, dy: number): Look {
  const d = directionOf[v.sight];
  return { scale: v.look.scale, fs: v.look.fs - dx * d.across / v.look.scale, height: v.look.height + dy * d.up / v.look.scale };
}

/** Whether what faces this way is looked at from here. */
export const faces = (sight: Sight, out: Vec): boolean => out[axesOf[sight].depth] * axesOf[sight].towards > 0.3;
