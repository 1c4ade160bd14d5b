// Ticks saved, sent and merged on a second profile; taken back with one touch; and the page
// says where nothing can be kept. Which ticks last is asked of every browser: every.test.js.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { open, pack, start } from './browser.js';

let browser, folder;
before(async () => {
  browser = await start();
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'book-'));
});
after(async () => { await browser.close(); fs.rmSync(folder, { recursive: true }); });

const show = async (context, file) => {
  const page = await context.newPage();
  page.on('pageerror', e => assert.fail(e.message));
  await page.goto('file://' + file);
  return page;
};
const ticked = page => page.locator('[data-key]').evaluateAll(all => all.filter(b => b.checked).map(b => b.dataset.what));

test('saved, opened on a second profile, and a text of it merged back', async () => {
  const file = path.join(pack, 'index.html'), one = await browser.newContext({ acceptDownloads: true }), two = await browser.newContext();
  const a = await show(one, file), b = await show(two, file);
  await a.locator('#who').fill('Ann');
  await a.locator('#who').blur();
  await a.locator('[data-key]').nth(0).evaluate(x => x.click());
  await b.locator('[data-key]').nth(1).evaluate(x => x.click());
  const [download] = await Promise.all([a.waitForEvent('download'), a.locator('#state-save').click()]);
  assert.equal(download.suggestedFilename(), 'job-state.json');
  const saved = path.join(folder, 'job-state.json');
  await download.saveAs(saved);
  assert.equal(Object.values(JSON.parse(fs.readFileSync(saved)).ticks)[0].by, 'Ann');
  await b.locator('#state-open').setInputFiles(saved);
  await b.waitForFunction(() => /1 new/.test(document.querySelector('#state-says').textContent));
  assert.equal((await ticked(b)).length, 2);
  await b.locator('#state-copy').click();
  const sent = await b.locator('#state-text').inputValue();
  assert.match(sent, /^maskloft1 /);
  await a.locator('#state-merge').click();
  await a.locator('#state-text').fill(sent);
  await a.locator('#state-merge').click();
  assert.equal((await ticked(a)).length, 2);
  assert.deepEqual(await ticked(a), await ticked(b));
  await a.locator('#state-text').fill(sent.slice(0, -12));
  await a.locator('#state-merge').click();
  assert.match(await a.locator('#state-says').textContent(), /missing|no text/);
  await one.close(); await two.close();
});

test('a tick is taken back with one touch, and two windows agree', async () => {
  const page = await open(browser), context = page.context();
  await page.locator('[data-key]').first().evaluate(x => x.click());
  assert.equal((await ticked(page)).length, 1);
  const second = await context.newPage();
  await second.goto(page.url());
  assert.equal((await ticked(second)).length, 1);
  await page.locator('.toast button').click();
  assert.equal((await ticked(page)).length, 0);
  await second.waitForFunction(() => !document.querySelector('[data-key]').checked);
  assert.deepEqual(page.complaints, []);
  await context.close();
});

test('where the browser keeps nothing the page says so, and works until it is closed', async () => {
  const page = await open(browser);
  await page.addInitScript(() => Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } }));
  await page.reload();
  assert.match(await page.locator('#kept').textContent(), /Ticks last until this page closes/);
  await page.locator('[data-key]').first().evaluate(x => x.click());
  assert.equal((await ticked(page)).length, 1);
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});
