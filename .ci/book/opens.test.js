// The book opens from a folder, asks nothing of a network and complains of nothing.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { open, pack, report, start, unfold } from './browser.js';

let browser;
before(async () => { browser = await start({ solid: true }); });
after(() => browser.close());

test('opened, unfolded, turned in three dimensions: no complaint, no network', async () => {
  const page = await open(browser);
  await unfold(page);
  await page.locator('#three-start').click();
  await page.waitForFunction(() => document.querySelector('#three-view').dataset.drawn);
  assert.deepEqual(page.complaints, []);
});

test('every file that the book links to is in the pack, and every place in the book is', async () => {
  const page = await open(browser);
  const links = await page.evaluate(() => [...document.querySelectorAll('a[href]')].map(a => a.getAttribute('href')));
  const places = await page.evaluate(() => [...document.querySelectorAll('[id]')].map(e => e.id));
  assert.ok(links.length > report.markings.length);
  for (const h of new Set(links.map(decodeURIComponent))) {
    if (h.startsWith('#')) assert.ok(places.includes(h.slice(1)), h);
    else assert.ok(fs.existsSync(path.join(pack, h)), h);
  }
});
