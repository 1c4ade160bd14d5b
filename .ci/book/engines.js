// Three browsers behind one face: profile() has seen nothing, open() shows a file in it,
// run() calls a function in the page. What is asked of every browser is in every.test.js.
import fs from 'node:fs';
import { pathToFileURL } from 'node:url';
import puppeteer from 'puppeteer-core';
import { start } from './browser.js';
import { startWebKit, webkitThere } from './webkit.js';

const executablePath = process.env.FIREFOX || '/usr/bin/firefox-esr';
const listen = page => {
  page.on('console', m => { if (m.type() === 'error') page.complaints.push(m.text()); });
  page.on('pageerror', e => page.complaints.push(e.message));
  page.on('request', r => { if (!/^(file|data|blob):/.test(r.url())) page.complaints.push(`asked of a network: ${r.url()}`); });
};
const faced = page => {
  page.complaints = [];
  listen(page);
  return { complaints: page.complaints, run: (f, ...args) => page.evaluate(`(${f})(...${JSON.stringify(args)})`), reload: () => page.reload(), close: () => page.close() };
};

export const engines = [
  {
    name: 'Chromium', there: true, forced: true,
    async launch({ forced } = {}) {
      const browser = await start({ solid: true });
      return {
        async profile() {
          const context = await browser.newContext({ offline: true, forcedColors: forced ? 'active' : 'none' });
          return {
            async open(file, width = 1200, height = 900) {
              const page = await context.newPage(), face = faced(page);
              await page.setViewportSize({ width, height });
              await page.goto(pathToFileURL(file).href);
              return face;
            },
            close: () => context.close(),
          };
        },
        close: () => browser.close(),
      };
    },
  },
  {
    name: 'Firefox', there: fs.existsSync(executablePath), forced: true,
    async launch({ forced } = {}) {
      const browser = await puppeteer.launch({ browser: 'firefox', executablePath, headless: true, args: ['--no-remote'], extraPrefsFirefox: { 'webgl.force-enabled': true, 'network.captive-portal-service.enabled': false, 'network.connectivity-service.enabled': false, 'app.update.enabled': false, 'datareporting.policy.dataSubmissionEnabled': false, 'browser.safebrowsing.update.enabled': false, ...(forced ? { 'browser.display.document_color_use': 2 } : {}) } });
      return {
        async profile() {
          const context = await browser.createBrowserContext();
          return {
            async open(file, width = 1200, height = 900) {
              const page = await context.newPage(), face = faced(page);
              await page.setViewport({ width, height });
              await page.goto(pathToFileURL(file).href);
              return face;
            },
            close: () => context.close(),
          };
        },
        close: () => browser.close(),
      };
    },
  },
  { name: 'WebKit', there: webkitThere, launch: startWebKit },
];
