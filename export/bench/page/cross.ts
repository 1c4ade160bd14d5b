// The cross of nudge keys of a tablet and a phone, with its step.
import type { Bench } from './bench.ts';
import { movable } from './changes.ts';
import { h, patch } from './dom.ts';
import { near, steps } from './length.ts';
import { changeStep, nudge } from './nudge.ts';
import { placeOf } from './speak.ts';

export function cross(bench: Bench, root: HTMLElement): void {
  root.setAttribute('role', 'group');
  root.setAttribute('aria-label', 'Nudge');
  bench.panel(() => {
    const { state } = bench, m = bench.chosen, off = !m || !movable(m) || bench.locked(m.id), all = steps[state.unit];
    const key = (name: string, label: string, f: () => void) => h('button', { type: 'button', class: `nudge to-${label}`, 'aria-label': label, disabled: off, on: { click: f } }, name);
    const step = all[Math.min(state.step, all.length - 1)];
    patch(root, [
      h('button', { type: 'button', class: 'chosen', on: { click: () => bench.set({ panel: state.panel === 'fields' ? null : 'fields' }) } }, m ? [h('b', {}, m.id), ' ', placeOf(m, state.unit)] : 'nothing selected', ' ▾'),
      key('←', 'left', () => nudge(bench, -1, 0)), key('↑', 'up', () => nudge(bench, 0, 1)), key('↓', 'down', () => nudge(bench, 0, -1)), key('→', 'right', () => nudge(bench, 1, 0)),
      h('button', { type: 'button', class: 'step', 'aria-label': `step ${near(step, state.unit, 64)} ${state.unit}; touch for the next`, on: { click: () => changeStep(bench, state.step + 1 >= all.length ? -9 : 1) } }, `${near(step, state.unit, 64)} ${state.unit}`),
      h('button', { type: 'button', class: 'textkey', on: { click: () => bench.set({ panel: state.panel === 'text' ? null : 'text' }) } }, 'Text'),
      h('button', { type: 'button', class: 'listkey', on: { click: () => bench.set({ panel: state.panel === 'menu' ? null : 'menu' }) } }, 'Markings'),
    ]);
  });
}
