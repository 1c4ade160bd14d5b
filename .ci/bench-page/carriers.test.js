// The same session over both carriers: the program on the loopback address and the engine
// inside one file, from a folder and offline.
import test, { after } from 'node:test';
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { createHash } from 'node:crypto';
import { spawnSync } from 'node:child_process';
import { ask, engine, fileURL, layout, oneFile, open, program, serve, start } from './program.js';

const browser = await start();
after(() => browser.close());
const has = engine();
const why = has ? false : 'no engine of these sources is in the program: go generate ./export/bench, and build again';

// what is done, and what is compared of each answer
const session = [
  ['skins'], ['scene'], ['markings'], ['figure', { marking: 'code' }], ['outline', { marking: 'code' }], ['outline', { marking: 'insignia', exact: true }],
  ['film', { marking: 'insignia' }], ['film', { marking: 'code' }], ['run'], ['findings'], ['check'], ['place'],
  ['edit', { path: 'markings[code].where.wl', value: '52-3/4 in', label: 'code' }], ['findings', { after: 'HASH' }], ['film', { marking: 'code' }],
  ['edit', { splice: { from: 0, to: 0, insert: '# m\u00fcde\n' }, label: 'typing' }], ['undo'], ['undo'], ['redo'],
  ['edit', { path: 'markings[code].where.wl', value: '53-1/8/2' }], ['scene'], ['undo'],
  ['rules', { nation: 'us', on: '1943-07' }], ['rule', { rule: 'an-i-9b/star-and-bars', size: '20 in' }], ['alphabets', { text: 'K4' }],
  ['fly'], ['film', { marking: 'nothing' }], ['edit', {}],
];

async function recorded(page) {
  const out = [];
  for (const [word, fields = {}] of session) {
    out.push(await page.evaluate(async ([w, f]) => {
      const b = globalThis.maskloftSession;
      if (f.after) f.after = globalThis.before;
      globalThis.before = b.hash;
      try {
        if (w === 'edit') { const { label, ...change } = f; return { body: await b.edit(change, label) }; }
        if (w === 'undo' || w === 'redo') return { body: await b[w]() };
        return { body: await b.ask(w, f) };
      } catch (e) {
        return { error: e.error || String(e) };
      }
    }, [word, fields]));
  }
  return out;
}

test('both carriers give equal answers', { skip: why, timeout: 400000 }, async () => {
  const job = layout();
  const p = await serve(job.file);
  const native = await open(browser, await p.address(), { origin: p.origin });
  const one = await open(browser, fileURL(oneFile(job.file)));
  const [a, b] = [await recorded(native), await recorded(one)];
  for (const [i, [word]] of session.entries()) assert.deepEqual(b[i], a[i], `${i}: ${word}`);
  assert.ok(a.filter(x => x.body).length > 20);
  assert.deepEqual([...native.complaints, ...one.complaints], []);
  await p.stop();
});

test('the pack: page, zip, worker and build give the same bytes', { skip: why, timeout: 400000 }, async () => {
  const job = layout();
  const built = path.join(job.folder, 'built');
  spawnSync(program, ['build', job.file, '-o', built]);
  const manifest = fs.readFileSync(path.join(built, 'manifest.txt'));
  const sum = createHash('sha256').update(manifest).digest('hex');
  const p = await serve(job.file);
  const native = await open(browser, await p.address(), { origin: p.origin });
  const folder = await ask(native, 'pack', { to: 'folder' });
  assert.equal(folder.manifest, sum);
  assert.deepEqual(fs.readFileSync(path.join(job.folder, folder.name, 'manifest.txt')), manifest);
  const one = await open(browser, fileURL(oneFile(job.file)));
  const inside = await ask(one, 'pack', { to: 'zip' });
  assert.equal(inside.manifest, sum);
  // the zip opens elsewhere and holds what the manifest says
  const file = path.join(job.folder, 'p.zip');
  fs.writeFileSync(file, Buffer.from(inside.zip, 'base64'));
  const py = spawnSync('/usr/bin/python3', ['-c', `
import zipfile,hashlib,sys
z=zipfile.ZipFile(sys.argv[1]); assert z.testzip() is None
m=z.read('manifest.txt').decode().splitlines()[1:]
assert len(m)+1==len(z.namelist())
for line in m:
    s,n=line.split('  ',1); assert hashlib.sha256(z.read(n)).hexdigest()==s, n
print(len(m))`, file], { encoding: 'utf8' });
  assert.equal(py.status, 0, py.stderr);

  // cancelled, it leaves nothing
  const before = fs.readdirSync(job.folder).sort();
  const code = await native.evaluate(async () => {
    const b = globalThis.maskloftSession;
    await b.edit({ path: 'markings[code].where.wl', value: '53.5 in' });
    const done = b.ask('pack', { to: 'folder', name: 'cancelled' }, { slot: 'pack' }).catch(e => e.code);
    setTimeout(() => b.cancel('pack'), 50);
    return done;
  });
  assert.equal(code, 'cancelled');
  await new Promise(r => setTimeout(r, 1500));
  assert.deepEqual(fs.readdirSync(job.folder).sort().filter(n => n !== '.mine.yaml.draft'), before);
  await p.stop();
});

test('one file: size, no request, a draft over reloads, one tab changes', { skip: why, timeout: 400000 }, async () => {
  const job = layout();
  const file = oneFile(job.file);
  assert.ok(fs.statSync(file).size <= 12e6, `${fs.statSync(file).size} bytes`);
  const tab = await browser.newContext({ offline: true });
  const page = await open(browser, fileURL(file), { tab });
  assert.equal(await page.evaluate(() => globalThis.maskloftSession.file), 'saved');
  await page.evaluate(() => globalThis.maskloftSession.edit({ path: 'markings[code].where.wl', value: '54 in' }, 'code up'));
  assert.equal(await page.evaluate(() => globalThis.maskloftSession.file), 'changed');
  const hash = await page.evaluate(() => globalThis.maskloftSession.hash);
  await page.waitForTimeout(800);

  const second = await open(browser, fileURL(file), { tab });
  assert.equal(await second.evaluate(() => globalThis.maskloftSession.locked), true);
  assert.equal(await second.evaluate(() => globalThis.maskloftSession.edit({ path: 'name', value: 'x' }).catch(e => e.code)), 'refused');
  assert.ok(await second.getByRole('button', { name: 'Change it here' }).isVisible());
  assert.ok(await page.locator('.lockedbar').isHidden());
  await second.getByRole('button', { name: 'Change it here' }).click();
  await page.getByRole('button', { name: 'Change it here' }).click();
  await second.waitForFunction(() => globalThis.maskloftSession.locked);
  await page.waitForFunction(() => !globalThis.maskloftSession.locked);
  await second.close();

  await page.reload();
  await page.waitForFunction(() => globalThis.maskloftSession);
  assert.equal(await page.evaluate(() => globalThis.maskloftSession.hash), hash, 'the draft goes on');
  assert.deepEqual(await page.evaluate(() => globalThis.maskloftSession.undoLabels), ['code up']);
  await page.evaluate(() => globalThis.maskloftSession.undo());
  assert.equal(await page.evaluate(() => globalThis.maskloftSession.text.toString()), job.text);
  await page.evaluate(() => { globalThis.showSaveFilePicker = undefined; }); // as in browsers whose pages may not write
  const [saved] = await Promise.all([page.waitForEvent('download'), page.evaluate(() => { void globalThis.maskloftSession.save(); })]);
  assert.equal(fs.readFileSync(await saved.path(), 'utf8'), job.text);
  const tried = await page.evaluate(() => fetch('https://example.org/').then(() => 'went out', () => 'refused'));
  assert.equal(tried, 'refused');
  assert.deepEqual(page.complaints.filter(c => !c.includes('example.org')), []);
  await tab.close();
});
