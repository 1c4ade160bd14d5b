import assert from 'node:assert/strict';
import { test } from 'node:test';
import { gaugesOf } from './lettering.ts';

// 14 CFR 45.29 (c), (d), (e): width 2/3, strokes 1/6 and spaces at least 1/4 of the width of a
// character; of 12 in high: 8, 2 and 2 in
const told = (what: string, measured_in: number, expected_in: number) => ({ dimension: `characters.${what.split(' ')[0]}`, what, measured_in, expected_in, verdict: Math.abs(measured_in - expected_in) < 0.05 ? 'conforms' : 'deviates' });

test('boxes begin where the characters do and are as wide as the rule wants', () => {
  const cells = [{ rune: 'K', cell: [0, 0, 9, 12] as [number, number, number, number] }, { rune: '4', cell: [11, 0, 19, 12] as [number, number, number, number] }];
  const all = gaugesOf(cells, [told('width of K', 9, 8), told('upright stroke of K', 2, 2), told('width of 4', 8, 8), told('gap between K and 4, at least', 2, 2)]);
  assert.deepEqual(all.filter(g => g.kind === 'width').map(g => [g.box[0], g.box[2], g.conforms]), [[0, 8, false], [11, 19, true]]);
  const stroke = (kind: string) => all.find(g => g.kind === kind)!;
  assert.equal(stroke('wanted').box[2] - stroke('wanted').box[0], 2);
  assert.ok(stroke('found').box[3] < stroke('wanted').box[1] && stroke('wanted').box[3] < 0, 'under the text, one below the other');
  assert.deepEqual(stroke('gap').box.filter((_, i) => i % 2 === 0), [9, 11]);
});
