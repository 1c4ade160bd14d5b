// The book on paper: no word lies outside the page, and every row of every table is
// there, on Letter and on A4, with scripts and without.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { after, before, test } from 'node:test';
import { open, start, unfold } from './browser.js';

let browser, folder;
before(async () => { browser = await start(); folder = fs.mkdtempSync(path.join(os.tmpdir(), 'book-')); });
after(async () => { await browser.close(); fs.rmSync(folder, { recursive: true }); });

const entities = { '&amp;': '&', '&lt;': '<', '&gt;': '>', '&quot;': '"', '&apos;': "'" };
/** Words may be parted at a hyphen, so both sides are compared in parts. */
const partsOf = words => words.flatMap(w => w.split(/[\s\u00a0-]+/)).filter(Boolean);
function counted(words) {
  const n = new Map();
  for (const w of words) n.set(w, (n.get(w) ?? 0) + 1);
  return n;
}

for (const [format, javaScriptEnabled] of [['Letter', true], ['A4', true], ['Letter', false], ['A4', false]]) {
  test(`${format}, ${javaScriptEnabled ? 'with' : 'without'} scripts`, async t => {
    const source = await open(browser); // with scripts, to ask it what it holds
    await unfold(source);
    await source.evaluate(() => document.querySelectorAll('.skip, [data-count]').forEach(e => e.remove())); // for those who listen; counts of ticks
    await source.emulateMedia({ media: 'print' }); // links to files are left out on paper
    const rows = await source.locator('table tr').evaluateAll(all => all.map(r => [...r.cells].filter(c => c.getClientRects().length).flatMap(c => c.innerText.split(/\s+/))));
    const texts = await source.locator('dl, .findings, .prose, #about pre').evaluateAll(all => all.flatMap(e => e.innerText.split(/\s+/)));
    const page = await open(browser, { javaScriptEnabled });
    const file = path.join(folder, `${format}-${javaScriptEnabled}.pdf`);
    await page.pdf({ path: file, format, preferCSSPageSize: false });
    const boxes = execFileSync('pdftotext', ['-bbox', file, '-'], { encoding: 'utf8', maxBuffer: 1 << 28 });
    let width, height, pages = 0;
    const words = [];
    for (const line of boxes.split('\n')) {
      const p = line.match(/<page width="([\d.]+)" height="([\d.]+)"/);
      if (p) { [width, height] = [+p[1], +p[2]]; pages++; }
      const w = line.match(/<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)<\/word>/);
      if (!w) continue;
      const [x0, y0, x1, y1] = w.slice(1, 5).map(Number), text = w[5].replace(/&\w+;/g, e => entities[e] ?? e);
      assert.ok(x0 >= 0 && y0 >= 0 && x1 <= width && y1 <= height, `page ${pages}: ${text} at ${x0} ${y0} ${x1} ${y1} lies outside ${width} x ${height}`);
      words.push(text);
    }
    t.diagnostic(`${rows.length} rows of tables on ${pages} pages of ${width} x ${height} pt`);
    const want = format === 'A4' ? [595, 842] : [612, 792];
    assert.ok(Math.abs(width - want[0]) < 1.5 && Math.abs(height - want[1]) < 1.5);
    const there = counted(partsOf(words));
    const missing = [...counted(partsOf([...rows.flat(), ...texts]))].filter(([w, n]) => (there.get(w) ?? 0) < n);
    assert.deepEqual(missing.slice(0, 10), []);
    await page.context().close(); await source.context().close();
  });
}
