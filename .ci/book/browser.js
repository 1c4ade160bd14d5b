// A browser on the machine, with the network off: what each check opens the book in.
import { chromium } from 'playwright-core';
import fs from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

/** The folder of the pack that is looked at, and what its report says. */
export const pack = path.resolve(process.env.MASKLOFT_PACK || 'maskloft-pack');
export const report = JSON.parse(fs.readFileSync(path.join(pack, 'report.json'), 'utf8'));

const quiet = ['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];
const flat = ['--disable-gpu'];
// WebGL computed by software, so that a machine without a graphics card draws too
const solid = ['--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'];

/** Starts the browser; with {solid: true} it can draw in three dimensions. */
export function start(options = {}) {
  return chromium.launch({
    executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
    headless: true,
    args: [...quiet, ...(options.solid ? solid : flat)],
  });
}

/**
 * Opens a book from its folder. Anything asked of a network, any error on the console
 * and any error in a script is kept in page.complaints.
 */
export async function open(browser, options = {}) {
  const { file = path.join(pack, 'index.html'), hash = '', ...context } = options;
  const tab = await browser.newContext({ viewport: { width: 1280, height: 900 }, offline: true, ...context });
  const page = await tab.newPage();
  page.complaints = [];
  page.on('console', m => { if (m.type() === 'error' || m.type() === 'warning') page.complaints.push(`${m.type()}: ${m.text()}`); });
  page.on('pageerror', e => page.complaints.push(`script: ${e.message}`));
  page.on('request', r => { if (!/^(file|data|blob):/.test(r.url())) page.complaints.push(`asked of a network: ${r.url()}`); });
  await page.goto(pathToFileURL(file).href + hash);
  return page;
}

/** Opens every part that folds, so that all text can be seen. */
export const unfold = page => page.evaluate(() => document.querySelectorAll('details').forEach(d => { d.open = true; }));
