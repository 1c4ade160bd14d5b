// Bundles every *.test.ts of the page and runs it under node --test.
import { build } from 'esbuild';
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const source = fileURLToPath(new URL('../../export/bench/page', import.meta.url));
const only = process.argv.slice(2);
const tests = fs.readdirSync(source).filter(f => f.endsWith('.test.ts') && (!only.length || only.some(o => f.startsWith(o))));
const out = fs.mkdtempSync(path.join(os.tmpdir(), 'bench-modules-'));
await build({
  entryPoints: tests.map(f => path.join(source, f)), outdir: out, bundle: true, format: 'esm', platform: 'node',
  outExtension: { '.js': '.mjs' }, sourcemap: 'inline', logLevel: 'warning', absWorkingDir: source,
});
const run = spawnSync(process.execPath, ['--test', ...tests.map(f => path.join(out, f.replace(/\.ts$/, '.mjs')))], { stdio: 'inherit', env: { ...process.env, BENCH_PAGE: source } });
fs.rmSync(out, { recursive: true });
process.exit(run.status ?? 1);
