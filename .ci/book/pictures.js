// Pictures of the book to look at: node pictures.js FOLDER
import fs from 'node:fs';
import path from 'node:path';
import { open, report, start } from './browser.js';

const folder = process.argv[2] || 'pictures';
fs.mkdirSync(folder, { recursive: true });
const first = report.markings[0].id;
const parts = process.argv[3] ? process.argv[3].split(',') : ['overview', `m-${first}`, 'cut', 'spray', 'check', 'file', 'three', 'placing', 'keypad'];
const browser = await start({ solid: true });
for (const [name, width, height] of [['phone', 390, 844], ['tablet', 820, 1180], ['desk', 1440, 900]]) {
  for (const colorScheme of ['light', 'dark']) {
    const page = await open(browser, { viewport: { width, height }, colorScheme, hasTouch: name !== 'desk' });
    for (const part of parts) {
      if (part === 'three') {
        await page.click('#three-start');
        await page.waitForFunction(() => document.querySelector('#three-view').dataset.drawn);
        await page.selectOption('#three-tapes', { index: 1 });
      }
      if (part === 'placing') await page.click('#place-start');
      if (part === 'keypad') await page.click('.pl-tape >> nth=0');
      await page.evaluate(id => { const e = document.getElementById(id); if (e && !e.closest('dialog')) { if (e.tagName === 'DETAILS') e.open = true; e.scrollIntoView(); } }, part);
      await page.waitForTimeout(150);
      await page.screenshot({ path: path.join(folder, `${name}-${colorScheme}-${part}.png`) });
    }
    if (page.complaints.length) console.log(name, colorScheme, page.complaints);
    await page.context().close();
  }
}
await browser.close();
