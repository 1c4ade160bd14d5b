// The same book in Firefox, driven over WebDriver BiDi: it opens from a folder under its
// policy without complaint, is placed by touch, keeps ticks, sends them as a text, draws
// in three dimensions. Playwright does not drive the distribution's own Firefox.
import assert from 'node:assert/strict';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import { after, before, test } from 'node:test';
import puppeteer from 'puppeteer-core';
import { pack, report } from './browser.js';

const executablePath = process.env.FIREFOX || '/usr/bin/firefox-esr', there = fs.existsSync(executablePath);
let browser;
before(async () => {
  if (there) browser = await puppeteer.launch({ browser: 'firefox', executablePath, headless: true, args: ['--no-remote'], extraPrefsFirefox: { 'webgl.force-enabled': true, 'network.captive-portal-service.enabled': false, 'network.connectivity-service.enabled': false, 'app.update.enabled': false, 'datareporting.policy.dataSubmissionEnabled': false, 'browser.safebrowsing.update.enabled': false } });
});
after(() => browser?.close());

async function book(width = 390, height = 844) {
  const page = await browser.newPage();
  page.complaints = [];
  page.on('console', m => { if (m.type() === 'error') page.complaints.push(m.text()); });
  page.on('pageerror', e => page.complaints.push(e.message));
  page.on('request', r => { if (!/^(file|data|blob):/.test(r.url())) page.complaints.push(`asked of a network: ${r.url()}`); });
  await page.setViewport({ width, height });
  await page.goto(pathToFileURL(path.join(pack, 'index.html')).href);
  return page;
}
const click = (page, what) => page.$eval(what, e => e.click());

test('Firefox: opens, ticks last, placing shows the first tape at one touch', { skip: !there }, async () => {
  const page = await book();
  const first = await page.$eval('[data-key]', e => { e.click(); return e.dataset.what; });
  assert.match(first, /^cut /);
  await page.reload();
  assert.equal(await page.$eval('[data-key]', e => e.checked), true);
  const text = await page.evaluate(() => { document.querySelector('#state-copy').click(); return document.querySelector('#state-text').value; });
  assert.match(text, /^maskloft1 /);
  await click(page, '#place-start');
  const say = await page.$eval('.pl-say b', e => [parseFloat(getComputedStyle(e).fontSize), e.getBoundingClientRect().right]);
  assert.ok(say[0] >= 48 && say[1] <= 390, String(say));
  assert.ok(await page.$eval('.pl-picture svg', e => e.querySelectorAll('polyline').length) >= 2);
  const box = await page.$eval('#placing', e => e.scrollWidth);
  assert.ok(box <= 390, `${box}`);
  await click(page, '.pl-done');
  assert.match(await page.$eval('.pl-head p', e => e.textContent), /^point 2 of/);
  await click(page, '.pl-close');
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth) <= 390);
  assert.deepEqual(page.complaints, []);
  await page.close();
});

test('Firefox: search, cards and three dimensions', { skip: !there }, async t => {
  const page = await book(1280, 900), id = report.markings.at(-1).id;
  await page.evaluate(id => { const s = document.querySelector('#search'); s.focus(); s.value = id; s.dispatchEvent(new Event('input')); }, id);
  assert.ok((await page.$$('#hits li')).length > 0);
  await page.keyboard.press('Enter');
  assert.ok(await page.$eval('#m-' + id, d => d.open));
  await click(page, '#three-start');
  await page.waitForFunction(() => document.querySelector('#three-view').dataset.drawn || /cannot draw|too old/.test(document.querySelector('#three').textContent), { timeout: 60000 });
  const drawn = await page.$eval('#three-view', c => Boolean(c.dataset.drawn));
  t.diagnostic(drawn ? 'drawn by WebGL' : await page.$eval('#three-says', e => e.textContent));
  assert.deepEqual(page.complaints.filter(c => !/WebGL/.test(c)), []);
  await page.close();
});

test('Firefox: no fault that axe finds', { skip: !there }, async () => {
  const page = await book(390, 844), axe = fs.readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  await page.evaluate(() => document.querySelectorAll('details').forEach(d => { d.open = true; }));
  await page.evaluate(axe);
  const found = await page.evaluate(async () => (await window.axe.run(document, { resultTypes: ['violations'] })).violations.map(v => `${v.id}: ${v.nodes[0].target}`));
  assert.deepEqual(found, []);
  await page.close();
});
