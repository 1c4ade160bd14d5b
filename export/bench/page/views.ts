// The drawing: two views locked together, each with its rulers and three layers.
import type { Bench } from './bench.ts';
import { h, patch, s } from './dom.ts';
import { begin, end, moved, zoom, type Held } from './drag.ts';
import { drawingKeys } from './keys.ts';
import { baseIn, marks, seenIn } from './marks.ts';
import { spokenPlace } from './speak.ts';
import { fit, panned, transformOf, zoomed, type Look, type View } from './project.ts';
import { corner, heightRuler, stationRuler, type Flag } from './ruler.ts';
import { axesOf, type Sight } from './skin.ts';
import { roomFor } from './room.ts';
import { drawnRings, still } from './still.ts';
import { hand } from './hand.ts';
import { solid } from './solid.ts';

const pairs: Record<'sides' | 'wings', [Sight, Sight]> = { sides: ['left', 'right'], wings: ['above', 'below'] };

/** The box that is shown whole: all skins of a pair of views. */
function wholeOf(bench: Bench, views: 'sides' | 'wings'): [number, number, number, number] {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity], height = views === 'wings' ? 1 : 2;
  for (const skin of bench.model.skins) {
    if (views === 'sides' && skin.kind === 'wing') continue;
    const m = bench.model.meshes.get(skin.id)!;
    for (let i = 0; i < m.points.length; i += 3) {
      box[0] = Math.min(box[0], m.points[i]); box[2] = Math.max(box[2], m.points[i]);
      box[1] = Math.min(box[1], m.points[i + height]); box[3] = Math.max(box[3], m.points[i + height]);
    }
  }
  return Number.isFinite(box[0]) ? box : [0, 0, 100, 50];
}

/** Builds the drawing in a node and draws it with every change. */
export function views(bench: Bench, root: HTMLElement): void {
  const panes = [0, 1].map(i => {
    const layers = ['still', 'marks', 'hand'].map(name => s('svg', { class: `layer ${name}` }));
    const stage = h('div', { class: 'stage', 'data-keep': true }, layers);
    const across = h('div', { class: 'across-at' }), down = h('div', { class: 'down-at' }), at = h('div', { class: 'corner-at' });
    return { node: h('div', { class: `pane pane${i}`, 'aria-hidden': true }, at, across, down, stage), stage, layers, across, down, at, width: 0, height: 0, view: null as View | null, drawn: '', marked: '' };
  });
  // the list of markings lies over the drawing: it has the keys, the panes have the pointer
  const list = h('div', { class: 'keysover', role: 'listbox', tabindex: 0, 'aria-label': 'Markings on the drawing', id: 'drawing', 'aria-multiselectable': true });
  const wrap = h('div', { class: 'panes' });
  const inset = h('div', { class: 'inset' });
  const bar = h('div', { class: 'viewbar' });
  wrap.append(panes[0].node, panes[1].node);
  root.append(wrap, list, inset, bar);
  solid(bench, inset);

  let told = '';
  let held: Held | null = null, last: { x: number; y: number; ctrlKey: boolean; metaKey: boolean } | null = null, frame = 0, space = false;
  let settling: { held: Held; ids: string[]; was: unknown[] } | null = null;
  const touches = new Map<number, [number, number]>();
  let pinch: { view: View; far: number; at: [number, number] } | null = null; // as two fingers came down
  const between = (): { far: number; at: [number, number] } => { const [a, b] = [...touches.values()]; return { far: Math.max(1, Math.hypot(a[0] - b[0], a[1] - b[1])), at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] }; };

  const viewOf = (i: number): View => {
    const { views: pair, looks } = bench.state, width = Math.max(50, panes[i].width), height = Math.max(50, panes[i].height);
    const whole = fit(wholeOf(bench, pair), width, height, width < 500 ? 10 : 26);
    const look: Look = looks[pair] ?? whole;
    return { sight: pairs[pair][i], width, height, look: pairs[pair][0] === 'above' ? look : look };
  };

  function draw(): void {
    const { state, model } = bench;
    wrap.classList.toggle('dim', bench.engine.problems.length > 0);
    wrap.dataset.narrow = String(state.narrowView);
    if (settling) {
      const now = settling.ids.map(id => model.outlines.get(id));
      if (now.every((o, i) => o !== settling!.was[i]) || bench.engine.problems.length) settling = null;
    }
    const showing = held ?? settling?.held ?? null;
    panes.forEach((pane, i) => {
      const v = pane.view = viewOf(i);
      if (!pane.width) return;
      const flags = flagsOf(v, showing);
      patch(pane.at, [corner(v)]);
      patch(pane.across, [stationRuler(v, state.unit, flags.fs)]);
      patch(pane.down, [heightRuler(v, state.unit, flags.height)]);
      for (const l of pane.layers) { l.setAttribute('width', String(v.width)); l.setAttribute('height', String(v.height)); }
      const key = [v.width, v.height, v.sight, JSON.stringify(v.look), JSON.stringify(state.shown), state.unit, state.theme, model.scene ? model.hash : ''].join('|');
      if (key !== pane.drawn) { pane.layers[0].replaceChildren(...still(v, model, state)); pane.drawn = key; }
      const away = new Set(showing?.previews.map(p => p.grabbed.placed.id) ?? []);
      // a look that moves moves what is drawn
      const marked = [v.sight, model.version, state.theme, state.shown.films, [...away].join()].join('|');
      if (marked !== pane.marked) pane.layers[1].replaceChildren(marks(v, model, state, away));
      else pane.layers[1].firstElementChild?.setAttribute('transform', transformOf(v));
      pane.marked = marked;
      pane.layers[2].replaceChildren(...hand(bench, v, showing?.started ? showing : null));
      pane.stage.setAttribute('data-sight', v.sight);
    });
    drawOptions();
    drawBar();
    placeInset();
  }

  /** The picture in three dimensions stands where it covers nothing, best in the middle between both views. */
  let stood = '';
  function placeInset(): void {
    const shown = panes.filter(p => p.view && p.width && p.height), now = shown.map(p => p.drawn).join();
    if (now === stood || !bench.model.scene) return;
    stood = now;
    const all = root.getBoundingClientRect(), small = root.clientWidth < 900, size = small ? [200, 90] : [262, 112];
    const at = roomFor(shown.map(p => {
      const r = p.stage.getBoundingClientRect(), v = p.view!;
      return { x: r.left - all.left, y: r.top - all.top, width: v.width, height: v.height, rings: drawnRings(v, bench.model), taken: [[0, v.height - 44, v.width, v.height], ...(p === shown[0] ? [[v.width - (small ? 330 : 250), 0, v.width, small ? 60 : 44]] : [])] as [number, number, number, number][] };
    }), size[0], size[1], [root.clientWidth * 0.52, root.clientHeight * 0.5]);
    inset.classList.toggle('none', !at);
    if (at) Object.assign(inset.style, { left: `${at.x}px`, top: `${at.y}px`, width: `${at.width}px`, height: `${at.height}px` });
  }

  function flagsOf(v: View, g: Held | null): { fs: Flag[]; height: Flag[] } {
    const hAxis = axesOf[v.sight].height;
    if (g?.started && g.previews.length) {
      const lead = g.previews[0], p = g.previews.find(q => q.grabbed.sight === v.sight && q.grabbed.marking === lead.grabbed.marking);
      return p ? { fs: [{ at: p.station, strong: p === lead }], height: [{ at: p.height, strong: p === lead }] } : { fs: [], height: [] };
    }
    const m = bench.chosen;
    if (!m) return { fs: [], height: [] };
    const seen = seenIn(v, bench.model).find(x => x.marking === m);
    if (!seen) return { fs: [], height: [] };
    const strong = seen.placed.side === bench.state.side || m.placed.length === 1;
    return { fs: [{ at: seen.placed.anchor[0], strong }], height: [{ at: seen.placed.anchor[hAxis], strong }] };
  }

  /** The markings as a reader of the screen is told them. */
  function drawOptions(): void {
    const { model, state } = bench, now = [model.version, state.unit, state.selected.join(), state.locked.join()].join('|');
    if (now === told) return;
    told = now;
    patch(list, model.markings.filter(m => m.placed.length).map(m => h('div', {
      role: 'option', class: 'unseen', id: `on-${m.id}`, 'data-key': m.id, 'aria-selected': state.selected.includes(m.id) ? 'true' : 'false',
    }, spokenPlace(bench, m))));
    if (bench.chosen) list.setAttribute('aria-activedescendant', `on-${bench.chosen.id}`); else list.removeAttribute('aria-activedescendant');
  }

  let barred = '';
  function drawBar(): void {
    const { state, model } = bench, now = [state.views, state.narrowView, model.hash].join('|');
    if (now === barred) return;
    barred = now;
    const wings = model.skins.some(k => k.kind === 'wing' || k.kind === 'foil');
    const button = (label: string, on: () => void, pressed?: boolean, title?: string) => h('button', { type: 'button', 'aria-pressed': pressed === undefined ? undefined : String(pressed), title, on: { click: on } }, label);
    const names = pairs[state.views].map(x => ({ left: 'Left side', right: 'Right side', above: 'From above', below: 'From below' })[x]);
    patch(bar, [
      h('span', { class: 'narrow-only pairs' }, names.map((n, i) => button(n, () => bench.set({ narrowView: i as 0 | 1, ...(state.views === 'sides' ? { side: i ? 'right' : 'left' } : {}) }), state.narrowView === i))),
      wings && button('Sides', () => bench.set({ views: 'sides' }), state.views === 'sides'), wings && button('Wings', () => bench.set({ views: 'wings' }), state.views === 'wings'),
      model.skins.some(k => k.kind === 'plate') && button('Fin', finOnly, undefined, 'The fin by itself'),
      button('Whole', () => bench.set({ looks: { ...state.looks, [state.views]: undefined } }), undefined, 'The whole aircraft (0)'),
      h('span', { class: 'pair zooms' }, button('−', () => zoomBy(1 / 1.3), undefined, 'Smaller (-)'), button('+', () => zoomBy(1.3), undefined, 'Larger (=)')),
    ]);
  }

  function finOnly(): void {
    const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const k of bench.model.skins) for (const o of k.kind === 'plate' ? k.outlines : []) for (const p of o) { box[0] = Math.min(box[0], p[0]); box[1] = Math.min(box[1], p[1]); box[2] = Math.max(box[2], p[0]); box[3] = Math.max(box[3], p[1]); }
    const v = panes[0].view;
    if (v && Number.isFinite(box[0])) bench.set({ views: 'sides', looks: { ...bench.state.looks, sides: fit(box, v.width, v.height) } });
  }

  function zoomBy(k: number): void {
    const v = panes[0].view;
    if (!v) return;
    const m = bench.chosen, p = m?.placed[0];
    const look = { ...v.look, scale: Math.max(0.05, v.look.scale * k) };
    if (p) { look.fs = p.anchor[0]; look.height = p.anchor[axesOf[v.sight].height]; }
    bench.set({ looks: { ...bench.state.looks, [bench.state.views]: look } });
  }
  bench.zoomBy = zoomBy;

  // gestures: pointers are taken once a frame
  const tick = () => {
    frame = 0;
    if (!held || !last) return;
    if (moved(bench, held, last.x, last.y, last)) draw();
  };
  panes.forEach((pane, i) => {
    const at = (e: PointerEvent | WheelEvent): [number, number] => { const r = pane.stage.getBoundingClientRect(); return [e.clientX - r.left, e.clientY - r.top]; };
    pane.stage.addEventListener('pointerdown', e => {
      if (!bench.model.scene) return;
      list.focus({ preventScroll: true });
      const [x, y] = at(e);
      if (e.pointerType === 'touch') {
        touches.set(e.pointerId, [x, y]);
        if (touches.size === 2) { held = null; pinch = { view: pane.view!, ...between() }; draw(); return; }
      }
      const side = pairs[bench.state.views][i];
      if (side === 'left' || side === 'right') bench.state.side = side;
      settling = null;
      held = begin(bench, pane.view!, e, x, y, space || e.button === 1);
      if (held) { pane.stage.setPointerCapture(e.pointerId); e.preventDefault(); }
      last = null;
    });
    pane.stage.addEventListener('pointermove', e => {
      const [x, y] = at(e);
      if (touches.has(e.pointerId) && touches.size === 2) {
        touches.set(e.pointerId, [x, y]);
        const now = between();
        if (pinch) bench.set({ looks: { ...bench.state.looks, [bench.state.views]: panned({ ...pinch.view, look: zoomed(pinch.view, pinch.at, now.far / pinch.far) }, now.at[0] - pinch.at[0], now.at[1] - pinch.at[1]) } });
        return;
      }
      if (!held || held.pointer !== e.pointerId) return;
      last = { x, y, ctrlKey: e.ctrlKey, metaKey: e.metaKey };
      if (!frame) frame = requestAnimationFrame(tick);
    });
    const up = (e: PointerEvent) => {
      touches.delete(e.pointerId);
      if (!held || held.pointer !== e.pointerId) return;
      const [x, y] = at(e);
      if (frame) cancelAnimationFrame(frame);
      frame = 0;
      moved(bench, held, x, y, e);
      const done = held, result = e.type === 'pointercancel' ? null : end(bench, done);
      held = null;
      if (result) {
        const ids = [...new Set(done.grabbed.map(g => baseIn(bench.model, g.placed.id)))];
        settling = { held: done, ids, was: ids.map(id => bench.model.outlines.get(id)) };
        void bench.edit(result.changes, result.label).then(ok => { if (!ok) { settling = null; draw(); } });
      }
      draw();
    };
    pane.stage.addEventListener('pointerup', up);
    pane.stage.addEventListener('pointercancel', up);
    pane.stage.addEventListener('wheel', e => {
      if (!bench.model.scene) return;
      e.preventDefault();
      const [x, y] = at(e);
      zoom(bench, pane.view!, x, y, Math.exp(-e.deltaY * (e.ctrlKey ? 0.01 : 0.002)));
    }, { passive: false });
  });
  list.addEventListener('keydown', e => {
    if (e.key === ' ') { space = true; e.preventDefault(); }
    if (e.key === 'Escape' && held) { held = null; e.preventDefault(); draw(); return; }
    drawingKeys(bench, e);
  });
  list.addEventListener('keyup', e => { if (e.key === ' ') space = false; });
  window.addEventListener('blur', () => { space = false; });
  // sizes are kept: to ask for one while the drawing changes lays out the page once more
  const measure = () => { for (const p of panes) { p.width = p.stage.clientWidth; p.height = p.stage.clientHeight; } };
  const resized = new ResizeObserver(() => { measure(); bench.draw(); });
  for (const p of panes) resized.observe(p.stage);
  bench.panel(draw);
}
