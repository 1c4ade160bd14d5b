import assert from 'node:assert/strict';
import { test } from 'node:test';
import { duplicate, moveBy, moveTo, newId, part, quoted, sizeTo, distributed } from './changes.ts';
import type { Marking } from './protocol.ts';

const code = {
  id: 'code', path: 'markings[code]', line: 1, kind: 'text', text: 'K4', alphabet: 'block-6x4', height: 12, surfaces: ['fuselage'], side: 'both', true: 'skin',
  hold: 'centre', align: 'waterline', angle: 0, baseline: 'straight', held: 'wl', fs: 184, wl: 53, bl: 0, evidence: [], placed: [{}],
} as unknown as Marking;

test('a move writes only what moved, with its unit', () => {
  assert.deepEqual(moveBy(code, 0, 1 / 8, 'in'), [{ path: 'markings[code].where.wl', value: '53-1/8 in' }]);
  assert.deepEqual(moveTo(code, 185, 53, 'mm'), [{ path: 'markings[code].where.fs', value: '4699 mm' }]);
  assert.deepEqual(moveTo(code, 184, 53, 'in'), []);
});

test('a height by girth goes along the skin, downwards', () => {
  const girth = { ...code, held: 'girth', from: 'S3', down: 4 } as Marking;
  assert.deepEqual(moveBy(girth, 0, 1, 'in'), [{ path: 'markings[code].where.from.down', value: '3 in' }]);
  assert.deepEqual(moveBy({ ...girth, held: 'between' } as Marking, 1, 1, 'in'), [{ path: 'markings[code].where.fs', value: '185 in' }]);
});

test('ids, copies and sides', () => {
  assert.equal(newId('code', ['code', 'code-2']), 'code-3');
  assert.equal(newId('Ein Stück!', []), 'ein-st-ck');
  assert.deepEqual(duplicate(code, ['code'], 'in').changes[1], { path: 'markings[code-2].where.fs', value: '186 in' });
  assert.equal(part(code, ['code']).changes.length, 3);
  assert.equal(sizeTo(code, 12.5, 'in')[0] && 'value' in sizeTo(code, 12.5, 'in')[0], true);
  assert.equal(quoted('0417'), '"0417"');
  assert.equal(quoted('yes'), '"yes"');
  assert.equal(quoted('Old No'), 'Old No');
});

test('spread between the outermost two: equal steps, equal gaps', () => {
  const at = (at: number, w: number) => ({ at, before: w / 2, past: w / 2 });
  assert.deepEqual(distributed([at(0, 2), at(40, 2), at(3, 2), at(9, 2)], 'steps'), [0, 40, 40 / 3, 80 / 3]);
  const places = [at(0, 4), at(5, 10), at(50, 2)], [a, b, c] = distributed(places, 'gaps');
  assert.deepEqual([a, c], [0, 50], 'the outermost stay');
  assert.ok(Math.abs((b - 5) - 2 - (49 - (b + 5))) < 1e-12, 'as much before as behind');
  assert.deepEqual(distributed([at(1, 1), at(2, 1)], 'steps'), [1, 2]);
});
