// Nothing that axe finds, in every job and theme and at three sizes; and work by keyboard alone.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { after, before, test } from 'node:test';
import { createRequire } from 'node:module';
import { holds, open, ready, serve, start, value } from './browser.js';

const axe = fs.readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
let browser, server;
before(async () => { browser = await start(); server = await serve(); });
after(async () => { await browser.close(); await server.end(); });

const violations = async page => {
  await page.evaluate(axe).catch(() => {});
  return page.evaluate(async () => (await window.axe.run(document, { resultTypes: ['violations'] })).violations.map(v => `${v.id}: ${v.nodes.map(n => n.target.join(' ')).slice(0, 3).join(', ')}`));
};

for (const [name, viewport] of [['desk', { width: 1440, height: 900 }], ['tablet', { width: 1024, height: 768 }], ['phone', { width: 390, height: 844 }]]) test(`axe on a ${name}`, async () => {
  const page = await open(browser, server, { viewport, bypassCSP: true });
  const found = [];
  for (const theme of name === 'desk' ? ['light', 'dark', 'sunlight'] : ['light']) {
    await page.evaluate(t => { document.documentElement.dataset.theme = t; }, theme);
    if (name === 'desk') await page.locator('.top .themepick select').selectOption(theme);
    for (const job of name === 'desk' && theme === 'light' ? ['layout', 'check', 'film', 'place', 'photograph', 'visit'] : ['layout', 'film', 'place']) {
      await page.locator('.jobpick select').evaluate((e, j) => { if (![...e.options].some(o => o.value === j)) e.add(new Option(j, j)); e.value = j; e.dispatchEvent(new Event('change')); }, job);
      await page.waitForTimeout(job === 'layout' ? 300 : 1000);
      for (const v of await violations(page)) found.push(`${theme} ${job}: ${v}`);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (wide > 0) found.push(`${theme} ${job}: ${wide} px too wide`);
    }
  }
  await page.locator('.jobpick select').evaluate(e => { e.value = 'layout'; e.dispatchEvent(new Event('change')); });
  if (name === 'desk') {
    await page.locator('.side .entry').nth(1).click();
    for (const v of await violations(page)) found.push(`selected: ${v}`);
    for (const [open, key] of [['#add', null], ['.help', null], ['.pack', null], ['.top .file', null]]) { await page.locator(open).click(); await page.waitForTimeout(500); for (const v of await violations(page)) found.push(`${open}: ${v}`); await page.keyboard.press('Escape'); }
  } else {
    for (const b of await page.locator('.cross button:visible, .viewbar button:visible, .top button:visible').all()) { const r = await b.boundingBox(); if (r.height < 47.5 || r.width < 40) found.push(`${await b.innerText()} is ${r.width} by ${r.height}`); }
  }
  assert.deepEqual(found, []);
  await page.context().close();
});

test('by keyboard alone: select, nudge, turn, duplicate, undo, delete, unit of the step', async () => {
  const page = await open(browser, server);
  await page.locator('.skips a').nth(2).focus();
  await page.keyboard.press('Enter');
  assert.equal(await page.evaluate(() => document.activeElement.id), 'drawing');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  assert.match(await page.evaluate(() => document.getElementById(document.activeElement.getAttribute('aria-activedescendant')).textContent), /^code, both sides, station 184, waterline 53 inches, size 12 inches/);
  await page.keyboard.press('ArrowUp');
  await holds(page, 'field-height', '53-1/16');
  // after a rest one polite sentence
  await page.waitForFunction(() => /waterline 53 and 1\/16 inches; .* to the inspection ring/.test(document.querySelector('[aria-live=polite]').textContent));
  await page.keyboard.press(']');
  await holds(page, 'field-angle', '1');
  await page.keyboard.press('Control+d');
  await page.waitForFunction(() => document.querySelectorAll('.side .entry').length === 5);
  await page.waitForFunction(() => /code-2/.test(document.querySelector('.fields h2').textContent));
  await page.keyboard.press('Delete');
  await page.waitForFunction(() => document.querySelectorAll('.side .entry').length === 4);
  for (let i = 0; i < 4; i++) await page.keyboard.press('Control+z');
  await page.keyboard.press('Tab'); await page.keyboard.press('Tab');
  await holds(page, 'field-height', '53');
  await page.keyboard.press('?');
  await page.locator('.keys').waitFor();
  await page.keyboard.press('Escape');
  await page.locator('#drawing').focus();
  await page.keyboard.press('3');
  await page.waitForFunction(() => document.querySelector('nav [aria-current]').innerText === '3 Check');
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test('on a phone one view at a time, nudged by the cross', async () => {
  const page = await open(browser, server, { viewport: { width: 390, height: 844 }, hasTouch: true });
  await page.locator('.cross .listkey').tap();
  await page.locator('.side .entry').nth(1).tap();
  await page.locator('.cross .to-up').tap();
  await page.waitForFunction(() => /53-1\/16/.test(document.querySelector('.cross .chosen').textContent));
  await page.locator('.cross .step').tap();
  await page.waitForTimeout(1000); // nudges within 0.8 s are one step to undo
  await page.locator('.cross .to-up').tap();
  await page.waitForFunction(() => /53-5\/16/.test(document.querySelector('.cross .chosen').textContent));
  await page.locator('.undo').tap();
  await page.locator('.undo').tap();
  await page.waitForFunction(() => /WL 53 /.test(document.querySelector('.cross .chosen').textContent));
  await page.getByRole('button', { name: 'Right side' }).tap();
  await page.locator('.pane1').waitFor();
  await page.locator('.pane0').waitFor({ state: 'hidden' });
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});
