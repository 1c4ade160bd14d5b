// Forced colours, text at twice its size, and what a reader of the screen is told.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { holds, open, serve, start } from './browser.js';

let browser, server;
before(async () => { browser = await start(); server = await serve(); });
after(async () => { await browser.close(); await server.end(); });

test('forced colours: the page takes those of the system, paints of figures stay', async () => {
  const page = await open(browser, server, { forcedColors: 'active' });
  await page.locator('.side .entry').nth(1).click();
  const of = await page.evaluate(() => {
    const probe = (css, value) => { const e = document.createElement('i'); e.style[css] = value; document.body.append(e); const v = getComputedStyle(e)[css]; e.remove(); return v; };
    const style = (s, css) => getComputedStyle(document.querySelector(s))[css];
    return {
      canvas: probe('backgroundColor', 'Canvas'), text: probe('color', 'CanvasText'),
      body: style('body', 'backgroundColor'), name: style('.side .entry b', 'color'), paint: style('.pane0 .marking path.paint', 'fill'), hex: document.querySelector('.pane0 .marking path.paint').getAttribute('fill'),
      frame: style('.pane0 .hand .frame', 'stroke'), highlight: probe('color', 'Highlight'),
    };
  });
  const rgb = hex => `rgb(${[1, 3, 5].map(i => parseInt(hex.slice(i, i + 2), 16)).join(', ')})`;
  assert.equal(of.body, of.canvas);
  assert.equal(of.name, of.text);
  assert.equal(of.paint, rgb(of.hex), 'paints are never themed');
  assert.equal(of.frame, of.highlight, 'the selection is the system\'s highlight');
  if (process.env.PICTURES) await page.screenshot({ path: `${process.env.PICTURES}/forced.png` });
  await page.context().close();
});

test('at 200 %: half the pixels, all jobs fit and every control is there', async () => {
  const page = await open(browser, server, { viewport: { width: 720, height: 450 }, deviceScaleFactor: 2 });
  const found = [];
  for (const job of ['layout', 'check', 'film', 'place', 'photograph']) {
    await page.locator('.jobpick select').evaluate((e, j) => { e.value = j; e.dispatchEvent(new Event('change')); }, job);
    await page.waitForFunction(j => document.getElementById('bench').dataset.job === j, job);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    if (wide > 0) found.push(`${job}: ${wide} px too wide`);
    for (const b of await page.locator('.top button:visible').all()) { const r = await b.boundingBox(); if (r.x < -1 || r.x + r.width > 721) found.push(`${job}: ${await b.innerText()} lies outside`); }
  }
  if (process.env.PICTURES) await page.screenshot({ path: `${process.env.PICTURES}/twice.png` });
  assert.deepEqual(found, []);
  await page.context().close();
});

test('at 320 px the page reflows', async () => {
  const page = await open(browser, server, { viewport: { width: 320, height: 640 } });
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth), false);
  await page.context().close();
});

test('every control has a name, every region its own, and the drawing is a list of markings', async () => {
  const page = await open(browser, server);
  await page.locator('.side .entry').nth(1).click();
  const cdp = await page.context().newCDPSession(page), { nodes } = await cdp.send('Accessibility.getFullAXTree');
  const role = n => n.role?.value, name = n => (n.name?.value ?? '').trim();
  const controls = ['button', 'textbox', 'checkbox', 'combobox', 'listbox', 'option', 'link', 'radio', 'slider', 'region', 'navigation', 'dialog'];
  const bare = nodes.filter(n => !n.ignored && controls.includes(role(n)) && !name(n)).map(n => `${role(n)} ${n.backendDOMNodeId}`);
  assert.deepEqual(bare, []);
  for (const want of ['banner', 'navigation', 'main', 'complementary', 'contentinfo']) assert.ok(nodes.some(n => !n.ignored && role(n) === want), want);
  const regions = nodes.filter(n => !n.ignored && role(n) === 'region').map(name);
  assert.equal(new Set(regions).size, regions.length, `${regions}`);
  for (const want of ['Markings', 'Findings']) assert.ok(regions.includes(want), `${regions}`);
  const list = nodes.find(n => role(n) === 'listbox');
  assert.equal(name(list), 'Markings on the drawing');
  const options = nodes.filter(n => role(n) === 'option' && /, station /.test(name(n))).map(name);
  assert.equal(options.length, 4, `${options}`);
  for (const o of options) assert.match(o, /^[\w -]+, (both sides|left|right), station .*, (waterline|buttock line) .*, (clear|warning|stop|notes only|not checked yet)$/);
  // a field that refuses says why, tied to it
  await page.locator('#field-fs').fill('20-1/2/3');
  await page.locator('#field-fs').press('Enter');
  await page.locator('#field-fs-why').waitFor();
  const field = (await cdp.send('Accessibility.getFullAXTree')).nodes.find(n => role(n) === 'textbox' && name(n) === 'Station, FS');
  assert.match(field.description?.value ?? '', /20-1\/2\/3/);
  assert.equal(field.properties.find(p => p.name === 'invalid')?.value.value, 'true');
  await page.locator('#field-fs').press('Escape');
  await holds(page, 'field-fs', '184');
  await page.context().close();
});
