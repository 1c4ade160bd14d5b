// The book is worked from the keyboard: every part is reached, markings are opened from
// the drawing, steps are ticked and stay ticked, search finds.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { open, report, start } from './browser.js';

let browser;
before(async () => { browser = await start(); });
after(() => browser.close());

const focused = page => page.evaluate(() => {
  const e = document.activeElement;
  return { tag: e.tagName.toLowerCase(), href: e.getAttribute('href'), id: e.id, tick: e.dataset.tick, tool: e.dataset.do, drawing: Boolean(e.closest('svg')), part: e.closest('section')?.id, text: e.textContent.trim().slice(0, 40) };
});

test('tab reaches every part; enter opens each', async () => {
  const page = await open(browser);
  const parts = await page.locator('main > section').evaluateAll(all => all.map(s => s.id));
  const seen = [];
  for (let i = 0; i < 30 + parts.length; i++) {
    await page.keyboard.press('Tab');
    seen.push(await focused(page));
  }
  assert.ok(seen[0].href === '#overview', 'the first stop leads past the navigation');
  for (const id of parts) assert.ok(seen.some(f => f.href === '#' + id), `${id} is reached`);
  for (const id of parts) {
    await page.locator(`nav a[href="#${id}"]`).focus();
    await page.keyboard.press('Enter');
    await page.waitForFunction(id => { const r = document.getElementById(id).getBoundingClientRect(); return r.top < innerHeight && r.bottom > 0; }, id);
  }
});

test('from the drawing to the figures of a marking and back, by keys alone', async () => {
  const page = await open(browser);
  const m = report.markings[0];
  await page.locator(`.zoom svg a[href="#m-${m.id}"]`).focus();
  const before = await page.locator('.zoom svg').first().getAttribute('viewBox');
  await page.keyboard.press('+');
  assert.notEqual(await page.locator('.zoom svg').first().getAttribute('viewBox'), before, '+ zooms');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('0');
  assert.equal(await page.locator('.zoom svg').first().getAttribute('viewBox'), before, '0 shows all');
  await page.keyboard.press('Enter');
  await page.waitForFunction(id => document.activeElement === document.querySelector(`#m-${id} > summary`), m.id);
  assert.ok(await page.locator(`#m-${m.id}`).evaluate(d => d.open));
  await page.keyboard.press('Tab');
  for (let i = 0; i < 30 && !/show on the aircraft/.test((await focused(page)).text); i++) await page.keyboard.press('Tab');
  assert.match((await focused(page)).text, /show on the aircraft/);
  await page.keyboard.press('Enter');
  assert.equal((await focused(page)).href, '#m-' + m.id);
  assert.notEqual(await page.locator('.zoom svg').first().getAttribute('viewBox'), before, 'the drawing has come near');
});

test('nothing traps the focus: tab walks through an open marking and out of it', async () => {
  const page = await open(browser);
  const id = report.markings[0].id;
  await page.locator(`#m-${id} > summary`).focus();
  await page.keyboard.press('Enter');
  const stops = await page.locator(`#m-${id}`).evaluate(d => d.querySelectorAll('a, button, input').length);
  for (let i = 0; i <= stops; i++) await page.keyboard.press('Tab');
  assert.ok(await page.evaluate(id => !document.getElementById(id).contains(document.activeElement), 'm-' + id));
});

test('search is a list of hits: arrows choose one, enter jumps to it, escape gives all back', async () => {
  const page = await open(browser);
  const id = report.markings[0].masks[0].tiles[0].id;
  await page.locator('#search').focus();
  await page.keyboard.type(id);
  assert.match(await page.locator('#found').textContent(), /^\d+ found/);
  assert.ok(await page.locator('#hits [role=option]').count() > 0);
  await page.keyboard.press('ArrowDown');
  assert.equal(await page.locator('#hits [aria-selected=true]').count(), 1);
  await page.keyboard.press('Enter');
  assert.ok(await page.evaluate(id => document.activeElement.closest('tr').textContent.includes(id), id), 'the row of the film has the focus');
  assert.ok(await page.locator('#hits').isHidden());
  // a name of a marking opens its card
  const m = report.markings.at(-1).id;
  await page.locator('#search').fill(m);
  await page.locator('#search').press('Enter');
  await page.waitForFunction(id => document.getElementById('m-' + id).open, m);
  await page.locator('#search').fill('no such words in it');
  assert.equal(await page.locator('#found').textContent(), 'nothing found');
  await page.locator('#search').press('Escape');
  assert.equal(await page.locator('#search').inputValue(), '');
  assert.equal(await page.locator('main section:visible').count(), await page.locator('main section').count(), 'nothing is put away');
});

test('layers of a film go and come by pass; light and dark change by their button', async () => {
  const page = await open(browser);
  const m = report.markings.find(m => m.masks.length > 1) ?? report.markings[0];
  await page.locator(`#m-${m.id} > summary`).click();
  for (const button of await page.locator(`#m-${m.id} [data-layer]`).all()) {
    const layer = page.locator('#' + await button.getAttribute('data-layer'));
    const shown = () => layer.evaluate(g => getComputedStyle(g).display !== 'none');
    for (const [pressed, seen] of [['false', false], ['true', true]]) {
      await button.focus();
      await page.keyboard.press('Enter');
      assert.equal(await button.getAttribute('aria-pressed'), pressed);
      assert.equal(await shown(), seen);
    }
  }
  const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const light = await ground();
  await page.locator('#theme').press('Enter');
  const dark = await ground();
  assert.notEqual(dark, light);
  await page.reload();
  assert.equal(await ground(), dark, 'the theme is kept');
  await page.locator('#theme').press('Enter');
  assert.equal(await ground(), light);
});
