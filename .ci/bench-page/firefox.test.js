// The main path in Firefox, driven over WebDriver BiDi: one file from its folder is opened,
// a marking dragged and nudged, undone, a hint taken, and the text saved as a download.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, test } from 'node:test';
import puppeteer from 'puppeteer-core';
import { engine, fileURL, layout, oneFile, work } from './program.js';

const executablePath = process.env.FIREFOX || '/usr/bin/firefox-esr', there = fs.existsSync(executablePath), has = there && engine();
let browser;
const downloads = fs.mkdtempSync(path.join(work, 'downloads-'));
before(async () => {
  if (has) browser = await puppeteer.launch({
    browser: 'firefox', executablePath, headless: true, args: ['--no-remote'],
    extraPrefsFirefox: {
      'network.captive-portal-service.enabled': false, 'network.connectivity-service.enabled': false, 'app.update.enabled': false, 'datareporting.policy.dataSubmissionEnabled': false,
      'browser.safebrowsing.update.enabled': false, 'browser.download.dir': downloads, 'browser.download.folderList': 2, 'browser.helperApps.neverAsk.saveToDisk': 'application/yaml', 'browser.download.manager.showWhenStarting': false,
    },
  });
});
after(() => browser?.close());

test('Firefox: one file from its folder: drag, nudge, undo, a hint, saved as a download', { skip: has ? false : there ? 'no engine of these sources is in the program' : 'no Firefox here', timeout: 600000 }, async () => {
  const job = layout(), page = await browser.newPage(), complaints = [];
  page.on('console', m => { if (m.type() === 'error') complaints.push(m.text()); });
  page.on('pageerror', e => complaints.push(e.message));
  page.on('request', r => { if (!/^(file|data|blob):/.test(r.url())) complaints.push(`asked of a network: ${r.url()}`); });
  await page.setViewport({ width: 1440, height: 900 });
  await page.goto(fileURL(oneFile(job.file)));
  const until = (f, ...args) => page.waitForFunction(f, { timeout: 180_000 }, ...args);
  const holds = (id, want) => until((id, want) => document.getElementById(id)?.value === want, id, want);
  const text = () => page.evaluate(() => globalThis.maskloftSession.text.toString());
  await until(() => document.querySelector('[data-placed="code-left"] path'));
  const was = await text();
  assert.equal(was, job.text);
  // dragged: one splice
  const at = await page.evaluate(() => { const r = document.querySelector('.pane0 [data-placed="code-left"] path').getBoundingClientRect(); return { x: r.left + r.width / 2, y: r.top + r.height / 2 }; });
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x + 30, at.y - 6, { steps: 4 });
  await until(() => document.querySelector('.hand .held'));
  await page.mouse.move(at.x + 60, at.y, { steps: 4 });
  await page.mouse.up();
  await until(() => document.querySelector('#field-fs')?.value && document.querySelector('#field-fs').value !== '184');
  const moved = await text();
  assert.match(moved, /side: both, fs: [^,]+ in, wl: /);
  await until(() => !document.querySelector('.hand .held'));
  await page.click('.undo');
  await holds('field-fs', '184');
  assert.equal(await text(), was);
  // nudged
  await page.focus('#drawing');
  await page.keyboard.press('ArrowUp');
  await holds('field-height', '53-1/16');
  await page.click('.undo');
  await holds('field-height', '53');
  // a hint, one touch; what it was is gone
  await until(() => [...document.querySelectorAll('.hint')].some(b => b.textContent === 'Up 1/8 in'));
  await page.evaluate(() => [...document.querySelectorAll('.hint')].find(b => b.textContent === 'Up 1/8 in').click());
  await until(() => [...document.querySelectorAll('.finding.gone')].some(f => /inspection ring/.test(f.textContent)));
  // saved: Firefox lets no page write a file
  assert.equal(await page.evaluate(() => typeof globalThis.showSaveFilePicker), 'undefined');
  await page.click('.save');
  await until(() => /as a download/.test(document.querySelector('.status .first').textContent));
  let file;
  for (let i = 0; i < 300 && !file; i++) { await new Promise(r => setTimeout(r, 200)); file = fs.readdirSync(downloads).find(n => /\.yaml$/.test(n) && fs.statSync(path.join(downloads, n)).size > 0 && !fs.existsSync(path.join(downloads, `${n}.part`))); }
  assert.ok(file, 'the download is there');
  assert.equal(fs.readFileSync(path.join(downloads, file), 'utf8'), await text());
  assert.deepEqual(complaints, []);
});
