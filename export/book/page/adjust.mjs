// Readings adjusted, mistakes looked for one by one and left out, as the program's
// geometry/adjust does; its answers are the referee. A problem is {unknowns, readings,
// hooks, zero, scale, longest, model}; a reading {read, typed, unit, start, tape, from,
// point}; model(x) returns the rows at values of the unknowns.
import { allow, one, reach, shared, single, suspects } from './causes.mjs';
import { dot, leastShare, near, solve, solveRows, times, wOf } from './solve.mjs';
import { chiTail, tail, tailAt } from './tails.mjs';

const falseAlarm = 0.001, missed = 0.01, openLead = 0.5;
export const testLimit = tests => tailAt(falseAlarm / (2 * Math.max(1, tests)));

function testsOf(p) {
  let n = p.readings.length;
  p.hooks.forEach((moves, h) => { if (moves.length && p.readings.filter(r => r.from === h).length > 2) n++; });
  return n + (p.zero >= 0 ? 1 : 0) + (p.scale >= 0 ? 1 : 0);
}

// No test is rarer by chance than the false alarm over all tests.
function clean(p, s, freed, tests) {
  const rare = falseAlarm / Math.max(1, tests);
  if (s.fits.some(f => f.used && 2 * tail(Math.abs(wOf(f))) < rare)) return false;
  return !shared(p, s, freed).some(c => c.rows.length > c.test.rank && chiTail(c.test.drop, c.test.rank) < rare);
}

// Leaving out one reading leaves nothing to accuse.
function oneCures(p, s, list, freed) {
  let row = -1, least = Infinity;
  for (const c of list) if (c.cause === 'misread' && c.chi2 < least) { row = c.rows[0]; least = c.chi2; }
  if (row < 0) return false;
  const used = s.used.slice(), x = s.x.map(() => 0);
  used[row] = false;
  const rows = s.rows.map((r, i) => ({ terms: r.terms, out: s.fits[i].left + dot(r.terms, s.x), sigma: r.sigma }));
  try { return clean(p, solveRows(p.unknowns, rows, used, x), freed, testsOf(p)); } catch { return false; }
}

const alike = (a, b) => a.cause === b.cause && String(a.rows) === String(b.rows) && String(a.hooks) === String(b.hooks);

// Chooses among the causes: which reading is wrong by what leaving it out explains, and
// only then how.
function likeliest(p, s, freed) {
  let list = suspects(p, s, freed);
  if (oneCures(p, s, list, freed)) list = list.filter(single);
  list = list.filter(c => !['hardpoint', 'exchanged', 'hardpoints exchanged'].includes(c.cause) || c.chi2 < 1e-3 * s.chi2 || chiTail(c.chi2, Math.max(1, s.spare - c.test.rank)) >= 1e-4);
  list = sorted(list);
  let best = list[0];
  const v = { open: false, rows: [] };
  if (single(best)) {
    let free = Infinity, second = Infinity, row = -1;
    for (const c of list) {
      if (c.cause !== 'misread') continue;
      if (c.chi2 < free) { second = free; free = c.chi2; row = c.rows[0]; } else if (c.chi2 < second) second = c.chi2;
    }
    best = list.find(c => single(c) && c.rows[0] === row) || best;
    if (second - free < openLead) {
      v.open = true;
      v.rows = list.filter(c => c.cause === 'misread' && c.chi2 - free < openLead).map(c => c.rows[0]).sort((a, b) => a - b);
    }
  }
  v.cause = best.cause; v.hooks = best.hooks; v.lead = Infinity;
  if (!v.open) v.rows = best.rows;
  const next = list.find(c => !alike(c, best));
  if (next) { v.lead = next.score - best.score; v.next = next.cause; v.nextRows = next.rows; v.nextHooks = next.hooks; }
  let shape = null;
  if (single(best)) shape = one(best.rows[0]);
  else if (best.cause === 'all by start' && p.zero >= 0) shape = [{ row: p.readings.length + p.zero, by: -1 }];
  else if (best.unknown >= 0) shape = best.shapes[0];
  v.amount = v.sigma = 0;
  if (shape) { const t = allow(s, [shape]); v.amount = t.amounts[0]; v.sigma = t.sigmas[0]; }
  return { best, v };
}

// By score, those nearly alike as they came: a merge sort by insertion, since a comparison
// with a tolerance is no order.
function sorted(list) {
  const out = list.slice();
  for (let i = 1; i < out.length; i++) for (let j = i; j > 0 && out[j].score < out[j - 1].score - 1e-9; j--) [out[j], out[j - 1]] = [out[j - 1], out[j]];
  return out;
}

// Adjusts all readings and leaves out what is wrong. Throws where the readings do not
// hold an unknown. Returns {kept, verdicts, used, fixed, tests, all}.
export function search(p) {
  const n = p.readings.length, zero = p.unknowns.map(() => 0);
  const a = { used: new Array(n).fill(true), fixed: new Array(n).fill(0), verdicts: [], all: null, kept: null };
  let start = near(p, a.used, zero);
  a.tests = testsOf(p);
  try { a.all = solve(p, a.used, start); } catch { a.all = null; }
  const work = { ...p, unknowns: p.unknowns.slice(), model: x => p.model(x).map((r, i) => ({ ...r, out: r.out - a.fixed[i] })) };
  const freed = p.unknowns.map(() => false);
  for (let round = 0; round < n; round++) {
    const rows = work.model(start), s = solveRows(work.unknowns, rows, a.used, start);
    if (s.spare < 1 || clean(work, s, freed, a.tests)) break;
    const { best, v } = likeliest(work, s, freed);
    if (v.open) { a.verdicts.push(v); break; }
    const used = a.used.slice(), unknowns = work.unknowns.slice(), free = k => { unknowns[k] = { ...unknowns[k], sigma: reach }; freed[k] = true; };
    if (single(best)) used[best.rows[0]] = false;
    else if (best.cause === 'hardpoint') p.hooks[best.hooks[0]].forEach(free);
    else if (best.unknown >= 0) free(best.unknown);
    else {
      for (const h of best.fixed) a.fixed[h.row] += h.by;
      if (best.cause === 'all by start' && p.zero >= 0) freed[p.zero] = true;
    }
    try { solveRows(unknowns, rows, used, start); } catch { v.open = true; a.verdicts.push(v); break; }
    a.used = used; work.unknowns = unknowns; a.verdicts.push(v);
    try { start = near(work, a.used, start); } catch { /* as it was */ }
  }
  try { a.kept = solve(work, a.used, start); } catch { a.kept = solveRows(work.unknowns, work.model(start), a.used, start); }
  putBack(work, a, start);
  return a;
}

// Takes back single readings that agree with the answer after all.
function putBack(p, a, start) {
  if (a.verdicts.length < 2) return;
  const limit = testLimit(a.tests);
  a.verdicts = a.verdicts.filter(v => {
    if (v.rows.length !== 1 || v.open || a.used[v.rows[0]]) return true;
    const f = a.kept.fits[v.rows[0]];
    if (Math.abs(f.left) >= limit * f.sigma) return true;
    a.used[v.rows[0]] = true;
    try { a.kept = solve(p, a.used, start); return false; } catch { a.used[v.rows[0]] = false; return true; }
  });
}

// Of each reading, the least mistake that would be seen (80 of 100) and named (99 of 100).
export function reliability(s, tests) {
  const limit = testLimit(tests), baarda = tailAt(0.0005) + tailAt(0.2), steps = 16;
  const onto = s.rows.map((r, i) => s.used[i] ? times(s.q, r.terms) : null);
  return s.rows.map((r, i) => {
    const f = s.fits[i];
    if (!s.used[i] || f.share < leastShare) return { detectable: Infinity, named: Infinity };
    const size = r.sigma / Math.sqrt(f.share), rivals = new Array(steps + 1).fill(0);
    s.rows.forEach((o, j) => {
      if (j === i || !s.used[j] || s.fits[j].share < leastShare) return;
      const rho = Math.abs(dot(r.terms, onto[j])) / (r.sigma * o.sigma * Math.sqrt(f.share * s.fits[j].share));
      rivals[Math.ceil(Math.min(1, rho) * steps)]++;
    });
    const fails = d => rivals.reduce((sum, n, k) => n ? sum + n * tail(d * Math.sqrt((steps - k) / (2 * steps))) : sum, tail(d - limit));
    let low = 0, high = 1024;
    for (let k = 0; k < 24; k++) { const mid = (low + high) / 2; if (fails(mid) > missed) low = mid; else high = mid; }
    return { detectable: baarda * size, named: high < 1000 ? high * size : Infinity };
  });
}
