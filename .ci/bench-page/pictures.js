// Pictures of the page to look at: node pictures.js FOLDER [demo|sandling|readme]; bench.png
// is that of the README, in testdata/pictures.
import fs from 'node:fs';
import path from 'node:path';
import { serve, start } from './browser.js';

const folder = process.argv[2] || 'pictures', asked = process.argv[3];
fs.mkdirSync(folder, { recursive: true });
const browser = await start();
const jobs = ['Photograph', 'Lay out', 'Check', 'Film', 'Place'];

async function shown(server, layout, name, options, chosen = jobs) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  page.on('pageerror', e => console.log(layout, name, e.message));
  await page.goto(await server.address());
  await page.waitForFunction(() => document.querySelector('[data-placed] path'), null, { timeout: 60_000 });
  await page.waitForTimeout(2000);
  for (const job of chosen) {
    const button = page.locator('nav.jobs button', { hasText: job });
    if (await button.isVisible()) await button.click();
    else await page.locator('.jobpick select').selectOption({ index: jobs.indexOf(job) });
    await page.waitForTimeout(4000);
    await page.screenshot({ path: path.join(folder, `${name}-${job.toLowerCase().replace(' ', '-')}.png`) });
  }
  if (name === 'readme') fs.renameSync(path.join(folder, 'readme-lay-out.png'), path.join(folder, 'bench.png'));
  await context.close();
}

for (const layout of ['demo', 'sandling']) {
  if (asked && asked !== layout && !(asked === 'readme' && layout === 'demo')) continue;
  const server = await serve(`${layout}.yaml`);
  for (const [name, width, height] of [['phone', 390, 844], ['tablet', 820, 1180], ['desk', 1440, 900]]) {
    if (asked === 'readme') continue;
    await shown(server, layout, `${layout}-${name}`, { viewport: { width, height }, hasTouch: name !== 'desk' });
  }
  if (layout === 'demo') await shown(server, layout, 'readme', { viewport: { width: 1440, height: 900 }, deviceScaleFactor: 0.6 }, ['Lay out']);
  await server.end();
}
await browser.close();
