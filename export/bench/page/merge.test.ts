import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { test } from 'node:test';
import { joined, lineDiff, merge } from './merge.ts';

const lines = (s: string) => s.split('\n');
const clashes = (parts: ReturnType<typeof merge>) => parts.filter(p => !('agreed' in p));

test('what one side left alone is the other side\'s', () => {
  const base = lines('a\nb\nc\nd\ne\nf');
  const parts = merge(base, lines('a\nB\nc\nd\ne\nf'), lines('a\nb\nc\nd\nE\ne2\nf'));
  assert.equal(joined(parts, []), 'a\nB\nc\nd\nE\ne2\nf');
});

test('the same change on both sides is one change', () => {
  assert.equal(joined(merge(lines('a\nb\nc'), lines('a\nX\nc'), lines('a\nX\nc')), []), 'a\nX\nc');
});

test('a line changed on both sides is asked', () => {
  const parts = merge(lines('a\nwl: 53\nc'), lines('a\nwl: 54\nc'), lines('a\nwl: 55\nc'));
  assert.equal(clashes(parts).length, 1);
  assert.equal(joined(parts, []), null);
  assert.equal(joined(parts, ['mine']), 'a\nwl: 54\nc');
  assert.equal(joined(parts, ['theirs']), 'a\nwl: 55\nc');
});

test('values of one line are merged where they differ', () => {
  const at = (fs: string, wl: string) => lines(`x\n    where: {surface: fuselage, fs: ${fs}, wl: ${wl}} # place\ny`);
  assert.equal(joined(merge(at('184', '53'), at('190 in', '53'), at('184', '53-1/8 in')), []), at('190 in', '53-1/8 in').join('\n'));
  assert.equal(clashes(merge(at('184', '53'), at('190', '53'), at('191', '54'))).length, 1);
});

test('a marking that one deleted and the other changed is asked', () => {
  const parts = merge(lines('a\nb\nc'), lines('a\nc'), lines('a\nB\nc'));
  assert.deepEqual(clashes(parts), [{ mine: [], theirs: ['B'], base: ['b'], line: 2 }]);
});

// git merge-file decides the same of lines that are all different: where it merges without a
// conflict, the text is the same; where it finds one, so do we
test('300 pairs of random changes against git merge-file', t => {
  if (spawnSync('git', ['--version']).status !== 0) return t.skip('no git here');
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'merge-'));
  let state = 20261130;
  const random = (n: number) => { state = (Math.imul(state, 1103515245) + 12345) >>> 0; return (state >>> 8) % n; };
  let clean = 0, asked = 0;
  for (let trial = 0; trial < 300; trial++) {
    const base = Array.from({ length: 5 + random(20) }, (_, i) => `line ${i}`);
    const changed = (who: string) => {
      const out = [...base];
      for (let k = 1 + random(3); k > 0; k--) {
        const at = random(out.length), what = random(3);
        if (what === 0) out[at] = `${who} ${trial} ${k}`; else if (what === 1) out.splice(at, 0, `${who} new ${trial} ${k}`); else out.splice(at, 1);
      }
      return out;
    };
    const mine = changed('mine'), theirs = changed('theirs'), write = (name: string, text: string[]) => fs.writeFileSync(path.join(folder, name), text.join('\n') + '\n');
    write('base', base); write('mine', mine); write('theirs', theirs);
    const git = spawnSync('git', ['merge-file', '-p', 'mine', 'base', 'theirs'], { cwd: folder, encoding: 'utf8' });
    const parts = merge(base, mine, theirs, false), text = joined(parts, []);
    if (git.status === 0) { clean++; assert.equal(text === null ? null : text + '\n', git.stdout, `trial ${trial}`); }
    else { asked++; assert.equal(text, null, `trial ${trial}: git asks`); }
  }
  fs.rmSync(folder, { recursive: true });
  assert.ok(clean > 50 && asked > 50, `${clean} merged, ${asked} asked`);
});

test('the lines of a difference give both texts back', () => {
  const old = lines('a\nb\nc\nd'), now = lines('a\nX\nc\ne\nd\nf'), d = lineDiff(old, now);
  assert.deepEqual(d.filter(r => r.sign !== '+').map(r => r.text), old);
  assert.deepEqual(d.filter(r => r.sign !== '-').map(r => r.text), now);
  assert.deepEqual(d.filter(r => r.sign === '+').map(r => r.line), [2, 4, 6]);
});
