// The aircraft in three dimensions: something is drawn, and each control changes it.
// WebGL is computed by software here.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { open, report, start } from './browser.js';

let browser, page, canvas;
before(async () => {
  browser = await start({ solid: true });
  page = await open(browser, { viewport: { width: 900, height: 600 } });
  assert.equal(await page.evaluate(() => typeof window.THREE), 'undefined', 'nothing is loaded before it is asked for');
  await page.locator('#three-start').focus();
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.querySelector('#three-view').dataset.drawn);
  canvas = page.locator('#three-view');
});
after(() => browser.close());

/** Keeps a picture of the view in the page under a name; says what is on it. */
const look = name => canvas.evaluate((c, name) => {
  const copy = document.createElement('canvas'); copy.width = c.width; copy.height = c.height;
  const x = copy.getContext('2d'); x.drawImage(c, 0, 0);
  const d = new Uint32Array(x.getImageData(0, 0, c.width, c.height).data.buffer);
  (window.kept ??= {})[name] = d;
  // the first pixel is of the ground
  return { all: d.length, drawn: d.reduce((n, v) => n + (v !== d[0]), 0), colours: new Set(d).size };
}, name);
const like = (name, ...rgb) => page.evaluate(([name, rgb]) => window.kept[name].reduce((n, v) => n + rgb.every((want, i) => Math.abs(((v >> (8 * i)) & 255) - want) < 40), 0), [name, rgb]);
const between = (a, b) => page.evaluate(([a, b]) => window.kept[a].reduce((n, v, i) => n + (v !== window.kept[b][i]), 0), [a, b]);

async function changes(t, what, f) {
  const { all } = await look('was');
  await f();
  await look('is');
  const n = await between('was', 'is');
  t.diagnostic(`${what}: ${n} of ${all} pixels change`);
  assert.ok(n > 300, `${what} changes the picture: ${n} pixels`);
}

test('the view is not blank, and shows the paints', async t => {
  const p = await look('first');
  t.diagnostic(`${p.drawn} of ${p.all} pixels drawn, ${p.colours} colours`);
  assert.ok(p.drawn > p.all / 20);
  assert.ok(p.colours > 50);
  await page.locator('#three-left').click();
  await look('left');
  assert.ok(await like('left', 0x17, 0x20, 0x35) > 100, 'insignia blue');
  assert.ok(await like('left', 0xf8, 0xa3, 0x00) > 50, 'orange yellow');
});

test('keys and pointer turn it', async t => {
  await canvas.focus();
  await changes(t, 'arrow left', () => page.keyboard.press('ArrowLeft'));
  await changes(t, 'arrow up', () => page.keyboard.press('ArrowUp'));
  await changes(t, 'plus', () => page.keyboard.press('+'));
  const box = await canvas.boundingBox();
  await changes(t, 'dragging', async () => {
    await page.mouse.move(box.x + 200, box.y + 150);
    await page.mouse.down();
    await page.mouse.move(box.x + 300, box.y + 180, { steps: 4 });
    await page.mouse.up();
  });
});

test('views, strain, tapes, structure and cuts change it', async t => {
  for (const id of ['right', 'above', 'quarter', 'left']) await changes(t, id, () => page.locator(`#three-${id}`).click());
  for (const id of ['strain', 'frames']) {
    const button = page.locator(`#three-${id}`), was = await button.getAttribute('aria-pressed');
    await look('before');
    await changes(t, id, () => button.click());
    assert.notEqual(await button.getAttribute('aria-pressed'), was);
    if (id === 'strain') assert.match(await page.locator('#three-legend').innerText(), /squeezed .* %[\s\S]*stretched .* %/);
    await button.click();
    await look('after');
    assert.equal(await between('before', 'after'), 0, `${id} twice is as before`);
  }
  await changes(t, 'tapes of a point', () => page.locator('#three-tapes').selectOption({ index: 1 }));
  assert.ok(await page.locator('#three-names .tape:visible').count() > 0, 'with their readings');
  await page.locator('#three-tapes').selectOption('');
  for (const id of ['fs', 'wl']) {
    const slide = page.locator(`#three-${id}`);
    const value = await slide.evaluate(s => (+s.min + +s.max) / 2);
    await changes(t, `cut by ${id}`, () => slide.fill(String(Math.round(value))));
    assert.match(await page.locator(`#three-${id}-out`).textContent(), /^(FS|WL) \d+$/);
    await slide.fill(await slide.getAttribute('max'));
    assert.equal(await page.locator(`#three-${id}-out`).textContent(), 'whole');
  }
});

test('a marking that is chosen or touched tells its name and leads to its figures', async t => {
  const m = report.markings[0], says = page.locator('#three-says');
  await changes(t, 'choosing ' + m.id, () => page.locator('#three-mark').selectOption({ label: m.id }));
  assert.match(await says.textContent(), new RegExp(m.id));
  await page.locator('#three-mark').selectOption('');
  assert.doesNotMatch(await says.textContent(), new RegExp(m.id));
  await page.locator('#three-mark').selectOption({ label: m.id });
  await page.evaluate(() => { document.querySelector('#three-says').textContent = ''; });
  const box = await canvas.boundingBox();
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
  assert.match(await says.textContent(), new RegExp(m.id));
  await says.locator('a').click();
  await page.waitForFunction(id => document.getElementById(id).open, 'm-' + m.id);
  assert.deepEqual(page.complaints, []);
});
