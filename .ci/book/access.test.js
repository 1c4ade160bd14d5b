// The book can be used by everybody: no fault that axe-core finds, on a wide
// and a narrow screen, light and dark; nothing wider than a phone; text without scripts.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import { after, before, test } from 'node:test';
import { open, report, start, unfold } from './browser.js';

const axe = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
let browser;
before(async () => { browser = await start({ solid: true }); });
after(() => browser.close());

const source = fs.readFileSync(axe, 'utf8');
const faults = async page => {
  await page.evaluate(source); // not as a script of the page: its policy lets none in
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ['violations'], runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] } }));
  return found.violations.map(v => `${v.impact}: ${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map(n => n.target.join(' ')).join(' | ')}`);
};

for (const width of [1280, 390]) {
  for (const colorScheme of ['light', 'dark']) {
    test(`no fault of any level at ${width}, ${colorScheme}`, async () => {
      const page = await open(browser, { viewport: { width, height: 844 }, colorScheme });
      await unfold(page);
      if (colorScheme === 'light') { // its buttons with all else, once for each width
        await page.locator('#three-start').click();
        await page.waitForFunction(() => document.querySelector('#three-view').dataset.drawn);
        await page.locator('#three-strain').click();
      }
      assert.deepEqual(await faults(page), []);
      if (colorScheme === 'light') {
        await page.locator('#place-start').click();
        assert.deepEqual(await faults(page), [], 'placing');
        await page.locator('.pl-tape').first().click();
        assert.deepEqual(await faults(page), [], 'the keypad');
        const small = await page.locator('.pl button').evaluateAll(all => all.filter(e => e.offsetWidth < 47.5 || e.offsetHeight < 47.5).map(e => `${e.textContent}: ${e.offsetWidth} x ${e.offsetHeight}`));
        assert.deepEqual(small, [], 'a glove needs 48 px');
        const wide = await page.locator('.pl').evaluate(e => [...e.querySelectorAll('*')].filter(x => x.getBoundingClientRect().right > innerWidth + 1 && !x.closest('svg')).map(x => x.className));
        assert.deepEqual(wide, []);
      }
      await page.context().close();
    });
  }
}

test('forced colours: no fault', async () => {
  const page = await open(browser, { viewport: { width: 1280, height: 900 }, forcedColors: 'active' });
  await unfold(page);
  assert.deepEqual(await faults(page), []);
  await page.context().close();
});

for (const width of [390, 820]) {
  test(`nothing is wider than a screen of ${width}`, async () => {
    const page = await open(browser, { viewport: { width, height: 844 }, hasTouch: true });
    await unfold(page);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(wide <= width, `the page is ${wide} wide`);
    const out = await page.evaluate(width => [...document.querySelectorAll('main *')].filter(e => !e.closest('svg, #hits, .toast') && e.getBoundingClientRect().right > width + 1 && !e.matches('.skip')).slice(0, 5).map(e => e.outerHTML.slice(0, 120)), width);
    assert.deepEqual(out, []);
    // a finger needs room: 24 px at least (WCAG 2.2, 2.5.8)
    const small = await page.evaluate(() => [...document.querySelectorAll('button, nav a, .chips a, summary, label:has(input)')].filter(e => e.offsetHeight > 0 && (e.offsetHeight < 24 || e.offsetWidth < 24)).map(e => e.outerHTML.slice(0, 120)));
    assert.deepEqual(small, []);
  });
}

test('two fingers bring the drawing nearer, one moves it then', async () => {
  const page = await open(browser, { viewport: { width: 390, height: 844 }, hasTouch: true });
  const svg = page.locator('.zoom svg').first();
  await svg.scrollIntoViewIfNeeded();
  const box = await svg.boundingBox(), was = await svg.getAttribute('viewBox');
  const touch = await page.context().newCDPSession(page);
  const send = (type, ...at) => touch.send('Input.dispatchTouchEvent', { type, touchPoints: at.map(([x, y], id) => ({ x: box.x + x * box.width, y: box.y + y * box.height, id })) });
  await send('touchStart', [.45, .5], [.55, .5]);
  for (let i = 1; i <= 5; i++) await send('touchMove', [.45 - .05 * i, .5], [.55 + .05 * i, .5]);
  await send('touchEnd');
  const near = await svg.getAttribute('viewBox');
  assert.ok(near.split(' ')[2] < was.split(' ')[2] / 1.5, `${was} became ${near}`);
  await send('touchStart', [.5, .5]);
  for (let i = 1; i <= 5; i++) await send('touchMove', [.5 - .05 * i, .5]);
  await send('touchEnd');
  const moved = await svg.getAttribute('viewBox');
  assert.ok(Number(moved.split(' ')[0]) > Number(near.split(' ')[0]), `${near} became ${moved}`);
});

test('without scripts all text can be read and nothing is offered that needs them', async () => {
  const page = await open(browser, { javaScriptEnabled: false });
  // a folded part opens by itself in any browser
  for (const m of report.markings) await page.locator(`#m-${m.id} > summary`).click();
  for (const m of report.markings) {
    const card = page.locator(`#m-${m.id}`);
    assert.ok(await card.locator('dl').isVisible());
    assert.ok(await card.locator('table.tapes').isVisible());
    for (const k of m.masks) for (const t of k.tiles) assert.ok(await page.locator('#cut').getByText(t.id, { exact: false }).first().isVisible(), t.id);
  }
  assert.ok(await page.locator('noscript').isVisible());
  assert.equal(await page.locator('button:visible').count(), 0, 'no button that does nothing');
  assert.equal(await page.locator('#search:visible').count(), 0);
});
