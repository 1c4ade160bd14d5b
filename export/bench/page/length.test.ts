import assert from 'node:assert/strict';
import { test } from 'node:test';
import { near, read, show, spoken, written } from './length.ts';

const inches = (text: string, now?: number) => {
  const r = read(text, 'in', now);
  assert.ok(r.ok, text);
  return r.inches;
};

test('lengths as they are typed', () => {
  // 520.7 mm is 20.5 in: 25.4 mm to the inch
  for (const [text, want] of [
    ['20-1/2 in', 20.5], ['20 1/2', 20.5], ['520.7 mm', 20.5], ['1 ft 8 1/2', 20.5], ["1' 8-1/2\"", 20.5], ['184 + 3/8', 184.375],
    ['184 - 3/8', 183.625], ['1/8', 0.125], ['5 ft 3 1/4 in', 63.25], ['.5', 0.5], ['-12', -12], ['2 cm', 20 / 25.4], ['10 in + 254 mm', 20],
  ] as [string, number][]) assert.ok(Math.abs(inches(text) - want) < 1e-12, `${text}: ${inches(text)}`);
});

test('a sign in front is a step from the value that the field holds', () => {
  assert.equal(inches('+1/8', 53), 53.125);
  assert.equal(inches('-1/8', 53), -0.125);
  assert.equal(inches('+1/8'), 0.125);
});

test('a bare number is in the unit of the page', () => {
  const r = read('254', 'mm');
  assert.ok(r.ok && Math.abs(r.inches - 10) < 1e-12);
});

test('what is no length is refused in words', () => {
  for (const text of ['', '20-1/2/3', 'abc', '3 parsec', '1/0', '8 in 1 ft', '20 30', '1 +', '12 in in', '--4'])
    assert.equal(read(text, 'in').ok, false, text);
  const r = read('20-1/2/3', 'in');
  assert.match(r.ok ? '' : r.why, /20-1\/2\/3.*write/);
});

test('shown as a rule is read', () => {
  assert.equal(show(53.125, 'in'), '53-1/8');
  assert.equal(show(-0.5, 'in'), '-1/2');
  assert.equal(show(0, 'in'), '0');
  assert.equal(show(227.521, 'in'), '227.521');
  assert.equal(near(31.0630, 'in'), '31-1/16');
  assert.equal(written(20.5, 'mm'), '520.7 mm');
  assert.equal(spoken(53.125, 'in'), '53 and 1/8 inches');
});

test('what is shown is read back', () => {
  for (let i = -200; i < 200; i++) {
    const x = i * 0.37;
    assert.ok(Math.abs(inches(show(x, 'in')) - x) < 0.0006);
  }
});
