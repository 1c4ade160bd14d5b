// A page of another origin, on this machine too, can neither read nor write through the
// address of the bench, with everything a page can try.
import test, { after } from 'node:test';
import assert from 'node:assert/strict';
import fs from 'node:fs';
import http from 'node:http';
import { layout, open, serve, start } from './program.js';

const browser = await start();
after(() => browser.close());

test('a foreign page', { timeout: 300000 }, async () => {
  const job = layout();
  const p = await serve(job.file);
  const own = await open(browser, await p.address(), { origin: p.origin });
  const token = await own.evaluate(() => sessionStorage.getItem('maskloft-token'));
  const foreign = http.createServer((_, r) => { r.setHeader('Content-Type', 'text/html'); r.end('<!doctype html><title>foreign</title>'); });
  await new Promise(r => foreign.listen(0, '127.0.0.1', r));
  const tab = await browser.newContext();
  const page = await tab.newPage();
  await page.goto(`http://127.0.0.1:${foreign.address().port}/`);
  const got = await page.evaluate(async ({ origin, token }) => {
    const body = JSON.stringify({ v: 1, id: 1, ask: 'open' });
    const out = {};
    const attempt = async (name, f) => { try { out[name] = await f(); } catch { out[name] = 'refused'; } };
    const text = async (path, o) => (await fetch(origin + path, o)).text();
    await attempt('read', () => text('/ask', { method: 'POST', body, headers: { 'Content-Type': 'application/json' } }));
    await attempt('with the token itself', () => text('/ask', { method: 'POST', body, headers: { 'Content-Type': 'application/json', 'Maskloft-Token': token } }));
    await attempt('simple', () => text('/ask', { method: 'POST', body, headers: { 'Content-Type': 'text/plain' } }));
    await attempt('blind', async () => { const r = await fetch(origin + '/ask', { method: 'POST', mode: 'no-cors', body }); return r.type === 'opaque' ? 'refused' : await r.text(); });
    await attempt('page', () => text('/'));
    await attempt('script', () => new Promise(done => { const s = document.createElement('script'); s.src = origin + '/page.js'; s.onload = () => done('loaded'); s.onerror = () => done('refused'); document.head.append(s); }));
    await attempt('picture', () => new Promise(done => { const i = new Image(); i.src = origin + '/'; i.onload = () => done('loaded'); i.onerror = () => done('refused'); }));
    await attempt('frame', () => new Promise(done => { const f = document.createElement('iframe'); f.src = origin + '/'; f.onload = () => { try { done(f.contentDocument?.body?.innerText ? 'read' : 'refused'); } catch { done('refused'); } }; document.body.append(f); }));
    await attempt('stored token', async () => sessionStorage.getItem('maskloft-token') ?? 'refused');
    return out;
  }, { origin: p.origin, token });
  for (const [name, is] of Object.entries(got)) assert.equal(is, 'refused', name);
  // a form that sends itself navigates, and is answered with a refusal alone
  await page.evaluate(origin => { document.body.innerHTML = `<form method="post" enctype="text/plain" action="${origin}/ask"><input name='{"v":1,"id":1,"ask":"edit","x":"' value='"}'></form>`; document.forms[0].submit(); }, p.origin);
  await page.waitForURL(p.origin + '/ask');
  assert.equal(await page.evaluate(() => document.body.innerText.includes('Kittock')), false);
  assert.equal(fs.readFileSync(job.file, 'utf8'), job.text);
  assert.deepEqual(own.complaints, []);
  foreign.close();
  await p.stop();
});

test('two tabs, the file changed outside, reload', { timeout: 300000 }, async () => {
  const job = layout();
  const p = await serve(job.file);
  const one = await open(browser, await p.address(), { origin: p.origin });
  const two = await open(browser, await p.address(), { origin: p.origin });
  await one.evaluate(() => globalThis.maskloftSession.edit({ path: 'markings[code].where.wl', value: '54 in' }, 'up'));
  const hash = await one.evaluate(() => globalThis.maskloftSession.hash);
  await two.waitForFunction(h => globalThis.maskloftSession.hash === h, hash, { timeout: 20000 });
  await two.evaluate(() => globalThis.maskloftSession.undo());
  assert.equal(await two.evaluate(() => globalThis.maskloftSession.text.toString()), job.text);
  await one.waitForFunction(h => globalThis.maskloftSession.hash !== h, hash, { timeout: 20000 });
  await one.evaluate(() => globalThis.maskloftSession.redo());
  await one.reload();
  await one.waitForFunction(() => globalThis.maskloftSession);
  assert.equal(await one.evaluate(() => globalThis.maskloftSession.hash), hash, 'the tab keeps its token');

  const theirs = job.text + '# theirs\n';
  fs.writeFileSync(job.file, theirs);
  for (const page of [one, two]) await page.waitForFunction(() => globalThis.maskloftSession.file === 'changed-on-disk', null, { timeout: 20000 });
  assert.equal(await one.evaluate(() => globalThis.maskloftSession.save().catch(e => e.code)), 'disk');
  assert.equal(fs.readFileSync(job.file, 'utf8'), theirs);
  await one.evaluate(() => globalThis.maskloftSession.takeTheirs());
  assert.equal(await one.evaluate(() => globalThis.maskloftSession.text.toString()), theirs);
  await one.evaluate(() => globalThis.maskloftSession.undo());
  await one.evaluate(() => globalThis.maskloftSession.save());
  assert.equal(fs.readFileSync(job.file, 'utf8'), await one.evaluate(() => globalThis.maskloftSession.text.toString()));
  assert.deepEqual([...one.complaints, ...two.complaints], []);
  await p.stop();
});
