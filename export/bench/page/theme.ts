// The themes of the page and the strain ladder. Paints of markings are never themed.
import type { Theme } from './state.ts';

export function wear(theme: Theme): void { document.documentElement.dataset.theme = theme; }

/** Dark is squeezed, light is stretched, so that it reads in grey; the middle is none. */
export const ladder = ['#10233d', '#23486b', '#4a7893', '#8e9f99', '#bdb88c', '#dccf93', '#f8efc4'];

/** The colour of a strain, a fraction, where `most` is the end of the ladder. */
export function strainColour(strain: number, most: number): string {
  const k = Math.max(-3, Math.min(3, Math.round(strain / most * 3)));
  return ladder[k + 3];
}
