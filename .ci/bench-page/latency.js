// How long the page takes, for this machine as it stands: with the program's own engine
// and with the one inside one file, on both examples. Run by .ci/bench.
import { engine, fileURL, layout, oneFile, open, serve, start } from './program.js';

const browser = await start();
const line = (what, values) => {
  const v = values.sort((a, b) => a - b);
  console.log(`${what.padEnd(58)} median ${v[v.length >> 1].toFixed(1)} ms, largest ${v[v.length - 1].toFixed(1)} ms`);
};

// after a release: the change, then the exact film and what the marking shows
const released = (page, id, fields) => page.evaluate(async ([id, path, values]) => {
  const s = globalThis.maskloftSession, out = [];
  await s.ask('film', { marking: id });
  for (const value of values) {
    const before = s.hash, t = performance.now();
    await s.edit({ path, value });
    await s.ask('film', { marking: id });
    await s.ask('findings', { marking: id, after: before });
    out.push(performance.now() - t);
  }
  return out;
}, [id, fields.path, fields.values]);

// frames while a marking is dragged by the mouse, and the script's share of each
async function dragged(page, placed, slow) {
  await page.waitForFunction(id => document.querySelector(`[data-placed="${id}"] path`), placed, { timeout: 60000 });
  const at = await page.evaluate(id => {
    const r = document.querySelector(`[data-placed="${id}"] path`).getBoundingClientRect();
    return { x: r.left + r.width / 2, y: r.top + r.height / 2 };
  }, placed);
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: slow });
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.evaluate(() => {
    globalThis.frames0 = [];
    let last = performance.now();
    const tick = now => { globalThis.frames0.push(now - last); last = now; globalThis.ticking = requestAnimationFrame(tick); };
    globalThis.ticking = requestAnimationFrame(tick);
  });
  for (let i = 0; i < 90; i++) await page.mouse.move(at.x + 40 * Math.sin(i / 10), at.y + 12 * Math.cos(i / 7));
  const frames = await page.evaluate(() => { cancelAnimationFrame(globalThis.ticking); return globalThis.frames0.slice(2); });
  await page.keyboard.press('Escape');
  await page.mouse.up();
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  return frames;
}

const jobs = [
  ['demo', '', 'code', 'code-left', { path: 'markings[code].where.wl', values: ['53.1 in', '53.2 in', '53.3 in', '53.4 in', '53.5 in'] }],
  ['demo', '', 'insignia', 'insignia-left', { path: 'markings[insignia].where.fs', values: ['134.1 in', '134.2 in', '134.3 in'] }],
];
const has = engine();
for (const [name, example, id, placed, fields] of jobs) {
  const job = layout(example);
  const p = await serve(job.file);
  const native = await open(browser, await p.address(), { origin: p.origin });
  line(`${name}, ${id}: released, native`, await released(native, id, fields));
  line(`${name}, ${id}: a frame under the hand`, await dragged(native, placed, 1));
  line(`${name}, ${id}: a frame under the hand, a quarter of the speed`, await dragged(native, placed, 4));
  await native.close();
  await p.stop();
  if (!has) continue;
  const file = oneFile(job.file);
  const shown = [];
  for (let i = 0; i < 3; i++) {
    const t = performance.now();
    const page = await open(browser, fileURL(file));
    await page.waitForFunction(id => document.querySelector(`[data-placed="${id}"] path`), placed, { timeout: 60000 });
    shown.push(performance.now() - t);
    await page.close();
  }
  line(`${name}: one file, from its folder to the drawing`, shown);
  const one = await open(browser, fileURL(file));
  line(`${name}, ${id}: released, WebAssembly`, await released(one, id, fields));
  await one.close();
}
// the second example, its first marking that has a place of its own
{
  const job = layout('sandling');
  const p = await serve(job.file);
  const page = await open(browser, await p.address(), { origin: p.origin });
  const m = await page.evaluate(async () => (await globalThis.maskloftSession.ask('markings')).markings.find(m => m.held !== 'own' && m.held !== 'between' && m.placed.length));
  const values = [1, 2, 3].map(i => `${((m.fs + i / 16) * 25.4).toFixed(2)} mm`);
  line(`sandling, ${m.id}: released, native`, await released(page, m.id, { path: `${m.path}.where.fs`, values }));
  line(`sandling, ${m.id}: a frame under the hand`, await dragged(page, m.placed[0].id, 1));
  await page.close();
  await p.stop();
  if (has) {
    const one = await open(browser, fileURL(oneFile(job.file)));
    line(`sandling, ${m.id}: released, WebAssembly`, await released(one, m.id, { path: `${m.path}.where.fs`, values }));
  }
}
await browser.close();
process.exit(0);
