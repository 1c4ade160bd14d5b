// The program, its page in a browser of this machine, and the page in one file.
import { chromium } from 'playwright-core';
import { spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

export const program = path.resolve(process.env.MASKLOFT || 'maskloft');
export const work = fs.mkdtempSync(path.join(os.tmpdir(), 'bench-page-'));
process.on('exit', () => fs.rmSync(work, { recursive: true, force: true }));

const flags = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];

export const start = () => chromium.launch({ executablePath: process.env.CHROMIUM || '/usr/bin/chromium', headless: true, args: flags });

/** A layout of its own in a new folder: the demo, or another example. */
export function layout(example = '') {
  const folder = fs.mkdtempSync(path.join(work, 'job-'));
  const text = spawnSync(program, example ? ['start', '--demo', example] : ['start'], { encoding: 'utf8', maxBuffer: 1 << 24 }).stdout;
  const file = path.join(folder, 'mine.yaml');
  fs.writeFileSync(file, text);
  return { folder, file, text };
}

/** Serves a layout; address() asks for a fresh address, stop() ends the program. */
export async function serve(file) {
  const child = spawn(program, ['bench', file], { stdio: ['pipe', 'pipe', 'inherit'] });
  let said = '';
  const wake = [];
  child.stdout.on('data', d => { said += d; wake.splice(0).forEach(f => f()); });
  const next = async n => {
    for (;;) {
      const all = said.match(/http:\/\/\S+(?=\n)/g) || [];
      if (all.length > n) return all[n];
      await new Promise(r => wake.push(r));
    }
  };
  const first = await next(0);
  let given = 0, asked = 1;
  return {
    origin: new URL(first).origin,
    address: async () => {
      if (!given++) return first;
      child.stdin.write('\n');
      return next(asked++);
    },
    /** Processor time of the program until now, ms; NaN where the system does not tell. */
    cpu: () => { try { const f = fs.readFileSync(`/proc/${child.pid}/stat`, 'utf8').replace(/^.*\) /, '').split(' '); return (Number(f[11]) + Number(f[12])) * 10; } catch { return NaN; } },
    stop: () => new Promise(r => { child.on('exit', r); child.kill('SIGTERM'); }),
  };
}

/** Whether the engine of the one-file page was built into the program. */
export const engine = () => {
  const file = path.join(work, 'probe.html');
  const r = spawnSync(program, ['bench', '--one-file', file], { encoding: 'utf8' });
  if (r.status !== 0) console.error(r.stderr.trim());
  return r.status === 0 ? file : '';
};

/** Writes the page of a layout in one file. */
export function oneFile(file) {
  const out = path.join(path.dirname(file), 'bench.html');
  const r = spawnSync(program, ['bench', '--one-file', out, file], { encoding: 'utf8' });
  if (r.status !== 0) throw new Error(r.stderr);
  return out;
}

/**
 * Opens a page. What it asks of a network beside `origin`, what the console calls an error
 * and what a script throws is kept in page.complaints; what it sends in page.sent.
 */
export async function open(browser, url, { origin = '', ready = true, ...context } = {}) {
  const tab = context.tab || await browser.newContext({ viewport: { width: 1440, height: 900 }, offline: !origin, ...context });
  const page = await tab.newPage();
  page.complaints = [];
  page.sent = [];
  page.on('console', m => { if (m.type() === 'error') page.complaints.push(`console: ${m.text()}`); });
  page.on('pageerror', e => page.complaints.push(`script: ${e.message}`));
  page.on('request', r => {
    page.sent.push(r.url() + ' ' + (r.postData() || ''));
    if (!/^(file|data|blob):/.test(r.url()) && (!origin || !r.url().startsWith(origin + '/'))) page.complaints.push(`asked of a network: ${r.url()}`);
  });
  await page.goto(url);
  if (ready) await page.waitForFunction(() => globalThis.maskloftSession, null, { timeout: 30000 });
  return page;
}

export const fileURL = file => pathToFileURL(file).href;

/** Asks through the page's session. */
export const ask = (page, word, fields = {}) => page.evaluate(([w, f]) => globalThis.maskloftSession.ask(w, f), [word, fields]);
