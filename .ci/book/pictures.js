// Pictures of the book to look at: node pictures.js FOLDER
import fs from 'node:fs';
import path from 'node:path';
import { open, report, start } from './browser.js';

const folder = process.argv[2] || 'pictures';
fs.mkdirSync(folder, { recursive: true });
const first = report.markings[0].id;
const parts = process.argv[3] ? process.argv[3].split(',') : ['overview', 'sides', `m-${first}`, 'web', 'check', 'work', 'ticket', 'three'];
const browser = await start({ solid: true });
for (const [name, width, height] of [['desk', 1280, 900], ['phone', 390, 844]]) {
  for (const colorScheme of ['light', 'dark']) {
    const page = await open(browser, { viewport: { width, height }, colorScheme, hasTouch: name === 'phone', deviceScaleFactor: name === 'phone' ? 2 : 1 });
    for (const part of parts) {
      await page.evaluate(id => { location.hash = '#' + id; }, part);
      if (part === 'three') {
        await page.click('#three-start');
        await page.waitForTimeout(2500);
        for (const b of ['#three-tapes']) await page.click(b);
      }
      await page.evaluate(id => document.getElementById(id)?.scrollIntoView(), part);
      await page.waitForTimeout(150);
      await page.screenshot({ path: path.join(folder, `${name}-${colorScheme}-${part}.png`) });
    }
    if (page.complaints.length) console.log(name, colorScheme, page.complaints);
    await page.context().close();
  }
}
await browser.close();
