// The jobs besides laying out: a drawing dropped, a photograph picked, the pack, readings,
// the first visit. The numbers of Check and Film: figures.test.js.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { holds, open, program, serve, start } from './browser.js';

let browser, server, page;
before(async () => { browser = await start(); server = await serve(); page = await open(browser, server); });
after(async () => { await browser.close(); await server.end(); });
const job = name => page.locator('nav.jobs button', { hasText: name }).click();

// the emblem of the demo's order sheet by its ratios: disc 1, ring 0.55 to 0.4, and a bar
const circle = (r, fill) => `<circle cx="100" cy="100" r="${r}" fill="${fill}"/>`;
const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="200">${circle(100, '#172035')}${circle(55, '#f0e9ee')}${circle(40, '#172035')}</svg>`;

test('a drawing dropped on the page is read, sized and placed', async () => {
  await page.evaluate(text => {
    const data = new DataTransfer();
    data.items.add(new File([text], 'emblem.svg', { type: 'image/svg+xml' }));
    window.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
  }, svg);
  await page.locator('#add-size').fill('8');
  assert.equal(await page.locator('.paints select').first().inputValue(), 'insignia-blue', 'the paint nearest in colour');
  await page.locator('#add-drawing').click();
  await page.waitForFunction(() => document.querySelectorAll('.side .entry').length === 5, null, { timeout: 60_000 });
  await page.waitForFunction(() => /emblem/.test(document.querySelector('.fields h2').textContent));
  await holds(page, 'field-size', '8');
  await page.waitForFunction(() => document.querySelector('[data-id="emblem"] path'), null, { timeout: 60_000 });
  assert.ok(fs.existsSync(path.join(server.folder, 'emblem.svg')));
  await page.locator('.undo').click();
  await page.waitForFunction(() => document.querySelectorAll('.side .entry').length === 4);
});

test('a marking is added from its rule and stands clear', async () => {
  await page.locator('#add').click();
  await page.getByRole('button', { name: 'By rule' }).click();
  await page.locator('.pictures button:not(:disabled)').first().click();
  await page.waitForFunction(() => document.querySelectorAll('.side .entry').length === 5, null, { timeout: 60_000 });
  await page.locator('.undo').click();
  await page.waitForFunction(() => document.querySelectorAll('.side .entry').length === 4);
});

test('a picture with a known camera: picked to a tenth, read within its plus or minus, no byte of it sent', async () => {
  const bodies = [];
  page.on('request', r => { if (r.method() === 'POST') bodies.push(r.postData() ?? ''); });
  await job('Photograph');
  // central projection written out: eye at FS 190, BL -420, WL 60, 2400 px, middle of 1600 x 1100
  const seen = (x, y, z) => [799.5 + 2400 * (x - 190) / (y + 420), 549.5 - 2400 * (z - 60) / (y + 420)];
  const points = [['P1 ', 240, -1.375, 50], ['P2 ', 120, -12.5, 36], ['P3 ', 240, -1.5, 60], ['P4 ', 120, -13, 65], ['fuselage S4 at FS 120', 120, -14.5, 50], ['fuselage S5 at FS 240', 240, -1.5, 52.5], ['fuselage S3 at FS 240', 240, -1.625, 57.5]];
  const png = await page.evaluate(async list => {
    const c = new OffscreenCanvas(1600, 1100), g = c.getContext('2d');
    g.fillStyle = '#999'; g.fillRect(0, 0, 1600, 1100); g.fillStyle = '#000';
    for (const [x, y] of list) g.fillRect(Math.round(x) - 1, Math.round(y) - 1, 3, 3);
    return [...new Uint8Array(await (await c.convertToBlob({ type: 'image/png' })).arrayBuffer())];
  }, points.map(p => seen(p[1], p[2], p[3])));
  await page.locator('#photo-file').setInputFiles({ name: 'known.png', mimeType: 'image/png', buffer: Buffer.from(png) });
  await page.locator('.photostage').waitFor();
  await page.waitForTimeout(300);
  const stage = page.locator('.photostage'), box = await stage.boundingBox();
  const scale = Math.min(box.width / 1600, box.height / 1100), ox = (box.width - 1600 * scale) / 2, oy = (box.height - 1100 * scale) / 2;
  for (const [name, x, y, z] of points) {
    const want = seen(x, y, z), option = await page.locator('#photo-which option').evaluateAll((all, n) => all.find(o => o.value.startsWith(n))?.value, name);
    assert.ok(option, name);
    await page.locator('#photo-which').selectOption(option);
    const rows = page.locator('.photoside tbody tr'), had = await rows.count();
    await page.mouse.move(box.x + ox + (want[0] + 0.5) * scale, box.y + oy + (want[1] + 0.5) * scale);
    await page.mouse.down();
    await page.locator('.loupe').waitFor();
    await page.mouse.up();
    // the rest by keys, to a tenth of a pixel
    const cell = page.locator('.photoside tbody tr', { hasText: option.slice(0, 12) }).first();
    await rows.nth(had).waitFor(); // the row of this point stands there
    const [px, py] = (await page.locator('.photoside tbody tr').last().locator('td.n').first().innerText()).split(', ').map(Number);
    assert.ok(Math.hypot(px - want[0], py - want[1]) < 1.5 / scale, `${name}: ${px}, ${py} for ${want}`);
    await stage.focus();
    const move = async (key, far) => { const tenths = Math.round(Math.abs(far) * 10); for (let i = 0; i < Math.floor(tenths / 10); i++) await page.keyboard.press(key); for (let i = 0; i < tenths % 10; i++) await page.keyboard.press(`Control+${key}`); };
    await move(want[0] > px ? 'ArrowRight' : 'ArrowLeft', want[0] - px);
    await move(want[1] > py ? 'ArrowDown' : 'ArrowUp', want[1] - py);
    const [ax, ay] = (await page.locator('.photoside tbody tr').last().locator('td.n').first().innerText()).split(', ').map(Number);
    assert.ok(Math.abs(ax - want[0]) <= 0.11 && Math.abs(ay - want[1]) <= 0.11, `${name}: ${ax}, ${ay} for ${want}`);
    assert.ok(cell);
  }
  await page.getByRole('button', { name: 'Read', exact: true }).click({ timeout: 60_000 });
  const s4 = seen(180, -(14.5 + 1.625) / 2, 52.5);
  await page.mouse.click(box.x + ox + (s4[0] + 0.5) * scale, box.y + oy + (s4[1] + 0.5) * scale);
  await page.locator('.readplace b').waitFor({ timeout: 60_000 });
  await page.waitForFunction(() => /fuselage, FS/.test(document.querySelector('.readplace').textContent));
  const [, fs] = /FS ([\d-/ ]+) ±/.exec(await page.locator('.readplace').innerText());
  assert.ok(/^(179|180)/.test(fs), fs);
  // with the focal length known a point moved by 20 px is the one that is named
  await page.locator('#photo-focal').fill('2400');
  await page.locator('#photo-focal').press('Tab');
  await page.locator('.photoside tbody tr', { hasText: 'P4' }).getByRole('button').first().click();
  await stage.focus();
  for (let i = 0; i < 2; i++) await page.keyboard.press('Shift+ArrowRight');
  await page.locator('#suspect').waitFor({ timeout: 60_000 });
  assert.match(await page.locator('#suspect').innerText(), /^P4 looks wrong/);
  const middle = Buffer.from(png.slice(60, 120)).toString('base64').slice(4, 40);
  assert.ok(bodies.length && bodies.every(b => !b.includes(middle) && b.length < 20_000), 'no byte of the picture is sent');
});

test('a reading typed on the keypad, and what it is off by', async () => {
  await job('Place');
  await page.locator('.reading').first().waitFor({ timeout: 60_000 });
  const wanted = (await page.locator('.wanted .length').first().innerText()).trim(), [whole, part] = wanted.split('-');
  for (const k of [...whole, ...(part ? [part] : [])]) await page.locator('.keypad').getByRole('button', { name: k, exact: true }).click();
  await holds(page, 'read-0', wanted);
  assert.match(await page.locator('.reading').first().innerText(), /as wanted|too/);
});

test('the pack from the page is the one of the command line, byte for byte', async () => {
  await page.locator('.pack').first().click();
  const [download] = await Promise.all([page.waitForEvent('download', { timeout: 120_000 }), page.getByRole('button', { name: 'As a zip' }).click()]);
  const zip = path.join(server.folder, 'page.zip');
  await download.saveAs(zip);
  execFileSync(program, ['build', 'demo.yaml', '-o', 'byhand'], { cwd: server.folder, stdio: 'pipe' });
  execFileSync('python3', ['-m', 'zipfile', '-e', zip, path.join(server.folder, 'bypage')]);
  const files = root => fs.readdirSync(root, { recursive: true, withFileTypes: true }).filter(f => f.isFile()).map(f => path.relative(root, path.join(f.parentPath ?? f.path, f.name))).sort();
  const sum = f => createHash('sha256').update(fs.readFileSync(f)).digest('hex');
  const hand = path.join(server.folder, 'byhand'), inner = path.join(server.folder, 'bypage'), root = files(inner).includes('report.json') ? inner : path.join(inner, fs.readdirSync(inner)[0]);
  assert.deepEqual(files(root), files(hand));
  assert.deepEqual(files(hand).filter(f => sum(path.join(hand, f)) !== sum(path.join(root, f))), []);
});

test('from the first visit to a layout with one marking', async () => {
  await page.keyboard.press('Escape');
  await job('Lay out');
  await page.getByRole('button', { name: 'New aircraft' }).click();
  await page.getByRole('button', { name: /^Round/ }).click();
  await page.locator('#visit-name').fill('Test one');
  const rows = [['0', '10', '0'], ['60', '14', '1'], ['140', '6', '4']];
  for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) await page.locator(`#cell-${r}-${c}`).fill(rows[r][c]);
  await page.locator('#visit-make').click();
  await page.waitForFunction(() => document.querySelectorAll('.side .entry').length === 1 && document.querySelector('[data-id="code"] path'), null, { timeout: 60_000 });
  await holds(page, 'field-fs', '70');
  assert.match(await page.locator('.text .head').innerText(), /no errors/);
  assert.deepEqual(page.complaints, []);
});
