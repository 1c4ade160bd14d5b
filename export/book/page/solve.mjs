// Least squares over a few unknowns: small dense matrices and one step, as in the
// program's geometry/adjust. A reading is a row {terms, out, sigma}: its derivatives by
// the unknowns, read less computed, and its standard deviation. An unknown {name, sigma}
// is known beforehand to be 0 within sigma; sigma 0: nothing is known of it.

export const leastShare = 1e-3; // below it a reading counts as not checked
const leastPivot = 1e-10;

export const dot = (a, b) => { let s = 0; for (let i = 0; i < a.length; i++) s += a[i] * b[i]; return s; };
export const square = n => Array.from({ length: n }, () => new Array(n).fill(0));
export const times = (m, v) => m.map(r => dot(r, v));

// The inverse of a symmetric positive matrix by its Cholesky factor, and the first column
// that depends on those before it, -1 where all are free.
export function inverse(n) {
  const size = n.length, scale = [];
  for (let i = 0; i < size; i++) { if (n[i][i] <= 0) return [null, i]; scale.push(1 / Math.sqrt(n[i][i])); }
  const l = square(size), m = square(size), out = square(size);
  for (let j = 0; j < size; j++) for (let i = j; i < size; i++) {
    let sum = n[i][j] * scale[i] * scale[j];
    for (let k = 0; k < j; k++) sum -= l[i][k] * l[j][k];
    if (i === j) { if (sum < leastPivot) return [null, j]; l[j][j] = Math.sqrt(sum); } else l[i][j] = sum / l[j][j];
  }
  for (let j = 0; j < size; j++) {
    m[j][j] = 1 / l[j][j];
    for (let i = j + 1; i < size; i++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= l[i][k] * m[k][j];
      m[i][j] = sum / l[i][i];
    }
  }
  for (let i = 0; i < size; i++) for (let j = i; j < size; j++) {
    let sum = 0;
    for (let k = j; k < size; k++) sum += m[k][i] * m[k][j];
    out[i][j] = out[j][i] = sum * scale[i] * scale[j];
  }
  return [out, -1];
}

// One step: rows at x, solved for as if their derivatives stayed. Throws where the
// readings do not hold an unknown.
export function solveRows(unknowns, rows, used, x, weights) {
  const size = unknowns.length, n = square(size), rhs = new Array(size).fill(0);
  let spare = 0, chi2 = 0;
  rows.forEach((r, i) => {
    if (!used[i]) return;
    spare++;
    const p = 1 / (r.sigma * r.sigma) * (weights ? weights[i] : 1);
    for (let a = 0; a < size; a++) {
      const pa = p * r.terms[a];
      if (pa === 0) continue;
      rhs[a] += pa * r.out;
      for (let b = 0; b < size; b++) n[a][b] += pa * r.terms[b];
    }
  });
  unknowns.forEach((u, k) => {
    if (u.sigma === 0) { spare--; return; }
    const p = 1 / (u.sigma * u.sigma);
    n[k][k] += p; rhs[k] -= p * x[k];
  });
  const [q, free] = inverse(n);
  if (free >= 0) throw new Error(`the readings do not hold the unknown "${unknowns[free].name}"`);
  const step = times(q, rhs), at = x.map((v, k) => v + step[k]);
  const fits = rows.map((r, i) => {
    const known = Math.max(0, dot(r.terms, times(q, r.terms))), own = r.sigma * r.sigma, left = r.out - dot(r.terms, step);
    if (!used[i]) return { used: false, left, share: 1, sigma: Math.sqrt(own + known) };
    const share = Math.max(0, 1 - known / own);
    chi2 += left * left / own;
    return { used: true, left, share, sigma: r.sigma * Math.sqrt(share) };
  });
  unknowns.forEach((u, k) => { if (u.sigma !== 0) chi2 += at[k] * at[k] / (u.sigma * u.sigma); });
  return { x: at, q, chi2, spare, fits, unknowns, rows, used };
}

// What is left of a reading in its own deviations; 0 where it is not checked (Baarda).
export const wOf = f => f.share < leastShare ? 0 : f.left / f.sigma;

const stepBy = (p, most) => p.longest > 0 && most > p.longest ? p.longest / most : 1;

// Adjusts the readings that are used, by Gauss and Newton.
export function solve(p, used, start) {
  const x = start.slice();
  for (let round = 0; round < 50; round++) {
    const s = solveRows(p.unknowns, p.model(x), used, x);
    const step = s.x.map((v, k) => v - x[k]);
    let most = 0;
    s.rows.forEach((r, i) => { if (used[i]) most = Math.max(most, Math.abs(dot(r.terms, step))); });
    if (most < 1e-8) return s;
    const by = stepBy(p, most);
    for (let k = 0; k < x.length; k++) x[k] += by * step[k];
  }
  throw new Error('the readings do not settle on an answer');
}

// Unknowns near which most readings agree: steps in which each weighs less the more it is
// out (E. J. Schlossmacher 1973, from memory).
export function near(p, used, start) {
  const x = start.slice(), size = r => Math.max(1, Math.abs(r.out) / (2 * r.sigma));
  for (let round = 0; round < 12; round++) {
    const rows = p.model(x), s = solveRows(p.unknowns, rows, used, x, rows.map(r => 1 / size(r)));
    let most = 0;
    rows.forEach((r, i) => { if (used[i]) most = Math.max(most, Math.abs(dot(r.terms, s.x) - dot(r.terms, x))); });
    const by = stepBy(p, most);
    for (let k = 0; k < x.length; k++) x[k] += by * (s.x[k] - x[k]);
  }
  const far = p.longest > 0 && p.model(start).some((r, i) => used[i] && Math.abs(dot(r.terms, x) - dot(r.terms, start)) > p.longest);
  return far ? start.slice() : x;
}
