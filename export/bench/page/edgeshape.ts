// How bright a picture is across an edge: a step, blurred by the lens as a normal curve
// blurs, gathered by pixels one pixel wide. The place of the edge is the middle of the step,
// where the second difference goes through zero. The step of erf is that of M. Hagara and
// P. Kulla, Edge detection with sub-pixel accuracy based on approximation of edge with erf
// function, Radioengineering 20 (2011); the fit is Gauss and Newton's, damped.

/** A pixel near an edge: its distance along the edge and across it, pixels, and its light. */
export interface Sample { t: number; s: number; v: number; stored: number }

/** Light on both sides of a step, its place across, and the standard deviation of its blur, pixels. */
export interface Step { low: number; high: number; at: number; blur: number }

/** The least blur that is told apart from none: a pixel's own width hides it. */
export const leastBlur = 0.15;

const root2pi = Math.sqrt(2 * Math.PI);
const density = (x: number): number => Math.exp(-x * x / 2) / root2pi;

/** The normal distribution (Abramowitz and Stegun, 26.2.17: within 7.5e-8). */
export function normal(x: number): number {
  const k = 1 / (1 + 0.2316419 * Math.abs(x));
  const tail = density(x) * k * (0.319381530 + k * (-0.356563782 + k * (1.781477937 + k * (-1.821255978 + k * 1.330274429))));
  return x < 0 ? tail : 1 - tail;
}

/**
 * The share of the step at a pixel whose middle lies s across it, and its slopes by s and by
 * the blur b. With G(x) = x N(x/b) + b n(x/b), whose slope is N(x/b), it is G(s + 1/2) - G(s - 1/2):
 * the mean over a width of one pixel, which is right along rows and columns, and of the same
 * second moment at every slant.
 */
export function share(s: number, b: number): [number, number, number] {
  const x = (s + 0.5) / b, y = (s - 0.5) / b, nx = normal(x), ny = normal(y), dx = density(x), dy = density(y);
  return [(s + 0.5) * nx - (s - 0.5) * ny + b * (dx - dy), nx - ny, dx - dy];
}

/** Solves the normal equations a x = b of a few unknowns; null where they do not tell them. */
export function solve(a: number[][], b: number[]): number[] | null {
  const n = b.length, m = a.map((row, i) => [...row, b[i]]);
  for (let i = 0; i < n; i++) {
    let p = i;
    for (let k = i + 1; k < n; k++) if (Math.abs(m[k][i]) > Math.abs(m[p][i])) p = k;
    [m[i], m[p]] = [m[p], m[i]];
    if (!(Math.abs(m[i][i]) > 1e-300)) return null;
    for (let k = i + 1; k < n; k++) { const f = m[k][i] / m[i][i]; for (let j = i; j <= n; j++) m[k][j] -= f * m[i][j]; }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) { let r = m[i][n]; for (let j = i + 1; j < n; j++) r -= m[i][j] * x[j]; x[i] = r / m[i][i]; }
  return x.every(Number.isFinite) ? x : null;
}

/**
 * Fits a step to samples, from a start: both lights and the place, and the blur unless it is
 * given. `of` says which light of a sample counts. Null where it does not settle.
 */
export function fitStep(samples: readonly Sample[], start: Step, freeBlur: boolean, of: 'v' | 'stored' = 'v'): Step | null {
  const n = freeBlur ? 4 : 3;
  if (samples.length < n + 2) return null;
  let now = { ...start }, damping = 1e-3;
  const miss = (p: Step) => { let sum = 0; for (const q of samples) { const d = q[of] - p.low - (p.high - p.low) * share(q.s - p.at, p.blur)[0]; sum += d * d; } return sum; };
  let sum = miss(now);
  for (let round = 0; round < 30; round++) {
    const a = Array.from({ length: n }, () => new Array<number>(n).fill(0)), b = new Array<number>(n).fill(0), c = now.high - now.low;
    for (const q of samples) {
      const [f, ds, db] = share(q.s - now.at, now.blur), d = q[of] - now.low - c * f, j = [1 - f, f, -c * ds, c * db];
      for (let i = 0; i < n; i++) { b[i] += j[i] * d; for (let k = 0; k < n; k++) a[i][k] += j[i] * j[k]; }
    }
    let step: number[] | null = null, next = now, nextSum = sum;
    for (; damping < 1e6; damping *= 10) {
      step = solve(a.map((row, i) => row.map((x, k) => i === k ? x * (1 + damping) + 1e-30 : x)), b);
      if (!step) continue;
      next = { low: now.low + step[0], high: now.high + step[1], at: now.at + Math.max(-2, Math.min(2, step[2])), blur: freeBlur ? Math.max(leastBlur, Math.min(20, now.blur + Math.max(-now.blur / 2, Math.min(now.blur, step[3])))) : now.blur };
      nextSum = miss(next);
      if (nextSum <= sum) break;
    }
    if (!step || !(nextSum <= sum)) return Number.isFinite(sum) ? now : null;
    const moved = Math.abs(next.at - now.at) + Math.abs(next.blur - now.blur);
    now = next; sum = nextSum; damping = Math.max(damping / 10, 1e-9);
    if (moved < 1e-5) break;
  }
  return [now.low, now.high, now.at, now.blur].every(Number.isFinite) ? now : null;
}
