// Edges of a photograph: a square and a disc on the fin as a known camera sees them, drawn
// along by mouse and by keys, against where they were drawn and their size in inches.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import { after, before, test } from 'node:test';
import { open, saved, serve, start } from './browser.js';

let browser, server, page, stage, box, scale, ox, oy;
before(async () => { browser = await start(); server = await serve(); page = await open(browser, server, { bypassCSP: true }); });
after(async () => { await browser.close(); await server.end(); });

// central projection written out: eye at FS 190, BL -420, WL 60, 2400 px, middle of 1600 x 1100
const seen = (x, y, z) => [799.5 + 2400 * (x - 190) / (y + 420), 549.5 - 2400 * (z - 60) / (y + 420)];
const inch = 2400 / 419.2; // pixels to the inch on the plane of the fin, BL -0.8
const onFin = (fs, wl) => seen(fs, -0.8, wl);
const square = { left: onFin(226, 0)[0], right: onFin(234, 0)[0], top: onFin(0, 80)[1], bottom: onFin(0, 72)[1] }, disc = { middle: onFin(150, 53), radius: 60 };
const points = [['P1 ', 240, -1.375, 50], ['P2 ', 120, -12.5, 36], ['P3 ', 240, -1.5, 60], ['P4 ', 120, -13, 65], ['fuselage S4 at FS 120', 120, -14.5, 50], ['fuselage S5 at FS 240', 240, -1.5, 52.5], ['fuselage S3 at FS 240', 240, -1.625, 57.5]];

/** The picture: light blurred by 0.9 px, stored by the curve of sRGB, with grain of 2 in 255. */
const drawn = () => page.evaluate(async ({ square: q, disc }) => {
  const c = new OffscreenCanvas(1600, 1100), g = c.getContext('2d'), data = g.createImageData(1600, 1100);
  let x = 9;
  const dice = () => (x = x * 48271 % 2147483647) / 2147483647, grain = () => 2 * Math.sqrt(-2 * Math.log(dice())) * Math.cos(2 * Math.PI * dice());
  // the normal distribution by its series (Abramowitz and Stegun 26.2.10)
  const normal = z => { if (z > 5) return 1; if (z < -5) return 0; let term = z, sum = z; for (let n = 1; n < 60; n++) { term *= -z * z / (2 * n); sum += term / (2 * n + 1); } return 0.5 + sum / Math.sqrt(2 * Math.PI); };
  const table = new Map(), step = s => { const k = Math.round(s * 500); if (!table.has(k)) { let sum = 0; for (let i = 0; i < 5; i++) sum += normal((k / 500 - 0.4 + 0.2 * i) / 0.9); table.set(k, sum / 5); } return table.get(k); };
  for (let j = 0; j < 1100; j++) for (let i = 0; i < 1600; i++) {
    let light = 0.45 - 0.3 * (step(i - q.left) - step(i - q.right)) * (step(j - q.top) - step(j - q.bottom));
    const far = Math.hypot(i - disc.middle[0], j - disc.middle[1]);
    if (far < 80) light = 0.12 + 0.33 * step(far - disc.radius);
    const v = 255 * (1.055 * light ** (1 / 2.4) - 0.055) + grain();
    data.data.set([v, v, v, 255], 4 * (j * 1600 + i));
  }
  g.putImageData(data, 0, 0);
  return [...new Uint8Array(await (await c.convertToBlob({ type: 'image/png' })).arrayBuffer())];
}, { square, disc });
const at = p => [box.x + ox + (p[0] + 0.5) * scale, box.y + oy + (p[1] + 0.5) * scale];
const drag = async (a, b) => { await page.mouse.move(...at(a)); await page.mouse.down(); await page.mouse.move(...at([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])); await page.mouse.move(...at(b)); await page.mouse.up(); };
const numbers = async (id, pattern) => { await page.waitForFunction(([i, p]) => new RegExp(p).test(document.querySelector(i)?.textContent ?? ''), [id, pattern.source], { timeout: 60_000 }); return pattern.exec(await page.locator(id).innerText()).slice(1).map(Number); };

test('a corner of two edges and the width of a square, in the picture, within a tenth of a pixel', async () => {
  await page.locator('nav.jobs button', { hasText: 'Photograph' }).click();
  const bodies = [];
  page.on('request', r => { if (r.method() === 'POST') bodies.push(r.postData() ?? ''); });
  await page.locator('#photo-file').setInputFiles({ name: 'edges.png', mimeType: 'image/png', buffer: Buffer.from(await drawn()) });
  stage = page.locator('.photostage');
  await stage.waitFor();
  await page.waitForTimeout(300);
  box = await stage.boundingBox();
  scale = Math.min(box.width / 1600, box.height / 1100); ox = (box.width - 1600 * scale) / 2; oy = (box.height - 1100 * scale) / 2;
  await page.getByRole('button', { name: 'Edge', exact: true }).click();
  const { left, right, top, bottom } = square;
  await drag([left + 3, top + 6], [left - 2, bottom - 6]);
  await page.locator('.edgerow').first().waitFor();
  await drag([left + 7, top - 2], [right - 7, top + 1]);
  const [x, y] = await numbers('#edge-crossing', /at ([\d.]+), ([\d.]+) ±/);
  assert.ok(Math.abs(x - left) < 0.1 && Math.abs(y - top) < 0.1, `${x}, ${y} for ${left}, ${top}`);
  await drag([left + 6, bottom + 1], [right - 6, bottom + 2]); // the oldest falls out
  const [wide, off] = await numbers('#edge-width', /Between them ([\d.]+) ± ([\d.]+) px/);
  assert.ok(Math.abs(wide - (bottom - top)) < 0.1 && off < 0.1, `${wide} ± ${off} for ${bottom - top}`);
  assert.ok(bodies.every(b => b.length < 20_000));
});

test('a disc by round edges, and a place with nothing is told', async () => {
  await page.getByRole('button', { name: 'Round', exact: true }).click();
  const [mx, my] = disc.middle, r = disc.radius;
  await drag([mx - 16, my - r + 1], [mx + 16, my - r + 1]);
  await drag([mx - 12, my + r - 1], [mx + 20, my + r - 2]);
  const [diameter] = await numbers('#edge-width', /Diameter ([\d.]+) ±/);
  assert.ok(Math.abs(diameter - 2 * r) < 0.25, `${diameter}`);
  await page.getByRole('button', { name: 'Straight', exact: true }).click();
  await drag([300, 900], [360, 900]);
  await page.locator('.photoside .stop', { hasText: 'no edge' }).waitFor();
  if (process.env.PICTURES) await page.screenshot({ path: `${process.env.PICTURES}/edges-disc.png` });
});

test('by keys alone: Enter begins a line and ends it, and what was fitted is said', async () => {
  await page.getByRole('button', { name: 'remove edge 2' }).press('Enter');
  await page.getByRole('button', { name: 'remove edge 1' }).press('Enter');
  await stage.focus();
  // the cross begins in the middle of the picture
  const to = [Math.round(square.left - 799.5), Math.round(square.top + 8 - 549.5)];
  const go = async (key, n) => { for (let i = 0; i < Math.floor(Math.abs(n) / 10); i++) await page.keyboard.press(`Shift+${key}`); for (let i = 0; i < Math.abs(n) % 10; i++) await page.keyboard.press(key); };
  await go(to[0] > 0 ? 'ArrowRight' : 'ArrowLeft', to[0]);
  await go(to[1] > 0 ? 'ArrowDown' : 'ArrowUp', to[1]);
  await page.keyboard.press('Enter');
  await go('ArrowDown', 30);
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => /edge 1: 0\.\d+ px plus or minus/.test(document.querySelector('[aria-live=polite]').textContent));
  assert.equal(await page.locator('.edgerow').count(), 1);
});

test('with the camera known, the width is one on the skin, taken as a size; a corner is a point', async () => {
  for (const [name, x, y, z] of points) {
    const want = seen(x, y, z), option = await page.locator('#photo-which option').evaluateAll((all, n) => all.find(o => o.value.startsWith(n))?.value, name);
    await page.getByRole('button', { name: 'Point', exact: true }).click();
    await page.locator('#photo-which').selectOption(option);
    const rows = page.locator('.photoside tbody tr'), had = await rows.count();
    await page.mouse.click(...at(want));
    await rows.nth(had).waitFor();
    const [px, py] = (await rows.last().locator('td.n').first().innerText()).split(', ').map(Number);
    await stage.focus();
    const move = async (key, far) => { const tenths = Math.round(Math.abs(far) * 10); for (let i = 0; i < Math.floor(tenths / 10); i++) await page.keyboard.press(key); for (let i = 0; i < tenths % 10; i++) await page.keyboard.press(`Control+${key}`); };
    await move(want[0] > px ? 'ArrowRight' : 'ArrowLeft', want[0] - px);
    await move(want[1] > py ? 'ArrowDown' : 'ArrowUp', want[1] - py);
  }
  await page.getByRole('button', { name: 'Read', exact: true }).click({ timeout: 60_000 });
  await page.getByRole('button', { name: 'Edge', exact: true }).click();
  const { left, right, top, bottom } = square;
  await drag([right + 2, top + 9], [right + 1, bottom - 9]);
  await drag([left - 2, top + 5], [left + 1, bottom - 8]);
  const [inches, off] = await numbers('.edgewidth', /([\d.]+) ± ([\d.]+) in along the skin/);
  assert.ok(Math.abs(inches - 8) < 0.06 && off < 0.5, `${inches} ± ${off} in`);
  await page.waitForFunction(() => /fin, FS 234/.test(document.querySelector('.edgerow').textContent), null, { timeout: 60_000 });
  if (process.env.PICTURES) await page.screenshot({ path: `${process.env.PICTURES}/edges-desk.png` });
  // the corner as a place that is read
  await drag([left + 7, top - 2], [right - 7, top + 1]);
  await page.locator('#edge-crossing').getByRole('button', { name: 'Read the place there' }).press('Enter');
  await page.waitForFunction(() => /A fin, FS 226/.test(document.querySelector('.photoside').textContent), null, { timeout: 60_000 });
  // and as a point of the aircraft, with its own plus or minus in the text
  await page.locator('#edge-crossing').getByRole('button', { name: /^Set .* there$/ }).press('Enter');
  await page.waitForFunction(() => /\d\.\d\d, \d+\.\d\d/.test(document.querySelector('.photoside tbody').textContent));
  await page.evaluate(await fs.promises.readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
  assert.deepEqual(await page.evaluate(async () => (await window.axe.run(document, { resultTypes: ['violations'] })).violations.map(v => `${v.id}: ${v.nodes.map(n => n.target.join(' ')).slice(0, 3).join(', ')}`)), []);
  await page.setViewportSize({ width: 390, height: 844 });
  await page.waitForTimeout(500);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth), false);
  if (process.env.PICTURES) await page.screenshot({ path: `${process.env.PICTURES}/edges-phone.png` });
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.waitForTimeout(300);
  await page.getByRole('button', { name: 'Write the points into the text' }).click();
  await page.waitForFunction(() => document.querySelector('.top .file')?.textContent.includes('changed'), null, { timeout: 30_000 });
  assert.match(await saved(page, server, /plus-minus: 0\.1/), /plus-minus: 0\.1/);
  assert.deepEqual(page.complaints, []);
});
