// What a rule for lettering wants, drawn over a text: a box for each character, the gap
// between two, and under them the strokes as bars, wanted beside found.
import type { Character } from './protocol.ts';

/** A dimension of a character as the check tells it, in inches. */
export interface Told { dimension: string; what: string; measured_in: number; expected_in: number; verdict: string }

/** What is drawn: rectangles [x0, y0, x1, y1] of the figure, y up, and what each is. */
export interface Gauge { kind: 'width' | 'gap' | 'wanted' | 'found'; of: string; box: [number, number, number, number]; conforms: boolean }

/** The gauges of a text; `checks` name the characters: "width of K", "upright stroke of K", "gap between K and 4, at least". */
export function gaugesOf(characters: Character[], checks: Told[]): Gauge[] {
  const out: Gauge[] = [], of = (start: string) => checks.find(c => c.dimension.startsWith('characters.') && c.what.startsWith(start));
  if (!characters.length) return out;
  const low = Math.min(...characters.map(c => c.cell[1])), high = Math.max(...characters.map(c => c.cell[3])) - low;
  characters.forEach((c, i) => {
    const [x0, y0, x1, y1] = c.cell, put = (kind: Gauge['kind'], box: Gauge['box'], t: Told) => out.push({ kind, of: t.what, box, conforms: t.verdict === 'conforms' });
    const width = of(`width of ${c.rune}`), stroke = of(`upright stroke of ${c.rune}`) ?? of(`level stroke of ${c.rune}`), next = characters[i + 1];
    if (width) put('width', [x0, y0, x0 + width.expected_in, y1], width);
    if (stroke) { // under the character: as it should be, and below it as it is
      put('wanted', [x0, low - 0.1 * high, x0 + stroke.expected_in, low - 0.05 * high], stroke);
      put('found', [x0, low - 0.16 * high, x0 + stroke.measured_in, low - 0.11 * high], stroke);
    }
    const gap = next && of(`gap between ${c.rune} and ${next.rune}`);
    if (gap) put('gap', [x1, low + 0.4 * high, x1 + gap.expected_in, low + 0.6 * high], gap);
  });
  return out;
}
