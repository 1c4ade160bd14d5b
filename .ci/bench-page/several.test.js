// The file changed by two: merged, or asked. Several markings spread evenly. A page from a
// folder that saves into a file.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { after, before, test } from 'node:test';
import { holds, open as openDemo, serve as serveDemo } from './browser.js';
import { engine, fileURL, layout, oneFile, open, start } from './program.js';

let browser;
before(async () => { browser = await start(); });
after(() => browser.close());

const place = async (page, n, value) => {
  await page.locator('.side .entry').nth(n).click();
  await page.locator('#field-fs').fill(value);
  await page.locator('#field-fs').press('Enter');
  await holds(page, 'field-fs', value);
};
const onDisk = page => page.waitForFunction(() => /on the disk/.test(document.querySelector('.top .file span').textContent), null, { timeout: 120_000 });

test('both: two places of one line and a comment are merged, two steps of undo lead back to mine', async () => {
  const server = await serveDemo(), page = await openDemo(browser, server), was = server.text();
  await place(page, 1, '190');
  const theirs = was.replace('fs: 184, wl: 53}', 'fs: 184, wl: 53-1/8 in}') + '# by another program\n';
  assert.notEqual(theirs, was + '# by another program\n');
  fs.writeFileSync(server.file, theirs);
  await onDisk(page);
  await page.locator('.top .file').click();
  await page.getByRole('button', { name: 'Both: they do not clash' }).click();
  await holds(page, 'field-height', '53-1/8');
  await holds(page, 'field-fs', '190');
  assert.equal(server.text(), theirs, 'written by Save alone');
  await page.getByRole('button', { name: 'Close' }).first().click();
  await page.keyboard.press('Control+s');
  await page.waitForFunction(() => /^saved/.test(document.querySelector('.top .file span').textContent));
  assert.equal(server.text(), theirs.replace('fs: 184, wl: 53-1/8 in}', 'fs: 190 in, wl: 53-1/8 in}'));
  await page.locator('.undo').click();
  await holds(page, 'field-fs', '184');
  await page.locator('.undo').click();
  await holds(page, 'field-height', '53');
  await holds(page, 'field-fs', '190');
  assert.deepEqual(page.complaints, []);
  await page.context().close();
  await server.end();
});

test('a clash is asked: nothing is taken before it is chosen, then what was chosen stands', async () => {
  const server = await serveDemo(), page = await openDemo(browser, server), was = server.text();
  await place(page, 1, '190');
  const theirs = was.replace('fs: 184, wl: 53}', 'fs: 188, wl: 53}');
  fs.writeFileSync(server.file, theirs);
  await onDisk(page);
  await page.locator('.top .file').click();
  const both = page.getByRole('button', { name: 'Both, the clash as chosen' });
  await both.waitFor();
  assert.ok(await both.isDisabled());
  assert.match(await page.locator('.clashes').innerText(), /fs: 190 in[^]*fs: 188/);
  await page.locator('.clashes label', { hasText: 'theirs' }).locator('input').check();
  await both.click();
  await holds(page, 'field-fs', '188');
  await page.locator('.undo').click();
  await holds(page, 'field-fs', '190');
  await page.context().close();
  await server.end();
});

test('three markings are spread between the outermost two, as the buttons said', async () => {
  const server = await serveDemo(), page = await openDemo(browser, server);
  for (const n of [0, 1]) { // a third one, and a fourth that stays away
    await page.locator('.side .entry').nth(1).click();
    await page.locator('#drawing').focus();
    await page.keyboard.press('Control+d');
    await page.waitForFunction(k => document.querySelectorAll('.side .entry').length === 5 + k, n);
  }
  const at = async name => {
    await page.locator('.side .entry', { hasText: name }).first().click();
    await page.locator('h2.big', { hasText: new RegExp(`^${name}$`) }).waitFor(); // its fields stand there
    return page.locator('#field-fs').inputValue();
  };
  await page.locator('.side .entry', { hasText: 'code-2' }).click();
  await page.locator('#field-fs').fill('200');
  await page.locator('#field-fs').press('Enter');
  await holds(page, 'field-fs', '200');
  const names = ['insignia', 'code-2', 'code-3'], before = [];
  for (const n of names) before.push(await at(n));
  await page.locator('.side .entry', { hasText: names[0] }).first().click();
  for (const n of names.slice(1)) await page.locator('.side .entry', { hasText: n }).click({ modifiers: ['Shift'] });
  const button = page.getByRole('button', { name: /^Equal steps along/ });
  assert.match(await button.innerText(), /insignia 134, code-3 167, code-2 200/);
  await button.click();
  await page.waitForFunction(() => /they are/.test([...document.querySelectorAll('button')].find(b => /^Equal steps along/.test(b.textContent)).textContent));
  assert.equal(await at('code-3'), '167');
  assert.deepEqual([await at('insignia'), await at('code-2')], [before[0], before[1]]);
  await page.locator('.undo').click();
  await page.waitForFunction(() => true);
  assert.equal(await at('code-3'), before[2]);
  await page.context().close();
  await server.end();
});

// The browser's own dialog cannot be driven: what it gives, a handle of the File System
// standard, is stood in for by one that keeps its bytes here.
test('from a folder: saved into the file that was chosen, told where another wrote, a download where pages may not', { skip: engine() ? false : 'no engine of these sources is in the program: go generate ./export/bench, and build again', timeout: 400000 }, async () => {
  const job = layout(), page = await open(browser, fileURL(oneFile(job.file)));
  await page.evaluate(() => {
    globalThis.kept = { text: 'what stood there', asked: [] };
    const handle = {
      name: 'chosen.yaml',
      getFile: async () => new Blob([globalThis.kept.text]),
      createWritable: async () => { const parts = []; return { write: async b => { parts.push(new TextDecoder().decode(b)); }, close: async () => { globalThis.kept.text = parts.join(''); }, abort: async () => {} }; },
    };
    globalThis.showSaveFilePicker = async o => {
      globalThis.kept.asked.push(o.suggestedName);
      if (globalThis.kept.refuse) throw new DOMException('no', globalThis.kept.refuse);
      return handle;
    };
  });
  const kept = () => page.evaluate(() => globalThis.kept);
  const edit = wl => page.evaluate(v => globalThis.maskloftSession.edit({ path: 'markings[code].where.wl', value: v }), wl);
  const text = () => page.evaluate(() => globalThis.maskloftSession.text.toString());
  const says = what => page.waitForFunction(w => document.querySelector('.status .first').textContent.includes(w), what, { timeout: 60_000 });
  await edit('54 in');
  await page.keyboard.press('Control+s');
  await says('saved into chosen.yaml');
  assert.equal((await kept()).text, await text());
  await edit('55 in');
  await page.keyboard.press('Control+s');
  await page.waitForFunction(() => /^saved/.test(document.querySelector('.top .file span').textContent));
  assert.deepEqual((await kept()).asked, ['mine.yaml'], 'asked once');
  assert.equal((await kept()).text, await text());
  await page.evaluate(() => { globalThis.kept.text = 'by another program'; });
  await edit('56 in');
  await page.keyboard.press('Control+s');
  await says('was changed by another program');
  assert.equal((await kept()).text, 'by another program');
  await page.evaluate(() => { globalThis.kept.refuse = 'AbortError'; });
  await page.keyboard.press('Control+s');
  await says('nothing was saved');
  await page.evaluate(() => { globalThis.kept.refuse = 'SecurityError'; });
  const [saved] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
  assert.equal(fs.readFileSync(await saved.path(), 'utf8'), await text());
  await says('as a download');
  assert.deepEqual(page.complaints, []);
});
