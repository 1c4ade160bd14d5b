// Where markings stand, by pixels: in the side view from the report's stations and
// waterlines, in three dimensions from outside alone; the side view over the whole screen.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { open, report, start } from './browser.js';

let browser;
before(async () => { browser = await start({ solid: true }); });
after(() => browser.close());

test('markings and hardpoints stand where the report has them, to a tenth of an inch', async t => {
  const page = await open(browser, { viewport: { width: 1440, height: 900 } });
  // the scale of a view from two points of placing, whose stations the report gives
  const data = await page.evaluate(() => JSON.parse(document.querySelector('#place-data').textContent));
  let most = 0, count = 0;
  for (const view of ['view-left', 'view-right']) {
    const seen = data.markings.filter(m => m.view === view).flatMap(m => m.points.map(p => ({ p, skin: report.checkpoints.find(c => c.id === p.id).skin })));
    const a = seen[0], b = seen.find(s => Math.abs(s.skin.fs - a.skin.fs) > 40);
    const scale = (b.p.seen[0] - a.p.seen[0]) / (b.skin.fs - a.skin.fs);
    assert.ok(view === 'view-left' ? scale > 0 : scale < 0, 'the nose points the way it should');
    for (const s of seen) {
      most = Math.max(most, Math.abs((s.p.seen[0] - a.p.seen[0]) / scale - (s.skin.fs - a.skin.fs)), Math.abs((a.p.seen[1] - s.p.seen[1]) / Math.abs(scale) - (s.skin.wl - a.skin.wl)));
      count++;
    }
    // the paint of a marking is drawn among its points
    for (const m of data.markings.filter(m => m.view === view)) {
      const box = await page.locator(`#${view} svg a[href="#m-${m.id}"]`).evaluate(g => { const r = g.getBBox(); return [r.x + r.width / 2, r.y + r.height / 2]; });
      const xs = m.points.map(p => p.seen[0]), ys = m.points.map(p => p.seen[1]);
      const mid = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
      assert.ok(Math.hypot(box[0] - mid[0], box[1] - mid[1]) < Math.abs(scale) * 12, `${m.id} at ${box}, its points round ${mid}`);
    }
  }
  t.diagnostic(`${count} points, the worst out by ${most.toFixed(3)} in`);
  assert.ok(most < 0.1, `${most} in`);
  await page.context().close();
});

test('the side view fills the screen in landscape, and a marking that is touched leads to its card', async () => {
  const page = await open(browser, { viewport: { width: 844, height: 390 }, hasTouch: true, isMobile: true });
  await page.locator('#view-left [data-do=full]').tap();
  await page.waitForTimeout(200);
  const box = await page.locator('#view-left svg').boundingBox();
  assert.ok(box.width >= 800 && box.height >= 330, JSON.stringify(box));
  const m = report.markings.find(m => m.side === 'left').id;
  const at = await page.locator(`#view-left svg a[href="#m-${m}"]`).boundingBox();
  await page.touchscreen.tap(at.x + at.width / 2, at.y + at.height / 2);
  await page.waitForFunction(id => document.getElementById('m-' + id).open, m);
  assert.ok(await page.locator('#view-left').evaluate(e => !e.classList.contains('full')));
  assert.deepEqual(page.complaints, []);
  await page.context().close();
});

test('in three dimensions paint is on the outside alone, and the page scrolls past', async () => {
  const page = await open(browser, { viewport: { width: 1000, height: 700 } });
  await page.locator('#three-start').click();
  await page.waitForFunction(() => document.querySelector('#three-view').dataset.drawn);
  const names = () => page.locator('#three-names span:visible').evaluateAll(all => all.map(s => s.textContent));
  await page.locator('#three-left').click();
  const left = await names();
  await page.locator('#three-right').click();
  const right = await names();
  for (const m of report.markings.filter(m => m.side === 'left')) { assert.ok(left.includes(m.id), left.join()); assert.ok(!right.includes(m.id), right.join()); }
  // cut open from above, the far side shows no paint within: orange of the fin's number apart, blue counts
  const blue = () => page.locator('#three-view').evaluate(c => {
    const copy = document.createElement('canvas'); copy.width = c.width; copy.height = c.height;
    const x = copy.getContext('2d'); x.drawImage(c, 0, 0);
    const d = x.getImageData(0, 0, c.width, c.height).data; let n = 0;
    for (let i = 0; i < d.length; i += 4) if (Math.abs(d[i] - 23) < 30 && Math.abs(d[i + 1] - 32) < 30 && Math.abs(d[i + 2] - 53) < 30) n++;
    return n;
  });
  await page.locator('#three-left').click();
  const outside = await blue();
  assert.ok(outside > 200, `${outside} pixels of blue from outside`);
  await page.evaluate(() => scrollTo(0, 0));
  await page.locator('#three-view').scrollIntoViewIfNeeded();
  const box = await page.locator('#three-view').boundingBox(), was = await page.evaluate(() => scrollY);
  await page.mouse.move(box.x + 100, box.y + 100);
  await page.evaluate(() => document.activeElement.blur());
  await page.mouse.wheel(0, -200);
  await page.waitForFunction(was => scrollY < was, was);
  await page.context().close();
});

test('a finger on the view in three dimensions scrolls the page; two turn it', async () => {
  const page = await open(browser, { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  await page.locator('#three-start').tap();
  await page.waitForFunction(() => document.querySelector('#three-view').dataset.drawn);
  await page.evaluate(() => document.querySelector('#three-view').scrollIntoView({ block: 'center' }));
  const box = await page.locator('#three-view').boundingBox(), x = box.x + box.width / 2, y = box.y + box.height / 2, was = await page.evaluate(() => scrollY);
  const touch = await page.context().newCDPSession(page);
  const finger = (type, dy) => touch.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y: y + dy }] });
  await finger('touchStart', 0);
  for (let i = 1; i <= 10; i++) await finger('touchMove', 20 * i);
  await finger('touchEnd');
  await page.waitForFunction(was => scrollY < was - 100, was);
  await page.waitForFunction(() => { const still = window.wasAt === scrollY; window.wasAt = scrollY; return still; }, null, { polling: 200 }); // it rolls on
  const look = () => page.locator('#three-view').evaluate(c => { const copy = document.createElement('canvas'); copy.width = c.width; copy.height = c.height; const g = copy.getContext('2d'); g.drawImage(c, 0, 0); let h = 0; for (const v of g.getImageData(0, 0, c.width, c.height).data) h = (h * 31 + v) | 0; return h; });
  const first = await look(), now = await page.locator('#three-view').boundingBox(), mid = now.y + now.height / 2;
  const fingers = (type, ...at) => touch.send('Input.dispatchTouchEvent', { type, touchPoints: at.map(([dx, dy], id) => ({ x: x + dx, y: mid + dy, id })) });
  await fingers('touchStart', [-40, 0], [40, 0]);
  for (let i = 1; i <= 5; i++) await fingers('touchMove', [-40 + 12 * i, 0], [40 + 12 * i, 0]);
  await fingers('touchEnd');
  let turned = false; // it is drawn with the next frame
  for (let i = 0; i < 100 && !turned; i++) { turned = await look() !== first; if (!turned) await page.waitForTimeout(100); }
  assert.ok(turned, 'it turns');
  await page.context().close();
});
