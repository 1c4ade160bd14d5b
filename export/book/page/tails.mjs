// Chances of normal numbers and of chi-square, as in the program's geometry/adjust.

// The chance that a normal number of deviation 1 is above z (Abramowitz and Stegun
// 26.2.11 and 26.2.14, from memory).
export function tail(z) {
  if (z < 0) return 1 - tail(-z);
  const density = Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI);
  if (z < 3) {
    let term = z, sum = z;
    for (let k = 3; k < 100; k += 2) { term *= z * z / k; sum += term; }
    return 0.5 - density * sum;
  }
  let fraction = z;
  for (let k = 60; k > 0; k--) fraction = z + k / fraction;
  return density / fraction;
}

// The z that a normal number exceeds with chance p, 0 < p < 1.
export const tailAt = p => turns(-40, 40, z => tail(z) > p);

// The chance that chi-square of n degrees of freedom, 1 or more, is above x (Abramowitz
// and Stegun 26.4.8, from memory).
export function chiTail(x, degrees) {
  if (x <= 0) return 1;
  let n = 2, sum = Math.exp(-x / 2), term = sum * x / 2;
  if (degrees % 2 === 1) { n = 1; sum = 2 * tail(Math.sqrt(x)); term = Math.sqrt(2 * x / Math.PI) * Math.exp(-x / 2); }
  for (; n < degrees; n += 2) { sum += term; term *= x / (n + 2); }
  return sum;
}

// Where a test turns from true to false between two numbers.
function turns(low, high, below) {
  for (let i = 0; i < 80; i++) {
    const mid = (low + high) / 2;
    if (below(mid)) low = mid; else high = mid;
  }
  return (low + high) / 2;
}
