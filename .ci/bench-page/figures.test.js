// Check and Film show the numbers that the command line prints: each of them, against
// check --json and build --json, to the rounding that the page shows.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { after, before, describe, test } from 'node:test';
import { layout, open, program, serve, start } from './program.js';

let browser;
before(async () => { browser = await start(); });
after(() => browser.close());

// what the page writes: 20-1/2, 7/16, 12.345 or 520.7
const number = text => {
  const m = /^(-)?(?:(\d+)-)?(\d+)\/(\d+)$/.exec(text.trim());
  const n = m ? (m[1] ? -1 : 1) * (Number(m[2] ?? 0) + m[3] / m[4]) : Number(text.trim());
  assert.ok(Number.isFinite(n), `"${text}" is a number`);
  return n;
};

for (const example of ['', 'sandling']) describe(example || 'demo', () => {
  let job, served, page, report, unit;
  before(async () => {
    job = layout(example);
    served = await serve(job.file);
    page = await open(browser, await served.address(), { origin: served.origin });
    const pack = path.join(job.folder, 'pack');
    report = JSON.parse(execFileSync(program, ['build', job.file, '--json', '-o', pack], { encoding: 'utf8', maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'ignore'] }));
    unit = await page.evaluate(() => globalThis.maskloftSession.units);
  });
  after(async () => { await page?.context().close(); await served?.stop(); });
  const go = name => page.locator('nav.jobs button', { hasText: name }).click();
  const same = (text, inches, what, within = unit === 'mm' ? 0.051 : 1 / 64 + 1e-6) => {
    const m = /^(\S+)(?: (in|mm))?$/.exec(text.trim());
    assert.ok(m, `${what}: "${text}"`);
    const shown = number(m[1]), want = (m[2] ?? unit) === 'mm' ? inches * 25.4 : inches;
    assert.ok(Math.abs(shown - want) <= within, `${what}: the page shows ${text}, the program ${want}`);
  };

  test('check: every dimension of every figure', async () => {
    // check ends with 1 where something was found
    let printed;
    try { printed = execFileSync(program, ['check', job.file, '--json'], { encoding: 'utf8', maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'ignore'] }); } catch (e) { printed = e.stdout; }
    const want = JSON.parse(printed).insignia;
    await go('Check');
    await page.waitForFunction(() => document.querySelector('.check .sheet') && !/is being measured/.test(document.querySelector('.check').textContent), null, { timeout: 120_000 });
    const shown = await page.locator('.check .sheet').evaluateAll(all => all.map(s => ({
      name: s.querySelector('h3').textContent, rule: s.querySelector('.head .mono').textContent,
      rows: [...s.querySelectorAll('tbody tr')].map(r => [r.querySelector('b').textContent, ...[...r.querySelectorAll('td')].slice(1, 5).map(d => d.textContent)]),
    })));
    let compared = 0;
    for (const i of want) {
      const base = i.id.replace(/-(left|right)$/, '');
      const sheet = shown.find(s => s.name === `${base}, both sides` && s.rule === i.rule) ?? shown.find(s => s.name === `${base}, ${i.id.slice(base.length + 1)}`) ?? shown.find(s => s.name === i.id);
      assert.ok(sheet, `${i.id} has a sheet: ${shown.map(s => s.name)}`);
      assert.equal(sheet.rule, i.rule);
      assert.equal(sheet.rows.length, i.checks.length, i.id);
      for (const c of i.checks) {
        const rows = sheet.rows.filter(r => r[0] === c.dimension);
        assert.equal(rows.length, i.checks.filter(x => x.dimension === c.dimension).length, c.dimension);
        const right = rows.some(row => {
          const [, wanted, found, off, verdict] = row, deg = c.unit === 'deg';
          if (verdict !== c.verdict) return false;
          const far = (text, inches, ratio, within) => {
            if (text === '0') return Math.abs(inches) < 0.001;
            const m = /^(\S+) (in|mm|deg)$/.exec(text);
            if (!m) return false;
            return Math.abs(number(m[1]) - (m[2] === 'deg' ? ratio : m[2] === 'mm' ? inches * 25.4 : inches)) <= (m[2] === 'deg' ? 0.00501 : m[2] === 'mm' ? 0.051 : within);
          };
          return far(wanted, c.expected_in, c.expected_ratio, 0.00051) && far(found, c.measured_in, c.ratio, 0.00051) && far(off, c.difference_in, deg ? c.ratio - (c.expected_ratio ?? 0) : NaN, 0.00051);
        });
        assert.ok(right, `${i.id}, ${c.dimension}: the page shows ${JSON.stringify(rows)}, the program ${JSON.stringify(c)}`);
        compared++;
      }
    }
    assert.equal(shown.length > 0, want.length > 0);
    assert.ok(compared >= (example ? 1 : 20), `${compared} dimensions were compared`);
  });

  test('film: the web, its price, and where each film lies on it', async () => {
    await go('Film');
    await page.locator('.nest').waitFor({ timeout: 120_000 });
    await page.locator('#film-cost').fill('2.5');
    await page.locator('.film .figures dt', { hasText: 'cost of web' }).waitFor();
    const f = report.film, list = await pairs(page.locator('.film .figures'));
    same(list.length.replace(/ \(.*$/, ''), f.run_in, 'length');
    assert.equal(list.waste, `${(f.waste * 100).toFixed(0)} %`);
    same(list['usable width'], f.usable_in, 'usable width');
    assert.equal(list['cost of web'], (2.5 * (unit === 'mm' ? f.run_in * 0.0254 : f.run_in / 12)).toFixed(2));
    const head = await page.locator('.film .head').innerText();
    assert.equal(Number(/(\d+) films/.exec(head)[1]), f.placed.length);
    same(/web (.*), \d+ films/.exec(head)[1], f.web_in, 'web');
    const drawn = await page.evaluate(() => {
      const b = e => ['x', 'y', 'width', 'height'].map(k => Number(e.getAttribute(k)));
      return { web: b(document.querySelector('.nest .web')), films: [...document.querySelectorAll('.nest .onweb')].map(g => ({ title: g.querySelector('title').textContent, box: b(g.querySelector('rect')) })) };
    });
    const k = drawn.web[3] / f.web_in, near = (a, b, what) => assert.ok(Math.abs(a / k - b) < 1e-3, `${what}: ${a / k} and ${b}`);
    near(drawn.web[2], f.run_in, 'the drawn length');
    assert.equal(drawn.films.length, f.placed.length);
    for (const p of f.placed) {
      const one = drawn.films.find(d => d.title === `${p.number}: ${p.id}`);
      assert.ok(one, `${p.number}: ${p.id}`);
      near(one.box[0] - drawn.web[0], p.x_in, `${p.id} along the web`);
      near(drawn.web[1] + drawn.web[3] - one.box[1] - one.box[3], p.y_in, `${p.id} across the web`);
      near(one.box[2], p.along_in, `${p.id} length`);
      near(one.box[3], p.across_in, `${p.id} width`);
    }
  });

  test('film: every pass of every marking', async () => {
    await go('Film');
    for (const m of report.markings) {
      const base = await page.evaluate(async id => (await globalThis.maskloftSession.ask('markings')).markings.find(m => m.placed.some(p => p.id === id)).id, m.id);
      await page.locator('.film .acts select').selectOption(base);
      await page.locator('.film .filmview').waitFor({ timeout: 120_000 });
      await page.waitForFunction(b => (document.querySelector('.filmview')?.getAttribute('aria-label') ?? '').startsWith(`Film of ${b}`), base, { timeout: 120_000 });
      const sides = page.getByRole('group', { name: 'Film of' }).getByRole('button', { name: m.id.slice(base.length + 1).replace('-', ' '), exact: true });
      if (await sides.count()) await sides.click();
      for (const [n, mask] of m.masks.entries()) {
        await page.getByRole('group', { name: 'Pass' }).getByRole('button').nth(n).click();
        await page.waitForFunction(l => document.querySelector('.filmview').getAttribute('aria-label').startsWith(l), `Film of ${m.id}, ${mask.colour}:`, { timeout: 30_000 });
        const list = await pairs(page.locator('.film dl.list')), what = `${m.id}, pass ${n + 1}`, [w, high] = list.film.split(' by ');
        same(w, mask.width_in, `${what}: width`, unit === 'mm' ? 0.051 : 1 / 2000 + 1e-6);
        same(high, mask.height_in, `${what}: height`);
        assert.equal(list.pieces, String(mask.tiles.length), what);
        assert.equal(list['loose parts'], String(mask.islands), what);
        assert.equal(list.seams, String(seamsOf(m, mask)), what);
        assert.equal(list.coats, String(mask.coats), what);
        assert.equal(list.way.split(':')[0].replace('-down', ''), mask.polarity.replace('-down', ''), what);
        assert.equal(list.sprayed, `${(mask.opening_in2 / 144).toFixed(2)} ft²`, what);
        assert.equal(list['of film'], `${(mask.area_in2 / 144).toFixed(2)} ft²`, what);
        same(list['height along the skin'], m.height_skin_in, `${what}: height along the skin`);
        same(list['height seen from the side'], m.height_side_in, `${what}: height seen from the side`);
        if (m.exact) assert.equal(list.strain, 'none: it unrolls', what);
        else {
          const [least, most] = list.strain.replace(' %', '').split(' to ').map(Number);
          assert.ok(Math.abs(least / 100 + m.strain.compression) <= 0.000051 && Math.abs(most / 100 - m.strain.tension) <= 0.000051, `${what}: ${list.strain}`);
        }
        for (const c of (m.survey.clearances ?? []).slice(0, 3)) {
          const [, far, keep] = /^(.*) \(keep (.*)\)$/.exec(list[`to the ${c.kind === 'edge' ? 'edge' : c.obstacle}`]);
          same(far, c.distance_in, `${what}: to the ${c.obstacle}`);
          same(keep, c.limit_in, `${what}: limit of the ${c.obstacle}`);
        }
      }
    }
    assert.deepEqual(page.complaints, []);
  });
});

const pairs = async list => Object.fromEntries(await list.locator('dt').evaluateAll(all => all.map(t => [t.textContent, t.nextElementSibling.textContent])));

const seamsOf = (m, mask) => (m.seams ?? []).filter(s => s.pass === undefined || s.pass === mask.pass).length;
