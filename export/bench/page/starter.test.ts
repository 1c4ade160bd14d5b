import assert from 'node:assert/strict';
import { test } from 'node:test';
import { press } from './place.ts';
import { blank, columnsOf, layoutText, outlineOf, sectionsOf } from './starter.ts';

test('a round body of three sections, by station', () => {
  const t = blank('round', 'in');
  t.name = 'Test "1"';
  t.sections = [['100', '12', '0'], ['0', '10', '0'], ['', '', '']];
  const made = layoutText(t);
  assert.ok('text' in made);
  assert.match(made.text, /fs: 0 in, radius: 10 in[\s\S]*fs: 100 in, radius: 12 in/);
  assert.match(made.text, /name: "Test \\"1\\""/);
  // a circle: every point of its outline is one radius from the middle
  for (const [b, h] of outlineOf(t, [0, 10, 3])) assert.ok(Math.abs(Math.hypot(b, h - 3) - 10) < 1e-9);
});

test('what cannot be read is told by section and column', () => {
  const t = blank('stringers', 'mm');
  t.sections[0] = columnsOf(t).map((_, i) => i === 2 ? '20-1/2/3' : '100');
  assert.match(sectionsOf(t).why[0], /section 1, t height/);
  assert.ok('why' in layoutText(t));
});

test('the keypad makes inches and sixteenths', () => {
  assert.equal(['2', '0', '9/16'].reduce(press, ''), '20-9/16');
  assert.equal(['2', '0', '9/16', '1/8'].reduce(press, ''), '20-1/8');
  assert.equal(['2', '0', '9/16', '⌫'].reduce(press, ''), '20');
});
