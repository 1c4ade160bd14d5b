// Placing on a phone: from opening the book to the first tape in three touches at most;
// large, on white, for gloves; readings typed say at once how the point lies, and the
// program says the same of them.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { open, report, start } from './browser.js';

const program = process.env.MASKLOFT;
let browser;
before(async () => { browser = await start(); });
after(() => browser.close());
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, colorScheme: 'dark' };

/** Types a length on the keypad: 18-5/16. */
async function key(page, whole, sixteenths) {
  for (const d of String(whole)) await page.locator(`.pl-keys [data-key="${d}"]`).tap();
  if (sixteenths) await page.locator(`.pl-keys [data-key="p${sixteenths}"]`).tap();
  await page.locator('.pl-keys [data-key="ok"]').tap();
}

test('from opening the book to the first tape on the aircraft: three touches at most', async t => {
  const page = await open(browser, phone);
  let touches = 0;
  const touch = async what => { touches++; await page.locator(what).first().tap(); };
  assert.ok(await page.locator('#place-start').evaluate(e => e.getBoundingClientRect().bottom <= innerHeight), 'seen without scrolling');
  await touch('#place-start');
  const say = page.locator('.pl-say b').first();
  assert.ok(await say.isVisible(), 'the reading to pull the first tape to');
  assert.ok(await say.evaluate(e => parseFloat(getComputedStyle(e).fontSize)) >= 48);
  assert.ok(await page.locator('.pl-from').first().isVisible(), 'and from what');
  assert.ok(touches <= 3, `${touches} touches`);
  t.diagnostic(`${touches} touch`);
  // black on white whatever the theme, nothing cut off, the picture drawn
  const look = await page.locator('.pl').evaluate(e => ({ ink: getComputedStyle(e).color, ground: getComputedStyle(e.closest('dialog')).backgroundColor, wide: document.querySelector('#placing').scrollWidth, picture: e.querySelectorAll('.pl-picture svg polyline').length, hooks: e.querySelectorAll('.pl-picture svg circle').length }));
  assert.equal(look.ink, 'rgb(0, 0, 0)');
  assert.equal(look.ground, 'rgb(255, 255, 255)');
  assert.ok(look.wide <= 390);
  assert.ok(look.picture >= 2 && look.hooks >= 2, JSON.stringify(look));
  const done = await page.locator('.pl-done').boundingBox();
  assert.ok(done.height >= 64 && done.width >= 180 && done.y + done.height <= 844 + 1, JSON.stringify(done));
  assert.ok(Math.abs(done.x + done.width / 2 - 195) < 8, 'for either hand');
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test('readings typed tell at once how the point lies, are kept, and a wrong one is seen', async () => {
  const page = await open(browser, phone);
  await page.locator('#place-start').tap();
  const texts = await page.locator('.pl-say').evaluateAll(all => all.map(b => b.textContent));
  const lengths = texts.map(x => x.match(/(?:(\d+) ft )?(\d+)?(?:-?(\d+)\/(\d+))? ?in$/)).map(m => [12 * (m[1] || 0) + +(m[2] || 0), m[3] ? 16 * m[3] / m[4] : 0]);
  await page.locator('.pl-tape').nth(0).tap();
  await key(page, ...lengths[0]);
  await key(page, ...lengths[1]);
  assert.match(await page.locator('.pl-says').textContent(), /as meant|off by/);
  assert.match(await page.locator('.pl-says').getAttribute('class'), /good/);
  if (lengths[2]) {
    await key(page, lengths[2][0] + 1, lengths[2][1]); // an inch too long
    assert.match(await page.locator('.pl-says').getAttribute('class'), /warn/);
  }
  await page.locator('.pl-done').tap();
  assert.match(await page.locator('.pl-head p').textContent(), /^point 2 of/);
  await page.locator('.pl-close').tap();
  await page.reload();
  assert.equal(await page.locator('[data-key^="place"]').evaluateAll(all => all.filter(b => b.checked).length), 1);
  await page.locator('#place-start').tap();
  assert.match(await page.locator('.pl-head p').textContent(), /^point 2 of/, 'the next that is not done');
  await page.locator('.pl-step').first().tap();
  assert.match(await page.locator('.pl-read').first().textContent(), /in$/, 'readings are kept');
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test('what was typed on the phone goes into tape --measured, which says the same', { skip: !program }, async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'book-'));
  const page = await open(browser, { ...phone, acceptDownloads: true });
  const id = report.markings[0].id;
  const answer = await page.evaluate(() => document.querySelector('#place-data').textContent);
  const data = JSON.parse(answer), m = data.markings.find(x => x.id === id);
  await page.locator(`#m-${id} > summary`).tap();
  await page.locator(`[data-place="${id}"]`).tap();
  // the film lies 1/4 in to the right: readings to a sixteenth
  for (let i = 0; i < m.points.length; i++) {
    for (let k = 0; k < m.points[i].tapes.length; k++) {
      const t = m.points[i].tapes[k], n = Math.round((t.length + .25 * (t.slope ? t.slope[0] : -t.along[0])) * 16);
      if (k === 0) await page.locator('.pl-tape').nth(0).tap();
      await key(page, Math.floor(n / 16), n % 16);
    }
    if (i + 1 < m.points.length) await page.locator('.pl-step').last().tap();
  }
  const said = await page.locator('.pl-says').textContent();
  assert.match(said, /off by (1\/4|3\/16|5\/16) in right/);
  await page.locator('.pl-close').tap();
  const [download] = await Promise.all([page.waitForEvent('download'), page.locator('#state-save').tap()]);
  const saved = path.join(folder, 'job-state.json');
  await download.saveAs(saved);
  const run = spawnSync(program, ['tape', '--measured', saved, '--json', '--limit', '1 in'], { encoding: 'utf8' });
  assert.ok(run.status === 0 || run.status === 1, run.stderr);
  const text = JSON.stringify(JSON.parse(run.stdout));
  assert.ok(text.includes(id), text.slice(0, 300));
  const built = spawnSync(program, ['tape', '--measured', saved, '--limit', '1 in'], { encoding: 'utf8' }).stdout;
  const last = m.points.at(-1).id, row = built.split('\n').find(l => l.startsWith(`| ${last} |`)).split('|').map(s => s.trim());
  const right = Number(row[2]), shown = said.match(/off by (\d+)\/(\d+) in right/);
  assert.ok(Math.abs(shown[1] / shown[2] - right) <= 1 / 32 + 1e-3, `${said} against ${right}`);
  fs.rmSync(folder, { recursive: true });
  await page.context().close();
});

test('millimetres, keys of a keyboard, and the way back', async () => {
  const page = await open(browser, { viewport: { width: 844, height: 390 }, hasTouch: true });
  await page.locator('#place-start').click();
  await page.locator('.pl-unit').click();
  assert.match(await page.locator('.pl-say').first().textContent(), /mm$/);
  await page.locator('.pl-tape').first().click();
  await page.keyboard.type('522.5');
  assert.match(await page.locator('.pl-read').first().textContent(), /522\.5 mm/);
  const wide = await page.locator('#placing').evaluate(e => e.scrollWidth);
  assert.ok(wide <= 844, `${wide}`);
  await page.keyboard.press('Escape');
  assert.ok(await page.locator('#place-start').isVisible());
  await page.context().close();
});
