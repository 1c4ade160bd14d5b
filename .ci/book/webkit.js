// WebKit by its own WebDriver, over fetch: MiniBrowser of webkit2gtk on a screen that only
// Xvfb has. As much of WebDriver as the checks need.
import { spawn } from 'node:child_process';
import fs from 'node:fs';

const driver = process.env.WEBKIT_DRIVER || '/usr/bin/WebKitWebDriver';
const binary = ['4.1', '4.0', '6.0'].flatMap(v => [`/usr/lib/x86_64-linux-gnu/webkit2gtk-${v}/MiniBrowser`, `/usr/lib/aarch64-linux-gnu/webkit2gtk-${v}/MiniBrowser`]).find(f => fs.existsSync(f));
const screen = '/usr/bin/Xvfb';

/** Whether all that it needs is on this machine. */
export const webkitThere = fs.existsSync(driver) && fs.existsSync(screen) && Boolean(binary);

/** The first line that a program writes to one of its outputs. */
const firstLine = stream => new Promise((done, fail) => {
  let text = '';
  stream.on('data', d => { text += d; if (text.includes('\n')) done(text.split('\n')[0]); });
  stream.on('end', () => fail(new Error('it ended before it said anything')));
});

/** Starts the screen and the driver; profile() opens a browser that has seen nothing. */
export async function startWebKit() {
  const xvfb = spawn(screen, ['-displayfd', '3', '-screen', '0', '1600x1200x24', '-nolisten', 'tcp'], { stdio: ['ignore', 'ignore', 'ignore', 'pipe'] });
  const display = ':' + await firstLine(xvfb.stdio[3]);
  const port = 20000 + process.pid % 20000;
  const server = spawn(driver, [`--port=${port}`, '--host=127.0.0.1'], { stdio: 'ignore', env: { ...process.env, DISPLAY: display, GDK_BACKEND: 'x11', LIBGL_ALWAYS_SOFTWARE: '1' } });
  const ask = async (method, path, body) => {
    const answer = await fetch(`http://127.0.0.1:${port}${path}`, { method, body: body && JSON.stringify(body), signal: AbortSignal.timeout(90000) });
    const { value } = await answer.json();
    if (value?.error) throw new Error(`${value.error}: ${value.message}`);
    return value;
  };
  for (let n = 0; ; n++) {
    try { await ask('GET', '/status'); break; } catch (e) { if (n > 50) throw e; await new Promise(r => setTimeout(r, 100)); }
  }
  const sessions = new Set();
  return {
    async profile() {
      const { sessionId } = await ask('POST', '/session', { capabilities: { alwaysMatch: { 'webkitgtk:browserOptions': { binary, args: ['--automation'] } } } }), at = `/session/${sessionId}`;
      sessions.add(at);
      return {
        async open(file, width = 1200, height = 900) {
          await ask('POST', at + '/window/rect', { width, height: height + 60 });
          await ask('POST', at + '/url', { url: 'file://' + file });
          return {
            complaints: [],
            run: (f, ...args) => ask('POST', at + '/execute/async', { script: `const done = arguments[arguments.length - 1]; Promise.resolve((${f})(...[...arguments].slice(0, -1))).then(v => done({ v }), e => done({ e: String(e) }))`, args }).then(r => { if (r.e) throw new Error(r.e); return r.v; }),
            reload: () => ask('POST', at + '/refresh', {}),
            close: async () => {},
          };
        },
        async close() { sessions.delete(at); await ask('DELETE', at); },
      };
    },
    async close() {
      for (const at of sessions) await ask('DELETE', at).catch(() => {});
      server.kill(); xvfb.kill(); xvfb.stdio[3].destroy();
    },
  };
}
