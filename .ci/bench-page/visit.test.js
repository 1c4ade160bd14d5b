// A stranger's first visit: no layout, an aircraft typed, a marking by the rules, a drawing, a file, a pack.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { after, afterEach, before, beforeEach, test } from 'node:test';
import { open, program, serve, start } from './browser.js';

let browser, server, page;
before(async () => { browser = await start(); });
after(() => browser.close());
beforeEach(async () => { server = await serve(null); page = await open(browser, server, { waits: false }); await page.locator('.kinds').waitFor(); });
afterEach(async () => { await page.context().close(); await server.end(); });
const saved = () => page.waitForFunction(() => /^saved/.test(document.querySelector('.top .file span').textContent), null, { timeout: 60_000 });

async function typed() {
  await page.getByRole('button', { name: /^Stringers/ }).click();
  await page.locator('#visit-name').fill('Heron 2');
  const rows = ['60 0 70 15 66 15 40 0 34', '140 0 66 9 63 9 45 0 41', '220 0 62 3 60 3 50 0 48'].map(r => r.split(' '));
  for (let r = 0; r < 3; r++) for (let c = 0; c < 9; c++) await page.locator(`#cell-${r}-${c}`).fill(rows[r][c]);
  await page.locator('#visit-nation').fill('uk');
  await page.locator('#visit-date').fill('1938');
  await page.locator('#visit-make').click();
  await page.waitForFunction(() => document.querySelector('[data-placed="code-left"] path'), null, { timeout: 60_000 });
}

test('from nothing to a file, a marking by its rule in its own colours, and the pack', async () => {
  assert.ok(!fs.existsSync(server.file));
  await typed();
  await page.locator('#add').click();
  await page.locator('#add-place').fill('fuselage');
  await page.locator('#add-place').press('Enter');
  await page.locator('#add-size').fill('16'); // within the flat side
  await page.locator('.pictures button:not([disabled])', { hasText: 'type A, red, white and blue' }).click({ timeout: 60_000 });
  await page.locator('[data-placed="insignia-left"] path').first().waitFor({ state: 'attached', timeout: 60_000 });
  await page.keyboard.press('Control+s');
  await saved();
  const text = server.text();
  // no paint of the layout is blue or red: the roundel brings them, once each, and they are sprayed
  for (const paint of ['roundel-blue', 'roundel-red']) {
    assert.equal(text.split(`\n    ${paint}: {name: ${paint.replace('-', ' ')}, hex: "#`).length, 2, text);
    assert.match(text, new RegExp(`\n  order: \\[.*${paint}`));
  }
  // it clears what stands there, and the engine finds nothing to stop for
  const found = JSON.parse((() => { try { return execFileSync(program, ['check', '--json', server.file], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] }); } catch (e) { return e.stdout; } })());
  assert.deepEqual((found.findings ?? []).filter(f => f.level === 'stop'), []);
  await page.locator('.top .pack').click();
  await page.getByRole('button', { name: 'Into the folder' }).click();
  await page.locator('#manifest').waitFor({ timeout: 120_000 });
  assert.ok(fs.existsSync(path.join(server.folder, 'mine-pack', 'report.json')));
  assert.deepEqual(page.complaints, []);
});

test('a file that another program made meanwhile is not written over', async () => {
  await typed();
  fs.writeFileSync(server.file, 'name: mine own\n');
  await page.keyboard.press('Control+s');
  await page.waitForFunction(() => /there already/.test(document.querySelector('.status').textContent));
  assert.equal(server.text(), 'name: mine own\n');
});

test('an example to look at stands at a touch, and undo leads back to nothing', async () => {
  await page.getByRole('button', { name: /^Kittock/ }).click();
  await page.waitForFunction(() => document.querySelector('[data-placed="code-left"] path'), null, { timeout: 60_000 });
  assert.equal(await page.locator('.side .entry').count(), 4);
  await page.locator('.undo').click();
  await page.waitForFunction(() => globalThis.maskloftSession.text.toString() === '');
});
