// Laying out: drag, nudge, undo, a hint, fields, the text and its mistakes, saving.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { after, before, beforeEach, afterEach, test } from 'node:test';
import { holds, middle, open, ready, scale, serve, start, value } from './browser.js';

let browser, server, page;
before(async () => { browser = await start(); });
after(() => browser.close());
beforeEach(async () => { server = await serve(); page = await open(browser, server); });
afterEach(async () => { await page.context().close(); await server.end(); });

const drag = async (placed, dx, dy, keys = []) => {
  const m = await middle(page, placed);
  await page.mouse.move(m.x - m.width / 3, m.y);
  await page.mouse.down();
  for (const k of keys) await page.keyboard.down(k);
  await page.mouse.move(m.x - m.width / 3 + dx / 2, m.y + dy / 2 - 12, { steps: 3 });
  await page.mouse.move(m.x - m.width / 3 + dx, m.y + dy, { steps: 3 });
  await page.waitForTimeout(120);
  return { release: async () => { await page.mouse.up(); for (const k of keys) await page.keyboard.up(k); } };
};

test('a drag writes one splice with its unit, the other side follows, undo brings every byte back', async () => {
  const was = server.text(), k = await scale(page), before = await middle(page, 'code-right');
  const held = await drag('code-left', 10 * k, 0, ['Control']);
  assert.ok(await page.locator('.hand .held').count(), 'the outline follows the hand');
  assert.match(await page.locator('.readout').innerHTML(), /in aft/);
  const hand = await page.evaluate(() => { const r = document.querySelector('.pane0 .hand .held').getBoundingClientRect(); return r.left + r.width / 2; });
  await held.release();
  await page.waitForFunction(() => document.querySelector('#field-fs')?.value !== '184');
  await page.waitForFunction(() => !document.querySelector('.hand .held'));
  const fs = await value(page, 'field-fs'), now = await middle(page, 'code-left');
  assert.ok(Math.abs(now.x - hand) < 1, `the exact outline is ${Math.abs(now.x - hand)} px from the hand's`);
  const other = await middle(page, 'code-right');
  assert.ok(before.x - other.x > 9 * k && before.x - other.x < 11 * k, 'nose to the right: aft is to the left');
  await page.keyboard.press('Control+s');
  await page.waitForFunction(() => /^saved/.test(document.querySelector('.top .file span').textContent));
  assert.equal(server.text(), was.replace('side: both, fs: 184, wl: 53}', `side: both, fs: ${fs} in, wl: 53}`));
  assert.equal(fs.length > 2 && fs.length < 9, true, fs);
  assert.equal(fs.startsWith('194') || fs.startsWith('193'), true, fs);
  await page.locator('.undo').click();
  await holds(page, 'field-fs', '184');
  await page.keyboard.press('Control+s');
  await page.waitForFunction(() => /^saved/.test(document.querySelector('.top .file span').textContent));
  assert.equal(server.text(), was);
  assert.equal(fs && (await import('node:fs')).existsSync(`${server.file}.first`), true, 'the first state is kept once');
  assert.deepEqual(page.complaints, []);
});

test('nudges within 0.8 s are one step; the step, Shift, and the other unit', async () => {
  await page.locator('.side .entry').nth(1).click();
  await page.locator('#drawing').focus();
  for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowUp');
  await holds(page, 'field-height', '53-3/16');
  await page.keyboard.press('Control+z');
  await holds(page, 'field-height', '53');
  await page.waitForTimeout(900);
  await page.keyboard.press('Shift+ArrowRight');
  await holds(page, 'field-fs', '185');
  await page.locator('#drawing').focus();
  await page.keyboard.press('.');
  await page.waitForTimeout(900);
  await page.keyboard.press('ArrowLeft');
  await holds(page, 'field-fs', '184-3/4');
});

test('the hint of the inspection ring is one touch; what it was is gone', async () => {
  const hint = page.getByRole('button', { name: 'Up 1/8 in' });
  await hint.first().waitFor({ timeout: 60_000 });
  await hint.first().click();
  await page.locator('.side .entry').nth(1).click();
  await page.waitForFunction(() => /53-/.test(document.querySelector('#field-height')?.value ?? ''));
  await page.locator('.finding.gone').first().waitFor({ timeout: 60_000 });
  assert.match(await page.locator('.finding.gone').first().innerText(), /inspection ring/);
});

test('a drag on to the limit snaps to it, and Control stops every snap', async () => {
  const k = await scale(page);
  let held = await drag('code-left', 0, -2 / 16 * k - 3);
  assert.match(await page.locator('.readout').innerHTML(), /exactly the clearance/);
  assert.ok(await page.locator('.detail.good').count(), 'a clearance below 12 px is drawn as a detail');
  await page.keyboard.press('Escape');
  await held.release();
  held = await drag('code-left', 0, -2 / 16 * k - 3, ['Control']);
  assert.doesNotMatch(await page.locator('.readout').innerHTML(), /clearance|midway|whole|level/);
  await page.keyboard.press('Escape');
  await held.release();
  await page.locator('.side .entry').nth(1).click();
  assert.equal(await value(page, 'field-height'), '53');
});

test('fields read lengths as they are typed; what is none is refused in words and never written', async () => {
  await page.locator('.side .entry').nth(1).click();
  const field = page.locator('#field-fs'), was = server.text();
  for (const [typed, now] of [['184 + 3/8', '184-3/8'], ['15 ft 5', '185'], ['4699 mm', '185'], ['+1/8', '185-1/8']]) {
    await field.fill(typed);
    await field.press('Enter');
    await holds(page, 'field-fs', now);
  }
  await field.fill('20-1/2/3');
  await field.press('Enter');
  assert.match(await page.locator('#field-fs-why').innerText(), /20-1\/2\/3.*write/);
  await field.press('Escape');
  await holds(page, 'field-fs', '185-1/8');
  assert.equal(server.text(), was, 'the file is written by Save alone');
});

/** Holds back the engine's answers to a word; the function returned lets them come, and waits until they are drawn. */
async function holdBack(word) {
  await page.evaluate(word => {
    const s = globalThis.maskloftSession, ask = s.ask.bind(s), gate = new Promise(go => { globalThis.letCome = go; });
    s.ask = (w, fields, o) => w === word ? ask(w, fields, o).then(async a => { await gate; return a; }) : ask(w, fields, o);
    globalThis.askAsBefore = () => { s.ask = ask; };
  }, word);
  return async seen => {
    await page.evaluate(() => { globalThis.askAsBefore(); globalThis.letCome(); });
    await page.waitForFunction(seen, null, { timeout: 60_000 });
    await page.evaluate(() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done))));
  };
}

test('what is typed while an answer is under way stays until it is taken, left or given up', async () => {
  await page.locator('.side .entry').nth(1).click();
  const field = page.locator('#field-fs'), at = text => page.evaluate(text => document.querySelector('.side li.on .mono').textContent.includes(text), text);
  let come = await holdBack('markings');
  await field.fill('190');
  await field.press('Enter');
  await page.waitForTimeout(200);
  assert.equal(await field.inputValue(), '190', 'what was taken does not turn back to what was, until the answer has come');
  await field.selectText();
  await page.keyboard.type('191 + 1');
  await come(() => document.querySelector('.side li.on .mono').textContent.includes('190'));
  assert.equal(await field.inputValue(), '191 + 1', 'the answer is not written into what is typed');
  assert.equal(await page.evaluate(() => document.activeElement.id + document.activeElement.selectionStart), 'field-fs7', 'the cursor stays');
  await field.press('Escape');
  await holds(page, 'field-fs', '190');
  assert.ok(await at('190'));
  // steps count from what was taken, not from what the page has yet
  come = await holdBack('markings');
  await field.press('Shift+ArrowUp');
  await field.press('Shift+ArrowUp');
  await field.fill('+1/2');
  await field.press('Enter');
  await come(() => document.querySelector('.side li.on .mono').textContent.includes('192-1/2'));
  await holds(page, 'field-fs', '192-1/2');
  // an answer that takes a part of the panel away
  come = await holdBack('markings');
  await page.locator('#field-side').selectOption('left');
  await page.locator('#field-size').selectText();
  await page.keyboard.type('13');
  await come(() => ![...document.querySelectorAll('.fields button')].some(b => b.textContent === 'Part the sides'));
  assert.equal(await page.evaluate(() => document.activeElement.id), 'field-size', 'the field keeps the focus');
  assert.equal(await value(page, 'field-size'), '13');
  await page.keyboard.press('Escape');
  // an answer where the whole field is selected to be typed over
  await field.focus();
  come = await holdBack('markings');
  await page.evaluate(() => globalThis.maskloftSession.undo());
  await field.selectText();
  await come(() => [...document.querySelectorAll('.fields button')].some(b => b.textContent === 'Part the sides'));
  await page.keyboard.type('188');
  await page.keyboard.press('Control+s'); // what is typed is saved with the rest
  await page.waitForFunction(() => /^saved/.test(document.querySelector('.top .file span').textContent));
  assert.match(server.text(), /fs: 188 in/);
});

test('what is typed in the text and what a field changes meanwhile both stay', async () => {
  await page.locator('.side .entry').nth(1).click();
  await page.locator('#drawing').focus();
  await page.keyboard.press('t');
  await page.waitForFunction(() => document.querySelector('.editor').shadowRoot.activeElement);
  await page.keyboard.press('Control+Home');
  // the change is made between a key and the page's sending of it
  await page.evaluate(() => { void globalThis.maskloftSession.edit({ path: 'markings[code].where.fs', value: '189 in' }); });
  await page.keyboard.type('# mine ');
  await page.keyboard.press('Control+s');
  for (let i = 0; i < 100 && !server.text().includes('# mine'); i++) await page.waitForTimeout(100);
  assert.match(server.text(), /^# mine [^]*fs: 189 in/);
});

test('the skin has the colour that the layout says, whatever the theme, and follows the text', async () => {
  const colour = () => page.evaluate(() => { const c = document.createElement('canvas').getContext('2d'); c.fillStyle = getComputedStyle(document.querySelector('.pane0 .skin')).fill; return c.fillStyle; });
  const said = /\n  skin: "(#[0-9a-f]{6})"/.exec(server.text())[1];
  for (const theme of ['light', 'dark']) {
    await page.locator('.top .themepick select').selectOption(theme);
    await page.waitForFunction(t => document.documentElement.dataset.theme === t, theme);
    assert.equal(await colour(), said, theme);
  }
  await page.evaluate(() => globalThis.maskloftSession.edit({ path: 'paint.skin', value: '#1c3a2a' }));
  await page.waitForFunction(() => document.querySelector('.pane1 .skin').getAttribute('fill') === '#1c3a2a');
  assert.equal(await colour(), '#1c3a2a');
  assert.deepEqual(page.complaints, []);
});

test('a mistake in the text is told at its line, the drawing stays, mended it clears', async () => {
  await page.locator('.side .entry').nth(1).click();
  await page.locator('#drawing').focus();
  await page.keyboard.press('t');
  await page.waitForFunction(() => document.querySelector('.editor').shadowRoot.activeElement);
  await page.keyboard.press('Home');
  await page.keyboard.type('x');
  await page.locator('.text .head .stop').waitFor();
  assert.match(await page.locator('.strip').innerText(), /line \d+, column \d+/);
  assert.ok(await page.locator('.panes.dim .marking path').count(), 'the last good drawing, dimmed');
  assert.ok(await page.evaluate(() => document.querySelector('.editor').shadowRoot.querySelectorAll('.cm-lint-marker-error, .cm-lintRange-error, .cm-lintPoint-error').length));
  await page.keyboard.press('Backspace');
  await page.locator('.text .head .good').waitFor();
  assert.equal(await page.locator('.panes.dim').count(), 0);
});

test('reload in the middle of work: the text is the one that was left, the file is as it was', async () => {
  const was = server.text();
  await page.locator('.side .entry').nth(1).click();
  await page.locator('#field-fs').fill('190');
  await page.locator('#field-fs').press('Enter');
  await page.waitForFunction(() => /changed/.test(document.querySelector('.top .file span').textContent));
  await page.reload();
  await ready(page);
  await page.locator('.side .entry').nth(1).click();
  await holds(page, 'field-fs', '190');
  assert.equal(server.text(), was);
  await page.locator('.undo').click();
  await holds(page, 'field-fs', '184');
});

test('the file changed meanwhile is told and not overwritten; mine goes under a new name', async () => {
  await page.locator('.side .entry').nth(1).click();
  await page.locator('#field-fs').fill('190');
  await page.locator('#field-fs').press('Enter');
  await page.waitForFunction(() => /changed/.test(document.querySelector('.top .file span').textContent));
  fs.writeFileSync(server.file, server.text() + '# by another program\n');
  await page.waitForFunction(() => /on the disk/.test(document.querySelector('.top .file span').textContent), null, { timeout: 60_000 });
  await page.keyboard.press('Control+s');
  await page.getByRole('button', { name: 'Mine under a new name' }).click();
  await page.waitForFunction(() => !/saving/.test(document.querySelector('.top .file span').textContent));
  assert.match(server.text(), /# by another program/);
  const mine = server.file.replace('.yaml', '-mine.yaml');
  for (let i = 0; i < 300 && !fs.existsSync(mine); i++) await page.waitForTimeout(100);
  assert.match(fs.readFileSync(mine, 'utf8'), /fs: 190 in/);
});

test('two tabs see one text', async () => {
  const second = await open(browser, server);
  await page.locator('.side .entry').nth(1).click();
  await page.locator('#field-fs').fill('188');
  await page.locator('#field-fs').press('Enter');
  await second.locator('.side .entry').nth(1).click();
  await holds(second, 'field-fs', '188');
  await second.context().close();
});

test('ten steps undone and redone end at the same text', async () => {
  await page.locator('.side .entry').nth(1).click();
  for (let i = 0; i < 10; i++) { // each step is answered before the next, as a hand would do it
    await page.locator('#field-fs').fill(String(185 + i));
    await page.locator('#field-fs').press('Enter');
    await page.waitForFunction(v => document.querySelector('.editor').shadowRoot.querySelector('.cm-content').innerText.includes(v), `fs: ${185 + i}`);
    await holds(page, 'field-fs', String(185 + i));
  }
  for (let i = 0; i < 10; i++) await page.locator('.undo').click();
  await holds(page, 'field-fs', '184');
  for (let i = 0; i < 10; i++) await page.locator('.redo').click();
  await holds(page, 'field-fs', '194');
});
