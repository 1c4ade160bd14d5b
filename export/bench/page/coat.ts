// The colour of the aircraft under its markings, and what is drawn upon it.
import type { Model } from './model.ts';

/** The colour of a surface as the layout says it; empty: the theme's own. */
export const coatOf = (model: Model, surface: string): string => model.scene?.coats[surface] ?? '';

/** The colour under a marking. */
export const coatUnder = (model: Model, surfaces: string[]): string => coatOf(model, surfaces[0] ?? '');

/** How light a colour is: 0 black, 255 white (ITU-R BT.601, luma). */
export const lightness = (hex: string): number => { const n = parseInt(hex.slice(1), 16); return 0.299 * (n >> 16 & 255) + 0.587 * (n >> 8 & 255) + 0.114 * (n & 255); };

/** The class of lines upon a colour: theirs is chosen so that they are seen, whatever the theme. */
export const lineClass = (hex: string): string => !hex ? '' : lightness(hex) > 170 ? 'on-light' : lightness(hex) > 88 ? 'on-mid' : 'on-deep';

/** The class of a paint: on the theme's sheet, or on a coat, it gets an edge where it is near to what it lies on. */
export function paintClass(hex: string, coat = ''): string {
  const l = lightness(hex);
  if (coat) return Math.abs(l - lightness(coat)) < 40 ? `paint near ${lineClass(coat)}` : 'paint';
  return l > 170 ? 'paint pale' : l < 60 ? 'paint deep' : 'paint';
}
