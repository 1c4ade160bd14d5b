// Ticks and readings as plain values: merging is the same either way round, loses nothing
// and keeps the later; the short text brings the same to another device.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { module } from './modules.js';

const s = await module('state.mjs'), { fraction, show, off } = await module('lengths.mjs');

test('merging is the same either way round and whatever the order', () => {
  let seed = 7;
  const random = n => { seed = (seed * 1103515245 + 12345) % 2147483648; return seed % n; };
  for (let k = 0; k < 200; k++) {
    const draw = () => {
      let t = s.empty('j', 't');
      for (let i = 0; i < 6; i++) t = s.ticked(t, `cut ${random(8)}a`, random(2) === 0, ['Ann', 'Ben'][random(2)], 'x', 100 + random(3));
      for (let i = 0; i < 3; i++) t = s.read(t, `${random(4)}b`, { value: random(5) ? 1 + random(9) : null, unit: 'in' }, 'Ann', 100 + random(3));
      return t;
    };
    const a = draw(), b = draw(), c = draw(), ab = s.merge(a, b);
    assert.equal(s.file(ab), s.file(s.merge(b, a)));
    assert.equal(s.file(s.merge(ab, c)), s.file(s.merge(a, s.merge(b, c))));
    assert.equal(s.file(s.merge(ab, ab)), s.file(ab));
    assert.deepEqual(Object.keys(ab.ticks).sort(), [...new Set([...Object.keys(a.ticks), ...Object.keys(b.ticks)])].sort());
  }
});

test('the later of two wins; one that takes back wins over an older tick', () => {
  const a = s.ticked(s.empty('j', 't'), 'cut 1a', true, 'Ann', 'film 1', 100);
  const b = s.ticked(a, 'cut 1a', false, 'Ben', 'film 1', 100); // at the same second: one later than it was
  assert.equal(s.isOn(s.merge(a, b), 'cut 1a'), false);
  assert.equal(s.merge(a, b).ticks['cut 1a'].by, 'Ben');
});

test('the short text brings ticks and readings over, broken into lines as messages are', () => {
  let a = s.ticked(s.empty('k7f3-9q2m', 'A job'), 'cut 3f9c12ab10', true, 'Ann; B', 'insignia', 1764450000);
  a = s.ticked(a, 'spray 00ff00ff00', false, '', 'x', 1764450100);
  a = s.read(a, '1b00c41d22', { value: 18.3125, unit: 'in', point: 'p', from: 'P4' }, 'Ben', 1764450200);
  a = s.read(a, '2b00c41d22', { value: null, unit: 'mm' }, 'Ben', 1764450300);
  const text = s.pack(a), got = s.unpack(text.replaceAll('; ', ';\n '), 'k7f3-9q2m');
  assert.equal(got.ticks['cut 3f9c12ab10'].on, true);
  assert.equal(got.ticks['cut 3f9c12ab10'].by, 'Ann B');
  assert.equal(got.readings['1b00c41d22'].value, 18.3125);
  const merged = s.merge(a, got);
  assert.equal(merged.readings['1b00c41d22'].point, 'p', 'what the text leaves out stays');
  assert.equal(merged.ticks['cut 3f9c12ab10'].what, 'insignia');
  assert.equal(s.news(a, got), 0);
  assert.throws(() => s.unpack(text.slice(0, -9), 'k7f3-9q2m'), /missing/);
  assert.throws(() => s.unpack(text, 'other'), /another job/);
  assert.throws(() => s.unpack('hello', 'other'), /no text of a job book/);
});

test('of a file only what belongs is taken', () => {
  assert.throws(() => s.checked([]), /no job-state/);
  assert.throws(() => s.checked({ format: s.format, version: 2 }), /version 2/);
  const got = s.checked({ format: s.format, version: 1, job: 7, ticks: { '<b>': { on: true }, 'cut 1a': { on: 'yes', at: -3, by: 'x'.repeat(99), evil: 1 } }, readings: { '1a': { value: 'NaN' } } });
  assert.deepEqual(got.ticks, { 'cut 1a': { on: false, at: 0, by: 'x'.repeat(60), what: '' } });
  assert.equal(got.readings['1a'].value, null);
});

test('lengths read as a tape does', () => {
  assert.equal(fraction(18.3125), '18-5/16');
  assert.equal(fraction(0.5), '1/2');
  assert.equal(fraction(-0.01), '0');
  assert.equal(fraction(2.97), '3');
  assert.equal(show(10, 'mm'), '254 mm');
  assert.equal(off(0.01, 'in'), '');
  assert.equal(off(-0.0625, 'in'), '1/16 in');
});
