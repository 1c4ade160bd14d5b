// How long the page takes, held against the limits of its design: with the program's own
// engine and with the one inside one file, on both examples. A wall clock tells nothing on a
// busy machine, and processor time counts several threads: the lesser of the two is judged.
// Run by .ci/bench; `node latency.js frame` runs what has "frame" in its name. It ends with 1
// where a limit is passed.
import fs from 'node:fs';
import { engine, fileURL, layout, oneFile, open, serve, start } from './program.js';

const limits = { frame: 16, native: 300, wasm: 1000, paint: 3000, told: 2000, wrong: 50, list: 50, cancel: 100 }; // ms
const only = process.argv[2] ?? '';
const browser = await start();
const machine = await browser.newBrowserCDPSession();
let over = 0;

/** Prints one line; values are [wall, processor] in ms. */
function line(what, limit, values) {
  const judged = values.map(([wall, cpu]) => Math.min(wall, Number.isNaN(cpu) ? Infinity : cpu)).sort((a, b) => a - b);
  const middle = k => values.map(v => v[k]).sort((a, b) => a - b)[values.length >> 1];
  const worst = judged[judged.length - 1], median = judged[judged.length >> 1], holds = median <= limit;
  if (!holds) over++;
  console.log(`${what.padEnd(60)} ${holds ? 'holds' : 'OVER '} ${String(limit).padStart(5)} ms: median ${median.toFixed(1)}, largest ${worst.toFixed(1)} (wall ${middle(0).toFixed(1)}, processor ${middle(1).toFixed(1)})`);
}
const wanted = what => what.includes(only);

/** Processor time of all pages until now, with their workers, ms. */
const pages = async () => (await machine.send('SystemInfo.getProcessInfo')).processInfo.filter(p => p.type === 'renderer').reduce((n, p) => n + p.cpuTime * 1000, 0);

/** Processor time of the thread that draws, ms. */
async function thread(page) {
  page.cdp ??= await page.context().newCDPSession(page);
  if (!page.metered) { page.metered = true; await page.cdp.send('Performance.enable', { timeDomain: 'threadTicks' }); }
  return (await page.cdp.send('Performance.getMetrics')).metrics.find(m => m.name === 'ThreadTime' || m.name === 'TaskDuration').value * 1000;
}

const standing = (page, placed) => page.waitForFunction(id => document.querySelector(`[data-placed="${id}"] path`), placed, { timeout: 120000 });

/** After a release: from the change until the page has the exact outline, the film and the findings that it asks for. */
async function released(page, cpu, id, path, values) {
  const once = value => page.evaluate(async ([id, path, value]) => {
    const s = globalThis.maskloftSession, t = performance.now(), left = new Set(['outline', 'film', 'findings']);
    const ask = s.ask;
    const all = new Promise((done, failed) => {
      s.ask = (word, fields = {}, o) => {
        const answer = ask.call(s, word, fields, o);
        if (fields.marking === id && left.has(word) && (word !== 'outline' || fields.exact)) answer.then(() => { left.delete(word); if (!left.size) done(performance.now() - t); }, failed);
        return answer;
      };
    });
    await s.edit({ path, value });
    const took = await all;
    s.ask = ask;
    return took;
  }, [id, path, value]);
  const idle = async () => { // what the page asks for by itself is over
    await page.waitForFunction(() => !/is being looked at/.test(document.querySelector('.strip .head').textContent), null, { timeout: 300000 });
    for (let was = await cpu(), now; ; was = now) { await page.waitForTimeout(1500); now = await cpu(); if (now - was < 60) return; }
  };
  await page.evaluate(id => globalThis.maskloftSession.ask('film', { marking: id }), id);
  const out = [];
  for (const value of values) {
    await idle();
    const was = await cpu(), wall = await once(value);
    out.push([wall, await cpu() - was]);
  }
  return out;
}

/** Frames while a marking is dragged by the mouse: wall by the frames that came, processor time of the drawing thread by each. */
async function dragged(page, placed) {
  await standing(page, placed);
  const at = await page.evaluate(id => {
    const r = document.querySelector(`[data-placed="${id}"] path`).getBoundingClientRect();
    return { x: r.left + r.width / 2, y: r.top + r.height / 2 };
  }, placed);
  await page.waitForTimeout(3000);
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x + 20, at.y + 6, { steps: 4 });
  await page.evaluate(() => {
    globalThis.frames0 = 0;
    const tick = () => { globalThis.frames0++; globalThis.ticking = requestAnimationFrame(tick); };
    globalThis.ticking = requestAnimationFrame(tick);
  });
  const rounds = [];
  for (let round = 0; round < 3; round++) {
    const cpu = await thread(page), t = performance.now(), before = await page.evaluate(() => globalThis.frames0);
    for (let i = 0; i < 60; i++) await page.mouse.move(at.x + 40 * Math.sin(i / 10), at.y + 12 * Math.cos(i / 7));
    const frames = Math.max(1, await page.evaluate(() => globalThis.frames0) - before);
    rounds.push([(performance.now() - t) / frames, (await thread(page) - cpu) / frames]);
  }
  await page.evaluate(() => cancelAnimationFrame(globalThis.ticking));
  await page.keyboard.press('Escape');
  await page.mouse.up();
  return rounds;
}

/** A pack is cancelled at several places of its way: until the page is told, and the engine answers something else. */
async function cancelled(page, cpu) {
  const out = [];
  for (const wait of [60, 250, 600, 1000]) {
    await page.waitForTimeout(500);
    const one = page.evaluate(async wait => {
      const s = globalThis.maskloftSession;
      await s.ask('disk'); // the engine is there
      const told = s.ask('pack', { to: 'zip' }, { slot: 'pack' }).then(() => 'written', e => e.code);
      await new Promise(go => setTimeout(go, wait));
      await new Promise(go => { globalThis.letGo = go; });
      const t = performance.now();
      s.cancel('pack');
      const code = await told;
      await s.ask('disk');
      return [code, performance.now() - t];
    }, wait);
    await page.waitForFunction(() => globalThis.letGo, null, { polling: 20 });
    const was = await cpu();
    await page.evaluate(() => { globalThis.letGo(); globalThis.letGo = null; });
    const [code, wall] = await one;
    if (code === 'cancelled') out.push([wall, await cpu() - was]);
    else if (code !== 'written') throw new Error(code);
  }
  if (!out.length) throw new Error('every pack was written before it was cancelled');
  return out;
}

/** From its folder to the drawing. */
async function painted(file, placed) {
  const out = [];
  for (let i = 0; i < 3; i++) {
    const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 }, offline: true })).newPage(), cpu = await thread(page), t = performance.now();
    await page.goto(fileURL(file), { waitUntil: 'commit' });
    await standing(page, placed);
    out.push([performance.now() - t, await thread(page) - cpu]);
    await page.context().close();
  }
  return out;
}

const has = engine();
if (!has) console.log('no engine for the page in one file: go generate ./export/bench');
for (const [name, example] of [['demo', ''], ['sandling', 'sandling']]) {
  const job = layout(example), p = await serve(job.file);
  const native = await open(browser, await p.address(), { origin: p.origin });
  const all = await native.evaluate(async () => (await globalThis.maskloftSession.ask('markings')).markings);
  const mm = native => native.evaluate(() => globalThis.maskloftSession.units === 'mm');
  const write = await mm(native) ? x => `${(x * 25.4).toFixed(2)} mm` : x => `${x.toFixed(3)} in`;
  const some = name === 'demo' ? all.filter(m => ['code', 'insignia'].includes(m.id)) : all.filter(m => m.held !== 'own' && m.held !== 'between' && m.placed.length && m.side === 'both' && /roundel-side|serial$|letter/.test(m.id));
  const moves = m => [1, 2, 3].map(i => write(m.fs + i / 16));
  for (const m of some) {
    if (wanted(`${name} ${m.id} released native`)) line(`${name}, ${m.id}: released, native`, limits.native, await released(native, async () => p.cpu(), m.id, `${m.path}.where.fs`, moves(m)));
    if (wanted(`${name} ${m.id} frame`)) {
      const rounds = await dragged(native, m.placed[0].id);
      line(`${name}, ${m.id}: a frame under the hand`, limits.frame, rounds);
      line(`${name}, ${m.id}: the same at a quarter of the speed, by processor time`, limits.frame, rounds.map(([w, c]) => [4 * w, 4 * c]));
    }
  }
  if (wanted(`${name} told of a changed file`)) {
    const out = [];
    for (let i = 0; i < 3; i++) {
      const t = performance.now();
      fs.appendFileSync(job.file, `# ${i}\n`);
      await native.waitForFunction(() => globalThis.maskloftSession.file === 'changed-on-disk', null, { polling: 10, timeout: 60000 });
      out.push([performance.now() - t, NaN]);
      await native.evaluate(() => globalThis.maskloftSession.takeTheirs());
      await native.waitForTimeout(1500);
    }
    line(`${name}: told that the file was changed`, limits.told, out);
  }
  if (wanted(`${name} mistake typed`)) {
    const out = [];
    for (let i = 0; i < 5; i++) {
      const was = p.cpu(), wall = await native.evaluate(async () => {
        const s = globalThis.maskloftSession, t = performance.now(), text = s.text.toString();
        await s.edit({ splice: { from: 0, to: 0, insert: 'x' } }, 'typing');
        const took = performance.now() - t;
        if (!s.problems.length) throw new Error('no mistake was told');
        await s.undo();
        if (s.text.toString() !== text) throw new Error('undo');
        return took;
      });
      out.push([wall, p.cpu() - was]);
    }
    line(`${name}: a mistake is told after the key`, limits.wrong, out);
  }
  if (wanted(`${name} pack cancelled native`)) line(`${name}: a pack is cancelled, native`, limits.cancel, await cancelled(native, async () => p.cpu()));
  await native.context().close();
  await p.stop();
  if (!has) continue;
  const file = oneFile(job.file);
  if (wanted(`${name} first paint`)) line(`${name}: one file, from its folder to the drawing`, limits.paint, await painted(file, some[0].placed[0].id));
  if (!wanted(`${name} released WebAssembly`) && !wanted(`${name} pack cancelled WebAssembly`)) continue;
  const one = await open(browser, fileURL(file));
  if (wanted(`${name} released WebAssembly`)) for (const m of some) line(`${name}, ${m.id}: released, WebAssembly`, limits.wasm, await released(one, pages, m.id, `${m.path}.where.fs`, moves(m)));
  if (wanted(`${name} pack cancelled WebAssembly`)) line(`${name}: a pack is cancelled, WebAssembly`, limits.cancel, await cancelled(one, pages));
  await one.context().close();
}
await browser.close();
process.exit(over ? 1 : 0);
