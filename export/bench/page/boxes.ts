// What takes up room in a view: boxes of markings in pixels.
import { outlinesOf, seenIn } from './marks.ts';
import type { Model } from './model.ts';
import { boxOf } from './outline.ts';
import { pixelOf, type View } from './project.ts';
import type { Marking, Placed } from './protocol.ts';
import type { Vec } from './vec.ts';

export type Box = [number, number, number, number];
export interface Boxed { marking: Marking; placed: Placed; box: Box }

export function boxesIn(v: View, model: Model): Boxed[] {
  const out: Boxed[] = [];
  for (const { marking, placed } of seenIn(v, model)) {
    const points = outlinesOf(model, placed.id).flatMap(o => o.lines.flat());
    const at = pixelOf(v, placed.anchor);
    out.push({ marking, placed, box: points.length ? boxOf(points.map(p => pixelOf(v, p as Vec))) : [at[0] - 10, at[1] - 10, at[0] + 10, at[1] + 10] });
  }
  return out;
}

export const areaOf = (b: Box): number => Math.max(0, b[2] - b[0]) * Math.max(0, b[3] - b[1]);
export const holds = (b: Box, x: number, y: number, by = 0): boolean => x >= b[0] - by && x <= b[2] + by && y >= b[1] - by && y <= b[3] + by;
export const meets = (a: Box, b: Box): boolean => a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];

/** The markings under a pixel, the smallest first. */
export const under = (v: View, model: Model, x: number, y: number, by: number): Boxed[] =>
  boxesIn(v, model).filter(b => holds(b.box, x, y, by)).sort((a, b) => areaOf(a.box) - areaOf(b.box));
