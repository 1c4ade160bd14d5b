// What is picked in a photograph: a cross at a place of the stage, with its name beside it.
import { s } from './dom.ts';

/** Small is that of the points of a line, which stand close. */
export function pick([x, y]: readonly number[], name: string, kind: string, small = false): SVGElement {
  const [d, beside] = small ? ['M-9 0H-3M3 0H9M0-9V-3M0 3V9', 7] : ['M-14 0H-4M4 0H14M0-14V-4M0 4V14', 9];
  return s('g', { class: `pick ${kind}`, transform: `translate(${x} ${y})` }, s('path', { class: 'halo', d }), s('path', { d }), name ? s('text', { x: beside, y: -beside }, name) : null);
}
