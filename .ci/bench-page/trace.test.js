// A side view traced: a picture of the side view from a slant, four known points, and what is
// touched in it as stations and waterlines, a place, a line of paint, and text.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { createRequire } from 'node:module';
import { after, before, test } from 'node:test';
import { open, saved, serve, start } from './browser.js';

let browser, server, page, stage, box, scale, ox, oy;
before(async () => { browser = await start(); server = await serve(); page = await open(browser, server, { bypassCSP: true }); });
after(async () => { await browser.close(); await server.end(); });

// central projection of the plane of symmetry, written out: a camera at FS 60, BL -400, WL 60
// turned 20 degrees aft, 1500 px
const turn = 20 * Math.PI / 180;
const seen = (fs, wl) => { const x = fs - 60, y = 400, right = x * Math.cos(turn) - y * Math.sin(turn), ahead = x * Math.sin(turn) + y * Math.cos(turn); return [600 + 1500 * right / ahead, 500 - 1500 * (wl - 60) / ahead]; };
const at = p => [box.x + ox + (p[0] + 0.5) * scale, box.y + oy + (p[1] + 0.5) * scale];
/** Presses arrows until the cross that stands at `from` stands at `to`, to a tenth of a pixel. */
const go = async (from, to) => {
  for (const [k, less, more] of [[0, 'ArrowLeft', 'ArrowRight'], [1, 'ArrowUp', 'ArrowDown']]) {
    const tenths = Math.round(10 * (to[k] - from[k])), key = tenths < 0 ? less : more;
    for (let i = 0; i < Math.floor(Math.abs(tenths) / 100); i++) await page.keyboard.press(`Shift+${key}`);
    for (let i = 0; i < Math.floor(Math.abs(tenths) % 100 / 10); i++) await page.keyboard.press(key);
    for (let i = 0; i < Math.abs(tenths) % 10; i++) await page.keyboard.press(`Control+${key}`);
  }
};
const inches = text => { const m = /^(\d+)(?:-(\d+)\/(\d+))?/.exec(text); return Number(m[1]) + (m[2] ? Number(m[2]) / Number(m[3]) : 0); };
const traced = async () => (await page.locator('#traced tbody tr').allInnerTexts()).map(row => row.split('\t').slice(1, 3).map(inches));

test('four typed points, by keys alone, make the map; what is touched has its station and waterline', async () => {
  await page.locator('nav.jobs button', { hasText: 'Photograph' }).click();
  const png = await page.evaluate(async ([a, b, c]) => {
    const canvas = new OffscreenCanvas(1200, 900), g = canvas.getContext('2d');
    g.fillStyle = '#ddd'; g.fillRect(0, 0, 1200, 900); g.strokeStyle = '#333'; g.lineWidth = 3;
    g.beginPath(); g.moveTo(...a); g.lineTo(...b); g.lineTo(...c); g.stroke();
    g.fillStyle = '#555'; g.fillRect(0, 700, 1200, 200);
    return [...new Uint8Array(await (await canvas.convertToBlob({ type: 'image/png' })).arrayBuffer())];
  }, [seen(126, 54), seen(165, 57), seen(205, 56)]);
  await page.locator('#photo-file').setInputFiles({ name: 'side.png', mimeType: 'image/png', buffer: Buffer.from(png) });
  stage = page.locator('.photostage');
  await stage.waitFor();
  await page.getByRole('button', { name: 'Side view' }).click();
  await page.waitForTimeout(300);
  box = await stage.boundingBox();
  scale = Math.min(box.width / 1200, box.height / 900); ox = (box.width - 1200 * scale) / 2; oy = (box.height - 900 * scale) / 2;
  for (const [fs, wl] of [[120, 36], [240, 50], [235, 90], [115, 75]]) {
    await page.locator('#photo-fs').fill(String(fs));
    await page.locator('#photo-wl').fill(String(wl));
    await page.locator('#photo-wl').press('Enter');
    await page.waitForFunction(n => document.getElementById('photo-which').value === n, `FS ${fs}, WL ${wl}`);
    // the first arrow sets the cross by the middle of the picture
    await page.waitForFunction(() => document.activeElement?.classList.contains('photostage'));
    await page.keyboard.press('ArrowRight');
    await go([601, 450], seen(fs, wl));
  }
  await page.locator('#photo-fs').fill('20-1/2/3');
  await page.locator('#photo-wl').fill('4');
  await page.getByRole('button', { name: 'Name this point' }).click();
  await page.locator('.photoside .stop', { hasText: 'is no length' }).waitFor();
  await page.locator('#photo-fs').fill('');
  await page.getByRole('button', { name: 'Trace', exact: true }).click();
  await stage.focus();
  await go([599.5, 449.5], seen(134, 51));
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.querySelectorAll('#traced tbody tr').length === 1);
  const [[fs, wl]] = await traced();
  assert.ok(Math.abs(fs - 134) < 0.2 && Math.abs(wl - 51) < 0.2, `FS ${fs} WL ${wl}`);
  assert.match(await page.locator('.photoside').innerText(), /The left side is seen/);
  await page.keyboard.press('Backspace');
  await page.waitForFunction(() => !document.querySelector('#traced'));
});

test('a line is touched and stands as a line of paint; the length of its last stretch', async () => {
  const line = [[126, 54], [165, 57], [205, 56]];
  for (const p of line) { await page.mouse.click(...at(seen(...p))); await page.waitForTimeout(100); }
  await page.waitForFunction(() => document.querySelectorAll('#traced tbody tr').length === 3);
  const got = await traced();
  got.forEach((p, i) => assert.ok(Math.hypot(p[0] - line[i][0], p[1] - line[i][1]) < 0.6 / scale, `${p} for ${line[i]}`));
  assert.match(await page.locator('#traced-length').innerText(), /(39|40)\.\d+ ± \d/);
  assert.equal((await page.locator('#trace-text').inputValue()).match(/\[\d/g).length, 3);
  if (process.env.PICTURES) await page.screenshot({ path: `${process.env.PICTURES}/trace-desk.png` });
  await page.evaluate(await fs.promises.readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8'));
  assert.deepEqual(await page.evaluate(async () => (await window.axe.run(document, { resultTypes: ['violations'] })).violations.map(v => `${v.id}: ${v.nodes.map(n => n.target.join(' ')).slice(0, 3).join(', ')}`)), []);
  await page.locator('#trace-surface').selectOption('fuselage');
  await page.getByRole('button', { name: 'Add a line of paint' }).click();
  await page.waitForFunction(() => document.querySelectorAll('.side .entry').length === 5, null, { timeout: 60_000 });
  await page.waitForFunction(() => /line/.test(document.querySelector('.fields h2').textContent), null, { timeout: 60_000 });
  await page.getByRole('button', { name: 'Take as the line of line' }).waitFor();
  // one of the edges of the picture as two points more
  await page.getByRole('button', { name: 'Edge', exact: true }).click();
  await page.mouse.move(...at([300, 701])); await page.mouse.down(); await page.mouse.move(...at([420, 700])); await page.mouse.up();
  await page.getByRole('button', { name: 'Trace edge 1 by its ends' }).click();
  await page.getByRole('button', { name: 'Trace', exact: true }).click();
  await page.waitForFunction(() => document.querySelectorAll('#traced tbody tr').length === 5);
});

test('a marking takes the place of the last point', async () => {
  await page.getByRole('button', { name: 'Trace', exact: true }).click();
  await page.mouse.click(...at(seen(150, 55)));
  await page.waitForFunction(() => document.querySelectorAll('#traced tbody tr').length === 6);
  await page.locator('.side .entry', { hasText: 'insignia' }).click();
  await page.getByRole('button', { name: 'Photograph' }).first().click();
  await page.getByRole('button', { name: 'Take point 6 as place of insignia' }).click();
  await page.waitForFunction(() => Math.abs(parseFloat(document.getElementById('field-fs')?.value) - 150) < 1, null, { timeout: 60_000 });
  await page.getByRole('button', { name: 'Cite in evidence of insignia' }).click();
  await page.waitForFunction(() => document.querySelector('.top .file')?.textContent.includes('changed'));
  await page.setViewportSize({ width: 390, height: 844 });
  await page.waitForTimeout(500);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth), false);
  if (process.env.PICTURES) await page.screenshot({ path: `${process.env.PICTURES}/trace-phone.png` });
  await page.setViewportSize({ width: 1440, height: 900 });
  assert.match(await saved(page, server, /side view/), /side view side\.png, 4 points/);
  assert.match(server.text(), /demarcation: \{points: \[\{fs: 12\d/);
  assert.deepEqual(page.complaints, []);
});

/** Opens a layout, a picture of a drawing at 1.5 px an inch, and its four corners by typed stations and waterlines. */
async function drawn(name, text, corners) {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'bench-page-'));
  fs.writeFileSync(path.join(folder, name), text);
  const server = await serve(name, folder), context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  page = await context.newPage();
  await page.goto(await server.address());
  await page.locator('nav.jobs button', { hasText: 'Photograph' }).click();
  const png = await page.evaluate(async () => { const c = new OffscreenCanvas(400, 300), g = c.getContext('2d'); g.fillStyle = '#ccc'; g.fillRect(0, 0, 400, 300); return [...new Uint8Array(await (await c.convertToBlob({ type: 'image/png' })).arrayBuffer())]; });
  await page.locator('#photo-file').setInputFiles({ name: 'drawing.png', mimeType: 'image/png', buffer: Buffer.from(png) });
  stage = page.locator('.photostage');
  await stage.waitFor();
  await page.getByRole('button', { name: 'Side view' }).click();
  await page.waitForTimeout(300);
  box = await stage.boundingBox();
  scale = Math.min(box.width / 400, box.height / 300); ox = (box.width - 400 * scale) / 2; oy = (box.height - 300 * scale) / 2;
  for (const [fs, wl] of corners) {
    await page.locator('#photo-fs').fill(`${fs} in`);
    await page.locator('#photo-wl').fill(`${wl} in`);
    await page.getByRole('button', { name: 'Name this point' }).click();
    await page.mouse.click(...at(onDrawing(fs, wl)));
  }
  await page.getByRole('button', { name: 'Trace', exact: true }).click({ timeout: 60_000 });
  return { server, end: async () => { await context.close(); await server.end(); } };
}
const onDrawing = (fs, wl) => [40 + 1.5 * fs, 170 - 1.5 * wl];

test('before there is an aircraft a side view is traced too, for its first numbers', async () => {
  const { end } = await drawn('empty.yaml', '', [[0, -40], [200, -40], [200, 80], [0, 80]]);
  await page.mouse.click(...at(onDrawing(90, 45)));
  await page.waitForFunction(() => document.querySelectorAll('#traced tbody tr').length === 1, null, { timeout: 60_000 });
  const [[x, y]] = await traced();
  assert.ok(Math.hypot(x - 90, y - 45) < 1, `${x}, ${y}`);
  assert.match(await page.locator('#trace-text').inputValue(), /^\[\[\d/);
  await end();
});

test('an outline becomes an opening of an aircraft that stands in the layout itself, and a second one', async () => {
  const { server, end } = await drawn('faired.yaml', fs.readFileSync(new URL('../../testdata/lessons/05-faired.yaml', import.meta.url), 'utf8'), [[0, -40], [200, -40], [200, 80], [0, 80]]);
  for (const [n, x] of [[[60, 50], [72, 50], [72, 62], [60, 62]], [[150, 52], [160, 52], [160, 60], [150, 60]]].entries()) {
    for (const [fs, wl] of x) { await page.mouse.click(...at(onDrawing(fs, wl))); await page.waitForTimeout(50); }
    await page.waitForFunction(() => document.querySelectorAll('#traced tbody tr').length === 4, null, { timeout: 60_000 });
    await page.getByRole('button', { name: 'Add an opening' }).click();
    await page.waitForFunction(n => new RegExp(`Obstacles\\s*${n}`).test(document.querySelector('.counts').textContent), n + 1, { timeout: 20_000 });
    await stage.focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press('Backspace');
    await page.waitForFunction(() => !document.querySelector('#traced'));
  }
  assert.equal((await saved(page, server, /opening-2/)).match(/kind: opening, surface: \w+, side: left, points: \[\[/g).length, 2);
  assert.match(await page.locator('.text .head').innerText(), /no errors/);
  await end();
});
