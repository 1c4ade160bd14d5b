// The bar: the file, the five jobs, undo, units, theme, the pack.
import type { Bench } from './bench.ts';
import { h, patch } from './dom.ts';
import { jobs, themes, type Theme } from './state.ts';

const states: Record<string, string> = {
  saved: 'saved', changed: 'changed, not saved', saving: 'saving', 'changed-on-disk': 'changed on the disk meanwhile', gone: 'the file is gone', 'read-only': 'read only', none: 'not a file yet',
};

const button = (name: string, props: object, on: () => void) => h('button', { type: 'button', ...props, on: { click: on } }, name);

/** How the file stands; what differs at a touch. */
const fileButton = (bench: Bench): HTMLElement => {
  const { state, engine } = bench, file = engine.file, steps = engine.undoLabels.length;
  return h('button', { type: 'button', class: 'file plain', title: 'What differs from the file', on: { click: () => bench.set({ panel: state.panel === 'diff' ? null : 'diff' }) } },
    h('b', {}, bench.name), h('span', { class: file === 'changed-on-disk' || file === 'gone' ? 'warn' : 'soft' }, states[file] ?? file, file === 'changed' && steps ? `, ${steps} ${steps === 1 ? 'step' : 'steps'}` : ''));
};
const unitPair = (bench: Bench): HTMLElement => h('span', { class: 'pair', role: 'group', 'aria-label': 'Unit' }, (['in', 'mm'] as const).map(u => button(u, { 'aria-pressed': String(bench.state.unit === u), 'aria-label': u === 'in' ? 'in, inches' : 'mm, millimetres' }, () => bench.set({ unit: u, step: u === 'mm' ? Math.min(bench.state.step, 2) : bench.state.step }))));
const themePick = (bench: Bench): HTMLElement => h('label', { class: 'themepick' }, h('span', { class: 'unseen' }, 'Theme'), h('select', { value: bench.state.theme, on: { change: (e: Event) => bench.set({ theme: (e.target as HTMLSelectElement).value as Theme }) } }, themes.map(t => h('option', { value: t, selected: bench.state.theme === t }, t[0].toUpperCase() + t.slice(1)))));
const packButton = (bench: Bench): HTMLElement => button('Write the pack', { class: 'strong pack' }, () => bench.set({ panel: bench.state.panel === 'pack' ? null : 'pack' }));

/** What a phone's bar has no room for. */
export const pageMenu = (bench: Bench): HTMLElement => h('div', { class: 'pagemenu' }, fileButton(bench), h('div', { class: 'acts' }, unitPair(bench), themePick(bench), packButton(bench)));

export function bar(bench: Bench, root: HTMLElement): void {
  bench.panel(() => {
    const { state, engine } = bench;
    const steps = engine.undoLabels.length, file = engine.file;
    patch(root, [
      h('h1', {}, 'maskloft bench'),
      fileButton(bench),
      h('nav', { class: 'jobs', 'aria-label': 'Jobs', id: 'jobs' }, jobs.map((j, i) => h('button', { type: 'button', 'aria-current': state.job === j.id ? 'page' : undefined, on: { click: () => bench.set({ job: j.id, panel: null }) } }, h('span', { class: 'mono soft', 'aria-hidden': true }, i + 1), ' ', j.name))),
      h('label', { class: 'jobpick' }, h('span', { class: 'unseen' }, 'Job'), h('select', { value: state.job, on: { change: (e: Event) => bench.set({ job: (e.target as HTMLSelectElement).value as never, panel: null }) } }, [...jobs.map((j, i) => h('option', { value: j.id, selected: state.job === j.id }, `${i + 1} ${j.name}`)), state.job === 'visit' ? h('option', { value: 'visit', selected: true }, 'New aircraft') : null])),
      h('span', { class: 'space' }),
      button('Undo', { disabled: !steps, title: steps ? `Undo: ${engine.undoLabels[0]}` : 'Nothing to undo', class: 'undo' }, () => void bench.undo()),
      button('Redo', { disabled: !engine.redoLabels.length, title: engine.redoLabels.length ? `Redo: ${engine.redoLabels[0]}` : 'Nothing to redo', class: 'redo' }, () => void bench.redo()),
      button('Save', { disabled: file === 'saved' || file === 'saving', class: 'save' }, () => void bench.save()),
      unitPair(bench),
      themePick(bench),
      button('?', { class: 'help', 'aria-label': 'Keys' }, () => bench.set({ panel: state.panel === 'keys' ? null : 'keys' })),
      packButton(bench),
    ]);
  });
}

/** The line at the foot: what is shown, what the hand does, what the engine does. */
export function status(bench: Bench, root: HTMLElement): void {
  root.classList.add('status');
  bench.panel(() => {
    const { state, model, engine } = bench;
    const skins = model.skins, within = skins.length ? Math.max(0.01, ...skins.map(k => k.within)) : 0.01, chosen = bench.chosen ? model.outlines.get(bench.chosen.id) : undefined;
    patch(root, [
      h('span', { class: 'first' }, state.say || (state.job === 'visit' ? 'a new layout begins with what the aircraft is covered on' : engine.problems.length ? `the drawing is as it was before line ${engine.problems[0].at.line} was changed` : chosen ? chosen.exact ? 'outlines: exact' : 'outlines: within 0.1 in; exact after the next change' : `drag: outline by the sampled skin, within ${within.toFixed(2)} in; exact on release`)),
      state.job !== 'layout' ? null : h('label', { class: 'snap' }, h('input', { type: 'checkbox', checked: state.snap, on: { change: (e: Event) => bench.set({ snap: (e.target as HTMLInputElement).checked }) } }), 'Snap: lines, stations, clearances, other side (Ctrl: off)'),
      h('span', { class: 'last' }, engine.engine === 'wasm' ? 'engine in this page' : 'engine beside this page', bench.lastMs ? `; last answer ${(bench.lastMs / 1000).toFixed(2)} s` : ''),
    ]);
  });
}
