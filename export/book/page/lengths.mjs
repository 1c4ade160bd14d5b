// Lengths as a tape shows them. Inches inside; unit is "in" or "mm".

// Inches as a fraction, of the given parts of an inch: 18-5/16.
export function fraction(inches, parts = 16) {
  const n = Math.round(Math.abs(inches) * parts), whole = Math.floor(n / parts);
  let top = n % parts, bottom = parts;
  while (top && top % 2 === 0) { top /= 2; bottom /= 2; }
  const sign = inches < 0 && n ? '-' : '';
  return sign + (top ? (whole ? `${whole}-` : '') + `${top}/${bottom}` : String(whole));
}

// A length with its unit: millimetres to one, inches to the sixteenth.
export const show = (inches, unit) => unit === 'mm' ? `${Math.round(inches * 25.4)} mm` : `${fraction(inches)} in`;

// A difference in words: "1/16 in" or "2 mm"; empty where it shows as nothing.
export function off(inches, unit) {
  const text = show(Math.abs(inches), unit);
  return /^0 /.test(text) ? '' : text;
}
