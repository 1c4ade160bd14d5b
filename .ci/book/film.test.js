// What the page says of a film by its readings against what `tape --measured` says: 200
// random jobs of the demo, half of them with a mistake, written by
// `go test ./cmd/maskloft -run PlaceCases -place-cases FILE`.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { test } from 'node:test';
import { module } from './modules.js';

const file = process.env.MASKLOFT_PLACE_CASES;

test('200 random films lie as the program says, and the same reading is blamed in the same words', { skip: !file }, async t => {
  const { laid } = await module('film.mjs');
  const { data, cases } = JSON.parse(fs.readFileSync(file, 'utf8'));
  assert.ok(cases.length >= 195, `${cases.length} cases`);
  let most = 0, wrong = 0;
  cases.forEach((c, k) => {
    const marking = data.markings.find(m => m.id === c.marking);
    const readings = c.readings.map(r => {
      const point = marking.points.find(p => p.id === r.point);
      return { point, tape: point.tapes.find(t => t.from === r.from && t.kind === r.kind), value: r.value, typed: r.value, unit: 'in' };
    });
    const got = laid(data, marking, readings);
    assert.equal(Boolean(got.error), c.error, `case ${k}: ${got.error}`);
    if (c.error) return;
    const near = (a, b, within, what) => { most = Math.max(most, Math.abs(a - b)); assert.ok(Math.abs(a - b) <= within, `case ${k}: ${what}: ${a}, the program says ${b}`); };
    c.shift.forEach((v, i) => near(got.shift[i], v, 2e-4, 'shift'));
    near(got.turn, c.turn, 2e-3, 'turn, degrees');
    near(got.farthest, c.farthest, 5e-4, 'farthest corner');
    c.left.forEach((v, i) => near(got.left[i], v, 5e-4, `left of reading ${i}`));
    assert.deepEqual(got.used, c.used, `case ${k}`);
    assert.deepEqual(got.wrong.map(w => w.text), c.wrong, `case ${k}`);
    wrong += c.wrong.length;
  });
  t.diagnostic(`${cases.length} films, ${wrong} mistakes in the same words; the largest difference is ${most.toExponential(1)} in`);
});
