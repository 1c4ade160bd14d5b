// Books of the demo that differ in one thing each, built once for all checks of a file.
import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { after } from 'node:test';

const program = process.env.MASKLOFT;
let built = null;
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'book-'));
after(() => fs.rmSync(folder, { recursive: true, force: true }));

/** Builds a layout and returns its book. */
export function book(layout, name) {
  const file = path.join(folder, name + '.yaml'), out = path.join(folder, name);
  fs.writeFileSync(file, layout);
  const run = spawnSync(program, ['build', file, '-o', out], { encoding: 'utf8' });
  if (run.status !== 0 && run.status !== 1) throw new Error(run.stderr);
  return path.join(out, 'index.html');
}

/** The demo, the same again, one of another job, another size and another web. */
export function books() {
  if (built) return built;
  const text = execFileSync(program, ['start'], { encoding: 'utf8' });
  const changed = (from, to) => { const out = text.replace(from, to); if (out === text) throw new Error(`${from} is not in the demo`); return out; };
  return built = {
    first: book(text, 'first'), again: book(text, 'again'), other: book(changed(/^job: \S+/m, 'job: another-one'), 'other'),
    resized: book(changed(/size: 20 in/, 'size: 19 in'), 'resized'), narrow: book(changed(/web: 24 in/, 'web: 15 in'), 'narrow'),
  };
}
