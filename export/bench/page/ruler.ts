// Rulers of station and height along a view, with flags at what is selected.
import { s } from './dom.ts';
import { show, type Unit } from './length.ts';
import { directionOf, fromScreen, toScreen, type View } from './project.ts';
import { axesOf } from './skin.ts';

/** Ticks: every small one, every middle one, and the labelled ones, in inches. */
export function ticksFor(scale: number, unit: Unit): { small: number; middle: number; label: number } {
  const base = unit === 'mm' ? 1 / 25.4 : 1;
  for (const label of unit === 'mm' ? [10, 50, 100, 200, 500, 1000, 2000, 5000] : [1, 5, 10, 20, 50, 100, 200, 500]) {
    const far = label * base * scale;
    if (far < 44) continue;
    const first = String(label)[0];
    return { label: label * base, middle: label * base / (first === '1' ? 2 : first === '5' ? 5 : 2), small: label * base / 10 >= 3 / scale ? label * base / 10 : label * base / (first === '5' ? 5 : 2) };
  }
  return { label: 10000 * base, middle: 5000 * base, small: 1000 * base };
}

/** What a ruler flags: a value in inches, strong where the hand is. */
export interface Flag { at: number; strong: boolean }

const wide = 46, high = 22;
export const rulerWidth = wide, rulerHeight = high;

/** The ruler above a view: stations. */
export function stationRuler(v: View, unit: Unit, flags: Flag[]): SVGElement {
  const t = ticksFor(v.look.scale, unit), d = directionOf[v.sight].across;
  const [a] = fromScreen(v, [0, 0]), [b] = fromScreen(v, [v.width, 0]);
  const at = (x: number) => toScreen(v, x, 0)[0];
  return s('svg', { class: 'ruler across', width: v.width, height: high, 'aria-hidden': true },
    ticks(Math.min(a, b), Math.max(a, b), t, (x, size) => `M${at(x).toFixed(1)} ${high}v${-size}`),
    labels(Math.min(a, b), Math.max(a, b), t.label, unit).filter(l => !flags.some(f => Math.abs(at(f.at) - at(l.at)) < 46))
      .map(l => s('text', { x: at(l.at) - 3 * d + (d < 0 ? -6 : 0), y: 11, 'text-anchor': d > 0 ? 'end' : 'end' }, l.text)),
    flags.map(f => flag(at(f.at), high / 2, show(f.at, unit, 16), f.strong, 'middle')));
}

/** The ruler to the left of a view: waterlines, or buttock lines. */
export function heightRuler(v: View, unit: Unit, flags: Flag[]): SVGElement {
  const t = ticksFor(v.look.scale, unit);
  const a = fromScreen(v, [0, v.height])[1], b = fromScreen(v, [0, 0])[1];
  const at = (z: number) => toScreen(v, 0, z)[1];
  return s('svg', { class: 'ruler down', width: wide, height: v.height, 'aria-hidden': true },
    ticks(Math.min(a, b), Math.max(a, b), t, (z, size) => `M${wide} ${at(z).toFixed(1)}h${-size}`),
    labels(Math.min(a, b), Math.max(a, b), t.label, unit).filter(l => at(l.at) > 8 && at(l.at) < v.height - 6 && !flags.some(f => Math.abs(at(f.at) - at(l.at)) < 20))
      .map(l => s('text', { x: wide - 13, y: at(l.at) + 4, 'text-anchor': 'end' }, l.text)),
    flags.map(f => flag(wide / 2, at(f.at), show(f.at, unit, 16), f.strong, 'middle')));
}

/** The corner between two rulers says what they are of. */
export const corner = (v: View): SVGElement => s('svg', { class: 'ruler corner', width: wide, height: high, 'aria-hidden': true },
  s('text', { x: wide / 2, y: 15, 'text-anchor': 'middle' }, axesOf[v.sight].height === 2 ? 'WL/FS' : 'BL/FS'));

function ticks(from: number, to: number, t: { small: number; middle: number; label: number }, draw: (at: number, size: number) => string): SVGElement[] {
  const path = (step: number, size: number) => {
    let d = '';
    for (let i = Math.ceil(from / step); i <= to / step && i - Math.ceil(from / step) < 2000; i++) d += draw(i * step, size);
    return d;
  };
  return [s('path', { d: path(t.small, 4) }), s('path', { d: path(t.middle, 7) }), s('path', { d: path(t.label, 10) })];
}

function labels(from: number, to: number, step: number, unit: Unit): { at: number; text: string }[] {
  const out = [];
  for (let i = Math.ceil(from / step); i <= to / step && out.length < 200; i++) out.push({ at: i * step, text: show(i * step, unit) });
  return out;
}

function flag(x: number, y: number, text: string, strong: boolean, anchor: string): SVGElement {
  const w = Math.max(40, text.length * 7.4 + 8);
  return s('g', { class: strong ? 'flag strong' : 'flag' },
    s('rect', { x: x - w / 2, y: y - 9, width: w, height: 18, rx: 2 }),
    s('text', { x, y: y + 4, 'text-anchor': anchor }, text));
}
