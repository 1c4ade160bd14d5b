// The book opens from a folder, asks nothing of a network and complains of nothing.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { open, start, unfold } from './browser.js';

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
  const dead = await page.evaluate(() => [...document.querySelectorAll('a[href^="#"]')].map(a => a.getAttribute('href')).filter(h => !document.getElementById(decodeURIComponent(h.slice(1)))));
  assert.deepEqual(dead, []);
});
