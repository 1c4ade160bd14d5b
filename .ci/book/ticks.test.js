// Ticks last, and only where they are true: two books of one title, a rebuilt book, a
// changed size, a changed web; saved, sent and merged on a second profile; taken back with
// one touch; and the page says where nothing can be kept.
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { open, start } from './browser.js';

const program = process.env.MASKLOFT;
let browser, folder, text;
before(async () => {
  browser = await start();
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'book-'));
  if (program) text = execFileSync(program, ['start'], { encoding: 'utf8' });
});
after(async () => { await browser.close(); fs.rmSync(folder, { recursive: true }); });

let built = 0;
/** Builds a layout and returns its book. */
function book(layout) {
  const file = path.join(folder, `l${++built}.yaml`), out = path.join(folder, `pack${built}`);
  fs.writeFileSync(file, layout);
  const run = spawnSync(program, ['build', file, '-o', out], { encoding: 'utf8' });
  assert.ok(run.status === 0 || run.status === 1, run.stderr);
  return path.join(out, 'index.html');
}
const show = async (context, file) => {
  const page = await context.newPage();
  page.on('pageerror', e => assert.fail(e.message));
  await page.goto('file://' + file);
  return page;
};
const ticked = page => page.locator('[data-key]').evaluateAll(all => all.filter(b => b.checked).map(b => b.dataset.what));
const tickAll = page => page.locator('[data-key]').evaluateAll(all => all.forEach(b => { if (!b.checked) b.click(); }));

test('ticks of a rebuilt book: what is the same keeps them, what changed loses them, nothing of another book is touched', { skip: !program }, async t => {
  const context = await browser.newContext();
  const first = await show(context, book(text));
  await tickAll(first);
  const all = await ticked(first);
  assert.ok(all.length > 20);
  t.diagnostic(`${all.length} ticks`);

  // another job of the same title
  const other = await show(context, book(text.replace(/^job: \S+/m, 'job: another-one')));
  assert.deepEqual(await ticked(other), []);
  await other.locator('[data-key]').first().evaluate(b => b.click());
  await first.reload();
  assert.deepEqual(await ticked(first), all, 'one tick in another book of the title erases none');

  // rebuilt as it was
  assert.deepEqual(await ticked(await show(context, book(text))), all);

  // one insignia of another size: its films, points and passes are new, all else is as it was
  const larger = text.replace(/size: 20 in/, 'size: 19 in');
  assert.notEqual(larger, text);
  const resized = await ticked(await show(context, book(larger)));
  assert.ok(!resized.some(w => / insignia-(left|right)/.test(w)), resized.filter(w => /insignia/.test(w)).join());
  assert.deepEqual(resized, all.filter(w => !/ insignia-(left|right)/.test(w)));

  // a narrower web: what is parted otherwise is new
  const narrow = text.replace(/web: 24 in/, 'web: 15 in');
  assert.notEqual(narrow, text);
  const parted = await show(context, book(narrow)), kept = await ticked(parted), there = await parted.locator('[data-key]').evaluateAll(b => b.map(x => x.dataset.what));
  assert.ok(kept.length > 0 && kept.length < there.length, `${kept.length} of ${there.length}`);
  assert.ok(kept.every(w => all.includes(w)));

  // and the first book has them all still
  await first.reload();
  assert.deepEqual(await ticked(first), all);
  await context.close();
});

test('saved, opened on a second profile, and a text of it merged back', { skip: !program }, async () => {
  const file = book(text), one = await browser.newContext({ acceptDownloads: true }), two = await browser.newContext();
  const a = await show(one, file), b = await show(two, file);
  await a.locator('#who').fill('Ann');
  await a.locator('#who').blur();
  await a.locator('[data-key]').nth(0).evaluate(x => x.click());
  await b.locator('[data-key]').nth(1).evaluate(x => x.click());
  const [download] = await Promise.all([a.waitForEvent('download'), a.locator('#state-save').click()]);
  assert.equal(download.suggestedFilename(), 'job-state.json');
  const saved = path.join(folder, 'job-state.json');
  await download.saveAs(saved);
  assert.equal(Object.values(JSON.parse(fs.readFileSync(saved)).ticks)[0].by, 'Ann');
  await b.locator('#state-open').setInputFiles(saved);
  await b.waitForFunction(() => /1 new/.test(document.querySelector('#state-says').textContent));
  assert.equal((await ticked(b)).length, 2);
  await b.locator('#state-copy').click();
  const sent = await b.locator('#state-text').inputValue();
  assert.match(sent, /^maskloft1 /);
  await a.locator('#state-merge').click();
  await a.locator('#state-text').fill(sent);
  await a.locator('#state-merge').click();
  assert.equal((await ticked(a)).length, 2);
  assert.deepEqual(await ticked(a), await ticked(b));
  await a.locator('#state-text').fill(sent.slice(0, -12));
  await a.locator('#state-merge').click();
  assert.match(await a.locator('#state-says').textContent(), /missing|no text/);
  await one.close(); await two.close();
});

test('a tick is taken back with one touch, and two windows agree', async () => {
  const page = await open(browser), context = page.context();
  await page.locator('[data-key]').first().evaluate(x => x.click());
  assert.equal((await ticked(page)).length, 1);
  const second = await context.newPage();
  await second.goto(page.url());
  assert.equal((await ticked(second)).length, 1);
  await page.locator('.toast button').click();
  assert.equal((await ticked(page)).length, 0);
  await second.waitForFunction(() => !document.querySelector('[data-key]').checked);
  assert.deepEqual(page.complaints, []);
  await context.close();
});

test('where the browser keeps nothing the page says so, and works until it is closed', async () => {
  const page = await open(browser);
  await page.addInitScript(() => Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } }));
  await page.reload();
  assert.match(await page.locator('#kept').textContent(), /Ticks last until this page closes/);
  await page.locator('[data-key]').first().evaluate(x => x.click());
  assert.equal((await ticked(page)).length, 1);
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});
