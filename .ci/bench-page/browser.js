// The program serving a copy of the demo, and a browser with its page.
import { chromium } from 'playwright-core';
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

export const program = path.resolve(process.env.MASKLOFT || '../../maskloft');
const examples = fileURLToPath(new URL('../../layouts/reading/demo', import.meta.url));

export const start = () => chromium.launch({ executablePath: process.env.CHROMIUM || '/usr/bin/chromium', headless: true, args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'] });

/** A folder with the examples, and the program serving one of them; with null an empty folder and no layout. */
export async function serve(layout = 'demo.yaml', folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bench-page-'))) {
  for (const f of layout ? fs.readdirSync(examples) : []) if (!fs.existsSync(path.join(folder, f))) fs.copyFileSync(path.join(examples, f), path.join(folder, f));
  const child = spawn(program, ['bench', ...(layout ? [layout] : [])], { cwd: folder });
  const addresses = [];
  let waiting = null;
  const found = /http:\/\/\S+/g;
  const read = data => { for (const m of String(data).matchAll(found)) { addresses.push(m[0]); waiting?.(); } };
  child.stdout.on('data', read);
  child.stderr.on('data', read);
  const address = async () => {
    const n = addresses.length;
    if (n) child.stdin.write('\n');
    while (addresses.length <= n) await new Promise(done => { waiting = done; });
    return addresses[addresses.length - 1];
  };
  return { folder, file: path.join(folder, layout ?? 'mine.yaml'), address, text: () => fs.readFileSync(path.join(folder, layout ?? 'mine.yaml'), 'utf8'), end: () => new Promise(done => { child.once('exit', () => { fs.rmSync(folder, { recursive: true, force: true }); done(); }); child.kill(); }) };
}

/** Opens the page. Requests beyond this machine and complaints of scripts are kept in page.complaints. */
export async function open(browser, server, { waits = true, ...options } = {}) {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, acceptDownloads: true, ...options });
  const page = await context.newPage();
  page.complaints = [];
  page.on('console', m => { if (m.type() === 'error' || m.type() === 'warning') page.complaints.push(`${m.type()}: ${m.text()}`); });
  page.on('pageerror', e => page.complaints.push(`script: ${e.message}`));
  page.on('request', r => { if (!/^(http:\/\/(127\.0\.0\.1|\[::1\]):|data:|blob:)/.test(r.url())) page.complaints.push(`asked of a network: ${r.url()}`); });
  await page.goto(await server.address());
  if (waits) await ready(page);
  return page;
}

/** The markings stand on the drawing. */
export const ready = page => page.waitForFunction(() => document.querySelector('[data-placed="code-left"] path'), null, { timeout: 60_000 });

/** The middle of a marking on a side, in pixels of the page. */
export const middle = (page, placed) => page.evaluate(id => {
  const all = [...document.querySelectorAll(`[data-placed="${id}"] path`)].map(e => e.getBoundingClientRect());
  const x0 = Math.min(...all.map(r => r.left)), x1 = Math.max(...all.map(r => r.right)), y0 = Math.min(...all.map(r => r.top)), y1 = Math.max(...all.map(r => r.bottom));
  return { x: (x0 + x1) / 2, y: (y0 + y1) / 2, width: x1 - x0, height: y1 - y0 };
}, placed);

/** Pixels to the inch of the drawing. */
export const scale = page => page.evaluate(() => Math.abs(document.querySelector('.pane0 .marks g').transform.baseVal.getItem(0).matrix.a));

/** What a field holds. */
export const value = (page, id) => page.locator(`#${id}`).inputValue();

/** The text as the editor shows it. */
export const shown = page => page.evaluate(() => document.querySelector('.editor').shadowRoot.querySelector('.cm-content').innerText);

/** Waits until a field holds a value. */
export const holds = (page, id, want) => page.waitForFunction(([id, want]) => document.getElementById(id)?.value === want, [id, want], { timeout: 120_000 });

/** Saves, and returns the file once it holds what it should; a file that never does fails the test's own look at it. */
export async function saved(page, server, wanted) {
  await page.keyboard.press('Control+s');
  for (let i = 0; i < 300 && !wanted.test(server.text()); i++) await page.waitForTimeout(100);
  return server.text();
}
