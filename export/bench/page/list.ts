// The list of markings, what the aircraft has, what is shown, and the title block.
import { addPanelOpen } from './add.ts';
import { pageMenu } from './bar.ts';
import type { Bench } from './bench.ts';
import { h, patch } from './dom.ts';
import { levelSign } from './findings.ts';
import { thumb } from './marks.ts';
import { levelOf } from './model.ts';
import { levelNames, placeOf, sidesOf } from './speak.ts';
import { parts, type Shown } from './state.ts';

export function list(bench: Bench, root: HTMLElement): void {
  root.setAttribute('role', 'region');
  root.setAttribute('aria-label', 'Markings');
  root.id = 'markings';
  const phone = matchMedia('(max-width: 700px)');
  let drawn = '';
  bench.panel(() => {
    const now = [bench.model.version, bench.state.selected.join(), bench.state.side, bench.state.unit, bench.state.panel === 'menu', JSON.stringify(bench.state.shown), bench.state.theme, phone.matches, bench.engine.file, bench.engine.undoLabels.length].join('|');
    if (now === drawn) return;
    drawn = now;
    const { model, state } = bench, scene = model.scene, sides = new Set(model.markings.flatMap(m => m.placed.map(p => p.side))).size;
    const count = (n: number, word: string) => h('li', {}, h('button', { type: 'button', class: 'plain', on: { click: () => bench.set({ panel: 'aircraft' }) } }, word), h('span', { class: 'soft' }, n ? String(n) : 'none yet'));
    patch(root, [
      h('div', { class: 'head' }, h('h2', {}, 'Markings'), h('button', { type: 'button', class: 'closer', on: { click: () => bench.set({ panel: null }) } }, 'Close'), h('span', { class: 'soft' }, `${model.markings.length}${sides ? ` on ${sides} ${sides === 1 ? 'side' : 'sides'}` : ''}`)),
      phone.matches ? pageMenu(bench) : null,
      h('ul', { class: 'markings' }, model.markings.map(m => {
        const on = state.selected.includes(m.id), level = levelOf(model, m.id);
        return h('li', { 'data-key': m.id, class: on ? 'on' : '' },
          h('button', {
            type: 'button', class: 'entry', 'aria-pressed': String(on),
            on: { click: (e: MouseEvent) => { if (state.panel === 'menu') bench.set({ panel: null }); bench.select(e.shiftKey ? [...state.selected.filter(i => i !== m.id), m.id] : [m.id], m.placed.some(p => p.side === state.side) ? state.side : (m.placed[0]?.side ?? 'left') as 'left' | 'right'); } },
          }, thumb(model, m), h('span', { class: 'words' }, h('b', {}, m.id), h('span', { class: 'mono' }, placeOf(m, state.unit)), h('span', { class: 'soft' }, m.placed.length || m.held === 'own' ? sidesOf(m) : 'has no place yet'), h('span', { class: 'unseen' }, levelNames[level])), levelSign(level)));
      })),
      h('button', { type: 'button', class: 'wide', id: 'add', on: { click: () => addPanelOpen(bench) } }, 'Add a marking'),
      h('p', { class: 'soft small' }, 'by rule, by text, or drop a drawing'),
      h('div', { class: 'head rule' }, h('h2', {}, 'Aircraft'), h('button', { type: 'button', class: 'link', on: { click: () => bench.set({ job: 'visit', panel: null }) } }, 'New aircraft')),
      h('ul', { class: 'counts' }, count(new Set(model.skins.map(k => k.surface)).size, 'Surfaces'), count(new Set(scene?.hardpoints.map(p => p.id)).size, 'Hardpoints'), count(new Set(scene?.obstacles.map(o => o.id)).size, 'Obstacles'),
        h('li', {}, h('button', { type: 'button', class: 'plain', on: { click: () => bench.set({ job: 'photograph' }) } }, 'Photographs'), h('span', { class: 'soft' }, scene?.photos.length ? String(scene.photos.length) : 'none yet'))),
      h('h2', { class: 'rule' }, 'Shown'),
      h('ul', { class: 'shown' }, (Object.keys(parts) as Shown[]).map(k => h('li', {}, h('label', {},
        h('input', { type: 'checkbox', checked: state.shown[k], on: { change: (e: Event) => bench.set({ shown: { ...state.shown, [k]: (e.target as HTMLInputElement).checked } }) } }), parts[k])))),
      scene ? h('div', { class: 'title' }, h('p', { class: 'name' }, h('b', {}, scene.name), scene.aircraft === scene.name ? null : h('span', { class: 'soft' }, scene.aircraft)),
        h('div', {}, h('span', { class: 'soft' }, 'DATE'), h('span', { class: 'mono' }, scene.rules.date || '-')), h('div', {}, h('span', { class: 'soft' }, 'RULES'), h('span', { class: 'mono' }, scene.rules.nation || '-'))) : null,
    ]);
  });
}
