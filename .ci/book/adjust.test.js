// The adjustment of the page against the program's: 200 random problems, half of them
// with a mistake, written by `go test ./geometry/adjust -run Cases -cases FILE`.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { test } from 'node:test';
import { module } from './modules.js';

const file = process.env.MASKLOFT_CASES;

test('200 random problems have the answers of the program', { skip: !file }, async t => {
  const { search, reliability } = await module('adjust.mjs'), { dot, wOf } = await module('solve.mjs');
  const lower = o => Object.fromEntries(Object.entries(o).map(([k, v]) => [k.toLowerCase(), v]));
  const cases = JSON.parse(fs.readFileSync(file, 'utf8'));
  assert.equal(cases.length, 200);
  let verdicts = 0, most = 0;
  cases.forEach((c, k) => {
    const rows = c.rows.map(lower);
    const p = { unknowns: c.unknowns.map(lower), readings: c.readings.map(lower), hooks: c.hooks || [], zero: c.zero, scale: c.scale, longest: c.longest };
    p.model = x => rows.map(r => ({ ...r, out: r.out - dot(r.terms, x) }));
    const want = c.answer;
    let a;
    try { a = search(p); } catch (e) { assert.equal(e.message, want.error, `case ${k}`); return; }
    assert.equal(want.error, '', `case ${k}`);
    const near = (got, want, what) => { assert.ok(Math.abs(got - want) <= 1e-6 * Math.max(1, Math.abs(want)), `case ${k}: ${what} ${got}, the program has ${want}`); most = Math.max(most, Math.abs(got - want) / Math.max(1, Math.abs(want))); };
    a.kept.x.forEach((v, i) => near(v, want.x[i], `unknown ${i}`));
    a.kept.q.forEach((r, i) => r.forEach((v, j) => near(v, want.q[i][j], `covariance ${i} ${j}`)));
    near(a.kept.chi2, want.chi2, 'chi-square');
    assert.deepEqual(a.used, want.used, `case ${k}`);
    assert.equal(a.tests, want.tests);
    a.fixed.forEach((v, i) => near(v, want.fixed[i], `taken off ${i}`));
    a.kept.fits.forEach((f, i) => { near(f.left, want.left[i], `left ${i}`); near(f.share, want.share[i], `share ${i}`); near(wOf(f), want.w[i], `w ${i}`); });
    reliability(a.kept, a.tests).forEach((e, i) => {
      near(Number.isFinite(e.detectable) ? e.detectable : -1, want.detectable[i], `detectable ${i}`);
      near(Number.isFinite(e.named) ? e.named : -1, want.named[i], `named ${i}`);
    });
    assert.deepEqual(a.verdicts.map(v => [v.cause, v.rows, v.hooks, v.open]), (want.verdicts || []).map(v => [v.cause, v.rows || [], v.hooks || [], v.open]), `case ${k}`);
    a.verdicts.forEach((v, i) => { near(v.amount, want.verdicts[i].amount, 'amount'); near(v.sigma, want.verdicts[i].sigma, 'deviation'); });
    verdicts += a.verdicts.length;
  });
  t.diagnostic(`${verdicts} mistakes found alike; the largest difference is ${most.toExponential(1)}`);
});
