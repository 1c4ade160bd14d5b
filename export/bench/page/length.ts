// Lengths as they are typed and shown. A length is a number of inches.

export type Unit = 'in' | 'mm';
export type Read = { ok: true; inches: number } | { ok: false; why: string };

const inchesOf: Record<string, number> = {
  in: 1, inch: 1, inches: 1, '"': 1, '″': 1, ft: 12, foot: 12, feet: 12, "'": 12, '′': 12,
  mm: 1 / 25.4, cm: 10 / 25.4, m: 1000 / 25.4, // 1 in = 25.4 mm, international yard and pound agreement of 1959
};
const term = /^(?:(?:(\d+)[\s-]+)?(\d+)\s*\/\s*(\d+)|(\d+(?:\.\d*)?|\.\d+))\s*([a-zA-Z]+|["'″′]|)/;
const help = 'write 20-1/2 in, 1 ft 8 1/2, 520.7 mm or 184 + 3/8';

/**
 * Reads what was typed into a field. A bare number is in `unit`. `+1/8` or `-1/8` in a
 * field that holds `now` is a step from it; without `now` a sign is part of the number.
 * Terms are added and subtracted where the sign has space on both sides.
 */
export function read(text: string, unit: Unit, now?: number): Read {
  const trimmed = text.trim().replace(/−/g, '-');
  if (!trimmed) return { ok: false, why: `nothing is typed: ${help}` };
  const steps = now !== undefined && trimmed.startsWith('+');
  let total = steps ? now! : 0;
  for (const part of trimmed.replace(/^([+-])\s+/, '$1').split(/\s+(?=[+-]\s)/)) {
    const sign = part.startsWith('-') ? -1 : 1;
    const one = readOne(part.replace(/^[+-]\s*/, ''), unit);
    if (!one.ok) return { ok: false, why: `“${trimmed}” is no length: ${one.why}` };
    total += sign * one.inches;
  }
  return Number.isFinite(total) ? { ok: true, inches: total } : { ok: false, why: `“${trimmed}” is too large` };
}

/** Reads one length: feet before inches, a fraction after its whole number. */
function readOne(text: string, bare: Unit): Read {
  let rest = text.trim(), total = 0, last = Infinity;
  if (!rest) return { ok: false, why: help };
  while (rest) {
    const m = term.exec(rest);
    if (!m) return { ok: false, why: help };
    const word = m[5].toLowerCase();
    rest = rest.slice(m[0].length).trim();
    // after feet a number without a unit is inches, as a rule is read
    const unit = word ? inchesOf[word] : last === 12 ? 1 : inchesOf[bare];
    if (unit === undefined) return { ok: false, why: `“${m[5]}” is no unit; in, ft, mm, cm and m are` };
    if (!word && rest) return { ok: false, why: `“${rest}” follows the number; ${help}` };
    if (unit >= last) return { ok: false, why: 'the larger unit comes first' };
    if (m[3] && Number(m[3]) === 0) return { ok: false, why: 'a fraction over zero' };
    total += (m[4] ? Number(m[4]) : Number(m[1] ?? 0) + Number(m[2]) / Number(m[3])) * unit;
    last = unit;
  }
  return { ok: true, inches: total };
}

/**
 * Writes a length without its unit: inches to the nearest 1/denominator where that is
 * within 1/2000 in, else three decimals; millimetres to a tenth.
 */
export function show(inches: number, unit: Unit, denominator = 64): string {
  if (unit === 'mm') return decimals(inches * 25.4, 1);
  const n = Math.round(inches * denominator);
  if (Math.abs(n / denominator - inches) > 0.0005) return decimals(inches, 3);
  return fraction(n, denominator);
}

/** Writes a length as a tape is read: to the nearest 1/32 in, or 0.1 mm. */
export function near(inches: number, unit: Unit, denominator = 32): string {
  return unit === 'mm' ? decimals(inches * 25.4, 1) : fraction(Math.round(inches * denominator), denominator);
}

/** As show, with the unit: what is written into the text. */
export const written = (inches: number, unit: Unit): string => `${show(inches, unit)} ${unit}`;

/** As near, with the unit. */
export const nearly = (inches: number, unit: Unit): string => `${near(inches, unit)} ${unit}`;

/** A length as it is spoken: "53 and 1/8 inches". */
export function spoken(inches: number, unit: Unit): string {
  return unit === 'mm' ? `${near(inches, unit)} millimetres` : `${near(inches, unit).replace(/^(-?\d+)-/, '$1 and ')} inches`;
}

function fraction(n: number, denominator: number): string {
  const sign = n < 0 ? '-' : '';
  n = Math.abs(n);
  const whole = Math.floor(n / denominator);
  let rest = n % denominator, d = denominator;
  while (rest && rest % 2 === 0) { rest /= 2; d /= 2; }
  if (!rest) return `${n ? sign : ''}${whole}`;
  return whole ? `${sign}${whole}-${rest}/${d}` : `${sign}${rest}/${d}`;
}

function decimals(x: number, places: number): string {
  const s = String(Number(x.toFixed(places)));
  return s === '-0' ? '0' : s;
}

/** The steps of a nudge, the fine one first. */
export const steps: Record<Unit, number[]> = {
  in: [1 / 64, 1 / 16, 1 / 4, 1],
  mm: [0.1 / 25.4, 1 / 25.4, 10 / 25.4],
};
