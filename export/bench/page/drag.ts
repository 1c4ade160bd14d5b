// Gestures of the hand on a view: move, turn, size, pan, zoom. One change on release.
import type { Bench } from './bench.ts';
import { boxesIn, under } from './boxes.ts';
import { movable, moveTo, risable, sizeOf, sizeTo, turnTo } from './changes.ts';
import type { Change } from './engine.ts';
import { handlesOf } from './hand.ts';
import { near, show } from './length.ts';
import { grab, linesAt, previewAt, sightOf, standing, type Grabbed, type Preview, type Standing } from './move.ts';
import { fromScreen, panned, toScreen, zoomed, type View } from './project.ts';
import type { Marking } from './protocol.ts';
import { axesOf } from './skin.ts';
import { choose, lineCandidates, neighbourCandidates, orders, stationCandidates, wholeCandidate, type Candidate } from './snap.ts';

/** What a gesture shows in this frame. */
export interface Gesture {
  kind: 'move' | 'turn' | 'size' | 'pan';
  previews: Preview[]; // the grabbed one first
  guides: { why: string; height?: number }[];
  standing: Standing | null;
  was: number | null; // the clearance before
  extra: string[];
}

/** Everything of a gesture under way. */
export interface Held extends Gesture {
  view: View; pointer: number; from: [number, number]; started: boolean; touch: boolean;
  grabbed: Grabbed[]; candidates: Candidate[]; unsnapped: boolean; place: [number, number]; turned: number; sized: number; through: Marking | null;
}

const reach = (touch: boolean) => touch ? 24 : 12;

/** Begins a gesture at a pixel of a view; null where there is nothing to hold. */
export function begin(bench: Bench, view: View, e: PointerEvent, x: number, y: number, pan: boolean): Held | null {
  const touch = e.pointerType === 'touch', base: Held = {
    kind: 'pan', previews: [], guides: [], standing: null, was: null, extra: [], view, pointer: e.pointerId, from: [x, y], started: false, touch,
    grabbed: [], candidates: [], unsnapped: false, place: [0, 0], turned: 0, sized: 1, through: null,
  };
  if (pan) return base;
  for (const handle of handlesOf(bench, view)) {
    if (Math.hypot(handle.x - x, handle.y - y) > reach(touch)) continue;
    base.kind = handle.kind === 'turn' ? 'turn' : 'size';
    return grabAll(bench, base, [bench.chosen!]) ? base : null;
  }
  const found = under(view, bench.model, x, y, touch ? 12 : 3);
  if (!found.length) { if (!e.shiftKey) bench.select([]); return base; }
  const chosen = found.find(b => bench.state.selected.includes(b.marking.id)) ?? found[0];
  const side = chosen.placed.side as 'left' | 'right';
  if (e.shiftKey) {
    const now = bench.state.selected;
    bench.select(now.includes(chosen.marking.id) ? now.filter(i => i !== chosen.marking.id) : [...now, chosen.marking.id], side);
  } else if (bench.state.selected.includes(chosen.marking.id)) {
    // a second touch without a drag goes to what lies under
    base.through = found[(found.indexOf(chosen) + 1) % found.length].marking;
    if (bench.state.side !== side) bench.select(bench.state.selected, side);
  } else bench.select([chosen.marking.id], side);
  base.kind = 'move';
  const all = bench.state.selected.map(id => bench.marking(id)!).filter(m => m && movable(m) && !bench.locked(m.id));
  all.sort(a => a.id === chosen.marking.id ? -1 : 1);
  if (!all.length || all[0].id !== chosen.marking.id || bench.engine.problems.length) { base.kind = 'pan'; return { ...base, started: false }; }
  return grabAll(bench, base, all) ? base : null;
}

/** Takes hold of markings on all the sides that they follow. */
function grabAll(bench: Bench, held: Held, all: Marking[]): boolean {
  const side = bench.state.side;
  for (const m of all) {
    const own = m.placed.find(p => sightOf(p) === held.view.sight && (p.side === side || m.placed.length === 1)) ?? m.placed.find(p => sightOf(p) === held.view.sight) ?? m.placed[0];
    for (const p of [own, ...m.placed.filter(p => p !== own)]) {
      const g = grab(bench.model, m, p);
      if (g) held.grabbed.push(g);
    }
  }
  if (!held.grabbed.length) return false;
  const lead = held.grabbed[0], h = axesOf[lead.sight].height;
  held.place = [lead.placed.anchor[0], lead.placed.anchor[h]];
  held.candidates = candidatesOf(bench, held.view, lead);
  held.was = standing(bench.model, previewAt(lead, ...held.place))?.near.distance ?? null;
  return true;
}

function candidatesOf(bench: Bench, view: View, g: Grabbed): Candidate[] {
  const { model } = bench, h = axesOf[g.sight].height, scene = model.scene!, own = new Set(bench.state.selected);
  const out: Candidate[] = stationCandidates([...new Set(scene.stations.filter(f => g.marking.surfaces.includes(f.surface) && h === 2 && Math.abs(f.points[0]?.[0] - f.at) < 0.01).map(f => f.at))]);
  const others = boxesIn(view, model).filter(b => !own.has(b.marking.id)).map(b => {
    const [a, top] = fromScreen(view, [b.box[0], b.box[1]]), [c, bottom] = fromScreen(view, [b.box[2], b.box[3]]);
    return { name: b.marking.id, anchor: [b.placed.anchor[0], b.placed.anchor[h]] as [number, number], box: [Math.min(a, c), Math.min(top, bottom), Math.max(a, c), Math.max(top, bottom)] as [number, number, number, number] };
  });
  out.push(...neighbourCandidates(g.box, others));
  if (g.marking.side !== 'both') for (const m of model.markings) for (const p of m.placed) { // the same place as the other side
    if (p.side === g.placed.side || m.kind !== g.marking.kind || own.has(m.id)) continue;
    out.push({ axis: 'fs', at: p.anchor[0], why: `as the ${p.side} side`, order: orders.other }, { axis: 'height', at: p.anchor[h] * (h === 1 ? -1 : 1), why: `as the ${p.side} side`, order: orders.other });
  }
  return out;
}

/** The gesture at a pixel: called once a frame. Returns false where nothing is to be drawn. */
export function moved(bench: Bench, held: Held, x: number, y: number, keys: { ctrlKey: boolean; metaKey: boolean }): boolean {
  const dx = x - held.from[0], dy = y - held.from[1];
  if (!held.started) {
    if (Math.hypot(dx, dy) < (held.touch ? 8 : 4)) return false;
    held.started = true;
  }
  if (held.kind === 'pan') {
    bench.set({ looks: { ...bench.state.looks, [bench.state.views]: panned(held.view, dx, dy) } });
    return true;
  }
  const lead = held.grabbed[0], h = axesOf[lead.sight].height, free = !bench.state.snap || keys.ctrlKey || keys.metaKey;
  held.unsnapped = free;
  const anchor: [number, number] = [lead.placed.anchor[0], lead.placed.anchor[h]];
  if (held.kind === 'move') {
    const [a, b] = fromScreen(held.view, held.from), [c, d] = fromScreen(held.view, [x, y]);
    let fs = anchor[0] + c - a, height = risable(lead.marking) ? anchor[1] + d - b : anchor[1];
    held.guides = [];
    if (!free) [fs, height] = snapped(bench, held, fs, height);
    // what is written is a fraction of the unit
    const grain = bench.state.unit === 'mm' ? 0.5 / 25.4 : 1 / 64;
    if (!held.guides.some(g => g.why === 'exactly the clearance')) { fs = Math.round(fs / grain) * grain; height = Math.round(height / grain) * grain; }
    held.place = [fs, height];
    show2(bench, held, fs - anchor[0], height - anchor[1]);
  } else {
    const at = toScreen(held.view, ...anchor);
    if (held.kind === 'turn') {
      const was = Math.atan2(held.from[1] - at[1], held.from[0] - at[0]), now = Math.atan2(y - at[1], x - at[0]);
      let degrees = lead.marking.angle + (was - now) * 180 / Math.PI * leanOf(lead);
      degrees = ((degrees + 180) % 360 + 360) % 360 - 180;
      held.guides = [];
      if (!free) for (const k of [0, 15, 30, 45, 60, 75, 90, -15, -30, -45, -60, -75, -90, 180]) if (Math.abs(degrees - k) < 3) { degrees = k; held.guides = [{ why: `${k} deg` }]; }
      degrees = Math.round(degrees * 2) / 2;
      held.turned = degrees;
      held.extra = [`turned ${degrees} deg`];
    } else {
      const size = sizeOf(lead.marking)!;
      let now = size.value * Math.max(0.05, Math.hypot(x - at[0], y - at[1]) / Math.max(1, Math.hypot(held.from[0] - at[0], held.from[1] - at[1])));
      const grain = bench.state.unit === 'mm' ? 5 / 25.4 : 1 / 8;
      now = free ? Math.round(now * 64) / 64 : Math.max(grain, Math.round(now / grain) * grain);
      held.sized = now / size.value;
      held.extra = [`${size.name.toLowerCase()} ${show(now, bench.state.unit)} ${bench.state.unit}`];
    }
    show2(bench, held, 0, 0);
  }
  return true;
}

/** An angle leans towards the tail: on the left that is clockwise as drawn, on the right anticlockwise. */
const leanOf = (g: Grabbed): 1 | -1 => g.sight === 'left' ? -1 : 1;

function snapped(bench: Bench, held: Held, fs: number, height: number): [number, number] {
  const lead = held.grabbed[0], within = 8 / held.view.look.scale, unit = bench.state.unit;
  const all = [...held.candidates, wholeCandidate('fs', fs, unit), wholeCandidate('height', height, unit)];
  all.push(...lineCandidates(linesAt(bench.model, lead.marking.surfaces[0], lead.sight, fs)));
  const station = choose(all, 'fs', fs, within);
  if (station) { fs = station.at; held.guides.push({ why: station.why }); }
  if (!risable(lead.marking)) return [fs, height];
  const level = choose(all, 'height', height, within);
  // exactly the clearance limit comes first: straight up or down from where the hand is
  const st = standing(bench.model, previewAt(lead, fs, height));
  if (st) {
    const up = st.near.from[axesOf[lead.sight].height] - st.near.to[axesOf[lead.sight].height], slope = up / Math.max(1e-6, Math.hypot(...st.near.from.map((q, i) => q - st.near.to[i])));
    let at = height;
    if (Math.abs(slope) > 0.3) for (let i = 0; i < 3; i++) {
      const now = standing(bench.model, previewAt(lead, fs, at));
      if (!now || now.obstacle !== st.obstacle) break;
      at += (now.limit - now.near.distance) / slope;
    }
    // to the next mark of a rule on the safe side of the limit
    const grain = bench.state.unit === 'mm' ? 1 / 25.4 : 1 / 16;
    at = slope > 0 ? Math.ceil((at + 0.003) / grain) * grain : Math.floor((at - 0.003) / grain) * grain;
    if (Math.abs(at - height) <= within && at !== height) { held.guides.push({ why: 'exactly the clearance', height: at }); return [fs, at]; }
  }
  if (level) { held.guides.push({ why: level.why, height: level.at }); return [fs, level.at]; }
  return [fs, height];
}

/** Computes the previews of all that is held. */
function show2(bench: Bench, held: Held, aft: number, up: number): void {
  const turned = held.kind === 'turn' ? held.turned - held.grabbed[0].marking.angle : 0;
  held.previews = held.grabbed.map(g => {
    const h = axesOf[g.sight].height, mirrored = h === 1 && Math.sign(g.placed.anchor[1]) !== Math.sign(held.grabbed[0].placed.anchor[1]);
    return previewAt(g, g.placed.anchor[0] + aft, g.placed.anchor[h] + (mirrored ? -up : up), turned * Math.PI / 180 * leanOf(g), held.sized);
  });
  held.standing = held.kind === 'move' || held.kind === 'size' ? standing(bench.model, held.previews[0]) : null;
}

/** Ends a gesture: its changes, in words. */
export function end(bench: Bench, held: Held): { changes: Change[]; label: string } | null {
  if (!held.started) {
    if (held.through) bench.select([held.through.id]);
    return null;
  }
  const lead = held.grabbed[0], unit = bench.state.unit;
  if (held.kind === 'pan' || !lead) return null;
  const changes: Change[] = [], seen = new Set<string>(), h = axesOf[lead.sight].height;
  const aft = held.place[0] - lead.placed.anchor[0], up = held.place[1] - lead.placed.anchor[h];
  for (const g of held.grabbed) {
    const m = g.marking;
    if (seen.has(m.id)) continue;
    seen.add(m.id);
    if (held.kind === 'turn') changes.push(...turnTo(m, held.turned));
    else if (held.kind === 'size') changes.push(...sizeTo(m, sizeOf(m)!.value * held.sized, unit));
    else if (m.held === 'girth' || m.held === 'between') changes.push(...moveTo(m, m.fs + aft, NaN, unit), ...girthBy(m, g, aft, up, unit));
    else changes.push(...moveTo(m, m.fs + aft, m.held === 'bl' ? m.bl + up * Math.sign(lead.placed.anchor[1] || 1) : m.wl + up, unit));
  }
  const what = held.kind === 'move' ? `move ${lead.marking.id} to FS ${near(lead.marking.fs + aft, unit)}, ${m2(lead.marking.held)} ${near(held.place[1], unit)}` : held.kind === 'turn' ? `turn ${lead.marking.id} to ${held.turned} deg` : `size ${lead.marking.id}`;
  return changes.length ? { changes, label: what } : null;
}

const m2 = (heldBy: string) => heldBy === 'bl' ? 'BL' : 'WL';

/** A rise in the side view as a distance along the skin, by the lean of the skin there. */
function girthBy(m: Marking, g: Grabbed, _aft: number, up: number, unit: 'in' | 'mm'): Change[] {
  if (m.held !== 'girth' || !up) return [];
  const lean = Math.max(0.2, Math.abs(g.placed.up[2]));
  const down = (m.down ?? 0) - up / lean;
  return down >= 0 ? [{ path: `${m.path}.where.from`, yaml: `{line: ${m.from}, down: ${show(down, unit)} ${unit}}` }] : [{ path: `${m.path}.where.from`, yaml: `{line: ${m.from}, up: ${show(-down, unit)} ${unit}}` }];
}

/** Zooms about a pixel. */
export function zoom(bench: Bench, view: View, x: number, y: number, by: number): void {
  bench.set({ looks: { ...bench.state.looks, [bench.state.views]: zoomed(view, [x, y], by) } });
}
