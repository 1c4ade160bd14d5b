// Writing the pack: into the folder or as a zip, with what is done and a way to stop it.
import type { Bench } from './bench.ts';
import { h } from './dom.ts';
import { refusal } from './engine.ts';
import type { Packed } from './protocol.ts';

const now = { running: '' as '' | 'folder' | 'zip', said: [] as string[], step: 0, n: 0, done: null as Packed | null, why: '' };

async function write(bench: Bench, to: 'folder' | 'zip'): Promise<void> {
  Object.assign(now, { running: to, said: [], step: 0, n: 0, done: null, why: '' });
  bench.draw();
  try {
    now.done = await bench.engine.ask<Packed>('pack', { to }, { slot: 'pack', onStep: s => { now.step = s.step; now.n = s.n ?? 0; now.said.push(s.say); bench.draw(); } });
    const zip = now.done.zip;
    if (to === 'zip' && zip) {
      const bytes = Uint8Array.from(atob(zip), c => c.charCodeAt(0)), url = URL.createObjectURL(new Blob([bytes], { type: 'application/zip' }));
      const a = h('a', { href: url, download: now.done.name || 'maskloft-pack.zip' });
      document.body.append(a);
      a.click();
      a.remove();
      setTimeout(() => URL.revokeObjectURL(url), 60_000);
    }
    bench.say(`the pack is written: ${now.done.files.length} files`);
  } catch (e) {
    const r = refusal(e);
    now.why = r.code === 'cancelled' ? 'Cancelled; nothing was left behind.' : r.hint ? `${r.message}: ${r.hint}` : r.message;
  }
  now.running = '';
  bench.draw();
}

export function packPanel(bench: Bench): HTMLElement {
  const can = bench.engine.hello?.can ?? [], small = matchMedia('(max-width: 700px)').matches;
  if (bench.engine.problems.length) return h('p', { class: 'stop' }, `The text has mistakes: mend line ${bench.engine.problems[0].at.line} first.`);
  if (can.length && !can.includes('pack')) return h('p', {}, 'This engine writes no pack.');
  return h('div', { class: 'pack' },
    h('p', {}, 'Films to cut, sheets, tickets and the job book, as the command line writes them.'),
    h('div', { class: 'acts' },
      small || bench.engine.engine === 'wasm' ? null : h('button', { type: 'button', class: 'strong', disabled: !!now.running, on: { click: () => void write(bench, 'folder') } }, 'Into the folder'),
      h('button', { type: 'button', class: small ? 'strong' : '', disabled: !!now.running, on: { click: () => void write(bench, 'zip') } }, 'As a zip'),
      now.running ? h('button', { type: 'button', on: { click: () => bench.engine.cancel('pack') } }, 'Cancel') : null),
    now.running ? h('div', {}, now.n ? h('progress', { max: now.n, value: now.step, 'aria-label': 'Pack' }) : h('progress', { 'aria-label': 'Pack' }), h('p', {}, now.said[now.said.length - 1] ?? 'begins')) : null,
    now.why ? h('p', { class: 'warn' }, now.why) : null,
    now.done ? h('div', {}, h('p', { class: 'good' }, `${now.done.name}: ${now.done.files.length} files`), h('p', {}, 'manifest ', h('span', { class: 'mono', id: 'manifest' }, now.done.manifest)),
      h('details', {}, h('summary', {}, 'Files'), h('ul', { class: 'files' }, now.done.files.map(f => h('li', {}, h('span', { class: 'mono' }, f.name), h('span', { class: 'soft' }, ` ${(f.size / 1024).toFixed(0)} KB`)))))) : null);
}
