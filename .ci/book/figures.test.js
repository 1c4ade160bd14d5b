// Every figure of the book is that of report.json: the value exactly, the words by
// rounding to the digits they show.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { open, report, start } from './browser.js';

let browser, page;
before(async () => { browser = await start(); page = await open(browser); });
after(() => browser.close());

const at = (o, path) => path.split('.').reduce((v, k) => v?.[k], o);
const figuresOf = root => page.locator(root).locator('[data-figure]').evaluateAll(all => all.map(e => ({
  path: e.dataset.figure, value: Number(e.getAttribute('value')), text: e.textContent,
  marking: e.closest('[data-marking]')?.dataset.marking, point: e.closest('[data-point]')?.dataset.point,
})));

/** What a person reads, in the unit of the report. */
function read(text, path) {
  if (text.endsWith('%')) return [parseFloat(text) / 100, 0.5 * 10 ** -(text.match(/\.(\d+)/)?.[1].length ?? 0) / 100];
  const tape = text.match(/^(?:(\d+) ft )?(?:(\d+)(?=[- ]|$))?[- ]?(?:(\d+)\/(\d+))?(?: in)?$/);
  if (/(length|along|offset)_in$/.test(path) && tape) return [12 * (tape[1] || 0) + +(tape[2] || 0) + (tape[3] ? tape[3] / tape[4] : 0), 1 / 32];
  return [parseFloat(text), 0.5 * 10 ** -(text.match(/\.(\d+)/)?.[1].length ?? 0)];
}

function same(f, want) {
  assert.equal(f.value, want, `${f.marking ?? 'the book'}: ${f.path}`);
  if (f.path === '/film.run_in' && /^\d+\.\d ft$/.test(f.text)) want /= 12; // in feet in the title block
  // trailing zeros are not written, so a figure is shown to as many digits as it needs
  const [got, half] = read(f.text, f.path);
  assert.ok(Math.abs(got - want) <= half * 1.000001 + 1e-9, `${f.marking ?? 'the book'}: ${f.path}: the page says ${f.text}, the report ${want}`);
}

test('a marking that is clicked shows the figures of the report', async () => {
  assert.ok(report.markings.length > 0);
  for (const m of report.markings) {
    const link = page.locator(`.zoom a[href="#m-${m.id}"]`).first();
    await link.locator('path').first().dispatchEvent('click');
    const card = page.locator(`[data-marking="${m.id}"]`);
    await card.locator('dl').waitFor({ state: 'visible' });
    const all = await figuresOf(`[data-marking="${m.id}"]`);
    const own = all.filter(f => !f.point && !f.path.startsWith('/'));
    const paths = new Set(own.map(f => f.path));
    for (const want of ['anchor.fs', 'anchor.bl', 'anchor.wl', 'height_skin_in', 'height_side_in', 'area_in2', 'trap_in']) assert.ok(paths.has(want), `${m.id} shows ${want}`);
    if (!m.exact) assert.ok(paths.has('strain.compression') && paths.has('strain.tension'), `${m.id} shows its strain`);
    for (const f of own) same(f, at(m, f.path));
    for (const f of all.filter(f => f.path.startsWith('/'))) same(f, at(report, f.path.slice(1)));
    await page.locator(`#m-${m.id} > summary`).click();
  }
});

test('the points that place each marking stand in the book, with the readings of the report', async () => {
  const shown = (await figuresOf('#place')).filter(f => f.point);
  for (const f of shown) same(f, at(report, f.path.slice(1)));
  assert.equal(report.place.length, report.markings.length);
  for (const p of report.place) for (const q of p.points) {
    const own = shown.filter(f => f.point === q.id);
    assert.equal(own.filter(f => /ways\.0\.readings\.\d\.length_in/.test(f.path)).length, q.ways.length ? 2 : 0, q.id);
    assert.equal(own.some(f => /sigma_in$/.test(f.path)), q.ways.length > 0, q.id);
  }
});

test('every film to cut stands once, with its size and files', async () => {
  const films = report.markings.flatMap((m, i) => m.masks.flatMap((k, n) => k.tiles.map((t, j) => ({ t, path: `/markings.${i}.masks.${n}.tiles.${j}.width_in` }))));
  const shown = await figuresOf('#cut');
  for (const { t, path } of films) {
    assert.equal(shown.filter(f => f.path === path).length, 1, t.id);
    assert.equal(await page.locator(`#cut a[href="${t.svg}"]`).count(), 1, t.id);
  }
  assert.equal(await page.locator('#cut [data-key]').count(), films.length);
});

test('the figures of the whole job are those of the report', async () => {
  for (const part of ['#overview', '#cut']) {
    for (const f of await figuresOf(part)) same(f, at(report, f.path.slice(1)));
  }
});

test('verdicts are those of the check', { skip: !process.env.MASKLOFT }, async () => {
  const checked = JSON.parse(execFileSync(process.env.MASKLOFT, ['check', '--json'], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }));
  for (const one of checked.insignia) {
    const rows = await page.locator(`#m-${one.id} table.check tbody tr`).evaluateAll(all => all.map(r => ({ value: Number(r.querySelector('data').getAttribute('value')), verdict: r.querySelector('.level').textContent })));
    assert.equal(rows.length, one.checks.length, one.id);
    rows.forEach((r, i) => {
      assert.equal(r.value, one.checks[i].measured_in, `${one.id}: ${one.checks[i].what}`);
      assert.ok(r.verdict.startsWith(one.checks[i].verdict), `${one.id}: ${one.checks[i].what}`);
    });
  }
});

test('the first screen tells what check offers, by its numbers, and each decision leads to its card', { skip: !process.env.MASKLOFT }, async () => {
  const layout = execFileSync(process.env.MASKLOFT, ['start'], { encoding: 'utf8' }), folder = fs.mkdtempSync(path.join(os.tmpdir(), 'book-')), file = path.join(folder, 'mine.yaml');
  fs.writeFileSync(file, layout);
  const rows = await page.locator('.decide code').allTextContents();
  assert.ok(rows.length > 0);
  for (const row of rows) {
    const words = row.replace('LAYOUT', file).split(' '), at = page.locator('.offer', { hasText: row });
    const said = execFileSync(process.env.MASKLOFT, words.slice(1), { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
    const [, where, value] = (await at.textContent()).match(/^\[\d+\] (\S+): (\S+ \S+)/);
    assert.ok(said.includes(`${where}: ${value} (was `), said);
    fs.writeFileSync(file, layout); // as it was, for the next
  }
  fs.rmSync(folder, { recursive: true });
  for (const link of await page.locator('.decide a').all()) {
    await link.click();
    assert.ok(await page.locator(await link.getAttribute('href')).evaluate(e => e.open));
  }
});
