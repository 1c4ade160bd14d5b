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
  assert.match((await focused(page)).text, /show on the side/);
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

test('a ticked step is counted and still ticked after the book is opened again', async () => {
  const page = await open(browser);
  const id = report.markings[0].id, of = report.checkpoints.filter(c => c.id.startsWith(id)).length;
  await page.locator(`#m-${id} > summary`).click();
  const tick = page.locator(`[data-tick="place ${id}"]`).first(), count = page.locator(`[data-count="place ${id}"]`);
  await tick.focus();
  await page.keyboard.press('Space');
  assert.equal(await count.textContent(), `1 of ${of}`);
  await page.reload();
  assert.equal(await page.locator(`[data-tick="place ${id}"]`).first().isChecked(), true);
  assert.equal(await count.textContent(), `1 of ${of}`);
  // where nothing can be kept, the book still works
  await page.addInitScript(() => Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } }));
  await page.reload();
  await page.locator(`#m-${id} > summary`).click();
  await tick.check();
  assert.equal(await count.textContent(), `1 of ${of}`);
  assert.deepEqual(page.complaints, []);
});

test('search keeps what holds the words, puts away what does not, and gives all back', async () => {
  const page = await open(browser);
  const shown = () => page.locator('main section').evaluateAll(all => all.filter(s => s.offsetHeight > 0).map(s => s.id));
  const all = await shown();
  const m = report.markings[0];
  await page.locator('#search').focus();
  await page.keyboard.type(m.masks[0].tiles[0].id);
  assert.match(await page.locator('#found').textContent(), /^\d+ found$/);
  const left = await shown();
  assert.ok(left.includes('ticket') && left.includes('markings') && !left.includes('check'), left.join());
  assert.ok(await page.locator(`#m-${m.id}`).isVisible());
  assert.ok(!(await page.locator(`#m-${report.markings.at(-1).id}`).isVisible()));
  await page.locator('#search').fill('no such words in it');
  assert.equal(await page.locator('#found').textContent(), 'nothing found');
  await page.keyboard.press('Escape');
  assert.deepEqual(await shown(), all);
  assert.equal(await page.locator('details.marking[open]').count(), 0);
});
