import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { test } from 'node:test';

// Plain modules know no page: they import each other alone, and nothing of the document.
const plain = ['text', 'length', 'vec', 'skin', 'walk', 'outline', 'clear', 'snap', 'project', 'camera', 'starter', 'changes', 'lines', 'merge', 'edgeshape', 'edge', 'edgepair'];
// types alone may come from anywhere
const values = /^import (?!type)[^;]*?from ['"]\.\/([\w-]+?)(?:\.ts)?['"]/gm;

test('imports go down only', () => {
  const here = process.env.BENCH_PAGE ?? path.resolve('.');
  for (const name of plain) {
    const source = fs.readFileSync(path.join(here, `${name}.ts`), 'utf8');
    for (const m of source.matchAll(values)) assert.ok(plain.includes(m[1]), `${name}.ts imports ${m[1]}.ts`);
    assert.doesNotMatch(source, /\bdocument\.|\bwindow\./, `${name}.ts knows the page`);
  }
});

test('a file holds one idea: at most 400 lines', () => {
  const here = process.env.BENCH_PAGE ?? path.resolve('.');
  for (const f of fs.readdirSync(here).filter(f => f.endsWith('.ts') && f !== 'protocol.ts')) assert.ok(fs.readFileSync(path.join(here, f), 'utf8').split('\n').length <= 400, f);
});
