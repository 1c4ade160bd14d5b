// A job of sixty stencils: how large its book is, and how soon something is seen. The
// layout is the demo's with thirty stencils on both sides, in three rows.
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { test } from 'node:test';
import { open, start } from './browser.js';

const program = process.env.MASKLOFT;

/** Milliseconds from the call of the page to its first picture, which may be yet to come. */
const firstPaint = () => new Promise(done => new PerformanceObserver((list, o) => {
  for (const e of list.getEntriesByName('first-contentful-paint')) { o.disconnect(); done(e.startTime); }
}).observe({ type: 'paint', buffered: true }));

function sixty() {
  const demo = execFileSync(program, ['start'], { encoding: 'utf8' });
  const from = demo.indexOf('\nmarkings:'), to = demo.indexOf('\nfilm:');
  let markings = '\nmarkings:\n';
  for (let i = 0; i < 30; i++) {
    const figure = `{text: FUEL ${i}, alphabet: block-6x4, height: 1 in}`, rest = 'handed: text\n    colours: {text: insignia-white}';
    markings += `  - id: mark-${i + 1}\n    figure: ${figure}\n    where: {surface: fuselage, side: both, fs: ${127 + 8.5 * (i % 10)}, wl: ${[45.5, 53, 60.5][Math.floor(i / 10)]}}\n    true: skin\n    ${rest}\n    evidence: [E-2]\n\n`;
  }
  return demo.slice(0, from) + markings + demo.slice(to);
}

test('the book of sixty stencils is under 1.5 MB, opens at once and is searched at once', { skip: !program }, async t => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'book-'));
  t.after(() => fs.rmSync(folder, { recursive: true }));
  const layout = path.join(folder, 'sixty.yaml'), out = path.join(folder, 'pack');
  fs.writeFileSync(layout, sixty());
  const built = spawnSync(program, ['build', layout, '-o', out], { encoding: 'utf8' });
  assert.ok(built.status === 0 || built.status === 1, built.stderr); // 1: a finding says stop
  const file = path.join(out, 'index.html'), size = fs.statSync(file).size;
  t.diagnostic(`index.html of 60 stencils: ${(size / 1e6).toFixed(2)} MB`);
  assert.equal(JSON.parse(fs.readFileSync(path.join(out, 'report.json'))).markings.length, 60);
  const browser = await start();
  t.after(() => browser.close());
  const times = [];
  for (let i = 0; i < 3; i++) {
    const page = await open(browser, { file });
    times.push(await page.evaluate(firstPaint));
    assert.deepEqual(page.complaints, []);
    await page.context().close();
  }
  t.diagnostic(`first contentful paint: ${times.map(v => Math.round(v)).join(', ')} ms`);
  assert.ok(size < 1.5e6, `${size} bytes`);
  // a key of the search at a quarter of the speed
  const page = await open(browser, { file }), slow = await page.context().newCDPSession(page);
  await page.locator('#search').focus();
  await page.keyboard.type('m'); // the index is made at the first
  await slow.send('Emulation.setCPUThrottlingRate', { rate: 4 });
  const keys = await page.evaluate(() => {
    const s = document.querySelector('#search'), out = [];
    for (const text of ['ma', 'mar', 'mark', 'mark-', 'mark-1', 'mark-12', 'mark-1', 'white', 'fuel 7']) {
      s.value = text;
      const t = performance.now();
      s.dispatchEvent(new Event('input'));
      document.querySelector('#hits').getBoundingClientRect(); // laid out
      out.push(performance.now() - t);
    }
    return out;
  });
  await slow.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  keys.sort((a, b) => a - b);
  t.diagnostic(`a key of the search at a quarter of the speed: median ${keys[4].toFixed(0)} ms, worst ${keys.at(-1).toFixed(0)} ms`);
  assert.ok(keys[4] < 50, `${keys[4]} ms`);
  assert.ok(Math.min(...times) < 5000); // the figure to hold is 1000 on a machine that does nothing else
});
