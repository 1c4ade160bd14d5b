// Photograph: points of the aircraft picked in a picture, the camera they give, or of a side
// view the map of its plane (trace.ts), and what is read from it. The picture never leaves the
// page: pixels and its size are sent.
import type { Bench } from './bench.ts';
import { dSeen } from './camera.ts';
import { heightOf, movable, quoted, sizeOf } from './changes.ts';
import { pick } from './pick.ts';
import { h, patch, s } from './dom.ts';
import { Edges } from './edges.ts';
import { refusal } from './engine.ts';
import { near, nearly, read, show, written } from './length.ts';
import { announce } from './live.ts';
import { Loupe } from './loupe.ts';
import { leastKnown, Trace } from './trace.ts';
import type { Beside, LengthSeen, PhotoSeen } from './protocol.ts';

/** A point of the aircraft: its name, and how the layout writes it. */
interface Known { name: string; yaml: string; side: 'left' | 'right'; at: [number, number] } // at: FS and WL
interface Picked extends Known { pixel: [number, number]; off?: number } // off: its standard deviation, where edges give it
interface ReadAt { pixel: [number, number]; off: number } // off: 0 where it was picked by hand

/** The height of a line of points at a station. */
function heightAt(points: readonly (readonly number[])[], fs: number): number {
  const i = Math.max(1, points.findIndex(p => p[0] >= fs - 1e-6)), [a, b] = [points[i - 1], points[i] ?? points[i - 1]];
  return b[0] > a[0] ? a[2] + (b[2] - a[2]) * (fs - a[0]) / (b[0] - a[0]) : b[2];
}

/** What a cross in the picture is called: P1, S4, or 20, 40 of a station and waterline. */
const shortName = (name: string): string => name.startsWith('FS ') ? name.replace(/(FS|WL) /g, '') : name.split(' ')[name.startsWith('fuselage') ? 1 : 0];

/** The point without which the others fit far better. */
const suspect = (f: { suspect: number; points: { name: string }[]; chiSquare: number; without: number } | null): HTMLElement | null =>
  f && f.suspect >= 0 ? h('p', { class: 'warn', id: 'suspect' }, `${f.points[f.suspect].name} looks wrong: without it chi-square falls from ${f.chiSquare.toFixed(1)} to ${f.without.toFixed(1)}`) : null;

export function photo(bench: Bench, root: HTMLElement): void {
  let image: ImageBitmap | null = null, file = '', id = '', side: 'left' | 'right' = 'left', focal = '', which = '', why = '';
  let picked: Picked[] = [], reads: ReadAt[] = [], mode: 'point' | 'read' | 'edge' = 'point', current = -1;
  let seen: PhotoSeen | null = null, scale = 1, ox = 0, oy = 0, holding: { id: number; from: [number, number]; pan: boolean; pixel: [number, number] } | null = null, space = false;
  let kind: 'camera' | 'side' = 'camera', typed: Known[] = [], typing = { fs: '', wl: '', why: '' };
  const edges = new Edges(() => soon()), trace = new Trace(bench, () => soon()), loupe = new Loupe(), canvas = h('canvas', { 'aria-hidden': true }), over = s('svg', { class: 'picks' });
  const frame = { class: 'photostage', tabindex: 0, role: 'application', 'aria-label': 'The photograph: arrows move the cross by a pixel, with Shift by 10, with Control by a tenth; with Edge, Enter begins a line along an edge and ends it', 'data-keep': true, 'data-key': 'stage' };
  const stage = h('div', frame, canvas, over, loupe.canvas);
  new ResizeObserver(() => { if (image && stage.clientWidth) { whole(); paint(); } }).observe(stage);

  const toPixel = (x: number, y: number): [number, number] => [(x - ox) / scale - 0.5, (y - oy) / scale - 0.5];
  const toStage = (p: readonly number[]): [number, number] => [(p[0] + 0.5) * scale + ox, (p[1] + 0.5) * scale + oy];
  const whole = () => {
    if (!image) return;
    scale = Math.min(stage.clientWidth / image.width, stage.clientHeight / image.height);
    ox = (stage.clientWidth - image.width * scale) / 2; oy = (stage.clientHeight - image.height * scale) / 2;
  };

  const load = async (blob: Blob, name: string) => {
    try {
      image = await createImageBitmap(blob);
      file = name; id = name.replace(/\.\w+$/, '').toLowerCase().replace(/[^a-z0-9]+/g, '-') || 'photo';
      picked = []; reads = []; edges.clear(); trace.clear(); seen = null; current = -1; why = '';
      bench.draw();
      requestAnimationFrame(() => { whole(); paint(); });
    } catch { why = `${name} is no picture that this browser reads`; bench.draw(); }
  };

  /** Every point that can be named: hardpoints, named lines at sections, corners of plates. */
  const knowns = (): Known[] => {
    const scene = bench.model.scene, out: Known[] = [];
    if (!scene) return kind === 'side' ? typed : out;
    for (const on of [side, side === 'left' ? 'right' : 'left'] as const) {
      const far = on !== side, sides = far ? `, ${on}` : '';
      for (const p of scene.hardpoints) if (p.side === on) out.push({ name: `${p.id} ${p.name}${sides}`, yaml: quoted(p.id), side: on, at: [p.at[0], p.at[2]] });
      if (far) continue;
      for (const l of scene.lines) for (const fs of [...new Set(scene.stations.filter(f => f.surface === l.surface).map(f => f.at))]) if (l.points.length && fs >= l.points[0][0] - 0.01 && fs <= l.points[l.points.length - 1][0] + 0.01) out.push({ name: `${l.surface} ${l.name} at FS ${show(fs, bench.state.unit)}`, yaml: `{surface: ${quoted(l.surface)}, line: ${l.name}, fs: ${written(fs, bench.state.unit)}}`, side: on, at: [fs, heightAt(l.points, fs)] });
      for (const k of bench.model.skins) if (k.outlines.length && k.side === on) k.outlines[0].forEach((c, i) => out.push({ name: `${k.surface} corner ${i + 1}, FS ${near(c[0], bench.state.unit)} WL ${near(c[1], bench.state.unit)}`, yaml: `{surface: ${quoted(k.surface)}, corner: ${i + 1}}`, side: on, at: [c[0], c[1]] }));
    }
    // of the side view a point of either side will do
    return kind === 'side' ? [...typed, ...out.filter(k => k.side === side || !out.some(o => o.side === side && o.yaml === k.yaml))] : out;
  };
  /** A point of the side view by its station and waterline as typed. */
  const typePoint = () => {
    const fs = read(typing.fs, bench.state.unit), wl = read(typing.wl, bench.state.unit), wrong = fs.ok ? wl : fs;
    typing.why = wrong.ok ? '' : wrong.why;
    if (fs.ok && wl.ok) {
      const name = `FS ${show(fs.inches, bench.state.unit)}, WL ${show(wl.inches, bench.state.unit)}`;
      if (!typed.some(k => k.name === name)) typed.push({ name, yaml: '', side, at: [fs.inches, wl.inches] });
      which = name; current = picked.findIndex(p => p.name === name); mode = 'point'; typing = { fs: '', wl: '', why: '' };
      announce(`${name}: touch it in the picture`);
      stage.focus();
    }
    bench.draw(); paint();
  };

  const item = (): string => `{id: ${quoted(id)}, file: ${quoted(file)}, side: ${side}, size: [${image!.width}, ${image!.height}]${focal.trim() ? `, focal: ${/[a-z]/i.test(focal) ? focal.trim() : `${focal.trim()} px`}` : ''}, points: [${picked.map(p => `{at: ${p.yaml}${p.side !== side ? `, side: ${p.side}` : ''}, pixel: [${p.off ? p.pixel.map(x => String(Number(x.toFixed(2)))).join(', ') : `${fix(p.pixel[0])}, ${fix(p.pixel[1])}`}]${p.off ? `, plus-minus: ${p.off}` : ''}}`).join(', ')}]}`;
  const fix = (x: number) => String(Number(x.toFixed(1)));
  const least = () => kind === 'side' ? leastKnown : focal.trim() ? 4 : 6;
  /** What the points say of themselves, by a camera or as a plane. */
  const fit = () => kind === 'side' ? trace.seen : seen;

  const ask = async () => {
    if (!image || picked.length < least()) { seen = null; trace.seen = null; why = ''; paint(); bench.draw(); return; }
    if (kind === 'side') {
      try { await trace.ask(picked.map(p => ({ name: p.name, at: p.at, pixel: p.pixel, within: p.off ?? 0 }))); why = ''; } catch (e) { const r = refusal(e); if (r.code === 'cancelled') return; trace.seen = null; why = r.message; }
      paint(); bench.draw();
      return;
    }
    try { seen = await bench.engine.ask<PhotoSeen>('photo', { name: id, yaml: item(), pixels: reads.map(r => r.pixel), within: reads.map(r => r.off), edges: edges.asked() }, { slot: 'photo' }); why = ''; } catch (e) { const r = refusal(e); if (r.code === 'cancelled') return; seen = null; why = r.message; }
    paint(); bench.draw();
  };
  let timer: ReturnType<typeof setTimeout> | undefined;
  const soon = () => { clearTimeout(timer); timer = setTimeout(() => void ask(), 120); paint(); bench.draw(); };

  const paint = () => {
    const w = stage.clientWidth, high = stage.clientHeight, dense = devicePixelRatio || 1;
    if (!image || !w) return;
    canvas.width = w * dense; canvas.height = high * dense;
    const c = canvas.getContext('2d')!;
    c.setTransform(dense, 0, 0, dense, 0, 0);
    c.imageSmoothingEnabled = scale < 2;
    c.drawImage(image, ox, oy, image.width * scale, image.height * scale);
    over.setAttribute('width', String(w)); over.setAttribute('height', String(high));
    const crossAt = (p: readonly number[], name: string, on: boolean, kind: string) => pick(toStage(p), name, `${kind}${on ? ' on' : ''}`);
    const lines: (SVGElement | null)[] = [];
    if (kind === 'camera' && seen && bench.model.scene) { // the aircraft as that camera sees it
      const cam = seen.camera, at = `translate(${ox + 0.5 * scale} ${oy + 0.5 * scale}) scale(${scale})`, line = (d: string, name: string) => d ? s('path', { d, class: name, 'vector-effect': 'non-scaling-stroke' }) : null;
      const sign = side === 'left' ? -1 : 1, turn = (p: readonly number[]) => [p[0], Math.abs(p[1]) * sign, p[2]];
      lines.push(s('g', { transform: at, class: 'seenlines' }, bench.model.scene.stations.map(f => line(dSeen(cam, f.points.map(turn)), 'seenline')), bench.model.scene.lines.map(l => line(dSeen(cam, l.points.map(turn)), 'seenline')),
        bench.model.skins.filter(k => k.outlines.length && k.side === side).map(k => line(k.outlines.map(o => dSeen(cam, o.map(p => [p[0], 0, p[1]]), true)).join(''), 'seenline')),
        bench.model.markings.flatMap(m => (bench.model.outlines.get(m.id)?.list ?? []).filter(o => o.side === side).map(o => line(o.lines.map(l => dSeen(cam, l, true)).join(''), 'seenmark')))));
    }
    patch(over, [...lines.filter(x => x !== null), ...picked.map((p, i) => {
      const known = fit(), r = known?.points[i], [x, y] = toStage(p.pixel);
      return s('g', {}, r ? s('path', { class: known!.suspect === i ? 'residual suspect' : 'residual', d: `M${x} ${y}l${-r.left[0] * 20 * scale} ${-r.left[1] * 20 * scale}` }) : null, crossAt(p.pixel, shortName(p.name), i === current && mode === 'point', 'known'));
    }), ...(kind === 'side' ? trace.over(toStage, mode === 'read') : reads).map((p, i) => p instanceof SVGElement ? p : crossAt(p.pixel, i ? 'B' : 'A', mode === 'read' && i === reads.length - 1, 'read')), ...edges.over(toStage, mode === 'edge')]);
  };

  const put = (pixel: [number, number]) => {
    if (mode === 'read' && kind === 'side') { trace.move(pixel); return; }
    if (mode === 'read') { const one = { pixel, off: 0 }; if (!holding || reads.length === 0) reads = [...reads.slice(-1), one]; else reads[reads.length - 1] = one; soon(); return; }
    if (mode === 'edge') { if (edges.line) edges.line.to = pixel; else edges.line = { from: pixel, to: pixel }; paint(); return; }
    const known = knowns().find(k => k.name === which);
    if (!known) return;
    const at = picked.findIndex(p => p.name === known.name);
    if (at >= 0) { picked[at] = { ...known, pixel }; current = at; } else { picked.push({ ...known, pixel }); current = picked.length - 1; }
    soon();
  };
  const place = (e: PointerEvent): [number, number] => { const r = stage.getBoundingClientRect(); return [e.clientX - r.left, e.clientY - r.top]; };
  stage.addEventListener('pointerdown', e => {
    if (!image) return;
    stage.focus({ preventScroll: true });
    const [x, y] = place(e), pixel = toPixel(x, y);
    stage.setPointerCapture(e.pointerId);
    const pan = space || e.button === 1;
    holding = { id: e.pointerId, from: [x, y], pan, pixel };
    if (!pan) { if (mode === 'read') { if (kind === 'side') trace.add(pixel); else reads = [...reads.slice(-1), { pixel, off: 0 }]; } if (mode === 'edge') { edges.line = null; edges.cursor = null; } put(pixel); loupe.show(image, pixel, [x, y], { width: stage.clientWidth, height: stage.clientHeight }, e.pointerType === 'touch'); }
    e.preventDefault();
  });
  stage.addEventListener('pointermove', e => {
    if (!image || !holding || holding.id !== e.pointerId) return;
    const [x, y] = place(e);
    if (holding.pan) { ox += x - holding.from[0]; oy += y - holding.from[1]; holding.from = [x, y]; paint(); return; }
    // on touch the cross follows the finger's movement, not its place
    const pixel = toPixel(x, y);
    put(pixel);
    loupe.show(image, pixel, [x, y], { width: stage.clientWidth, height: stage.clientHeight }, e.pointerType === 'touch');
  });
  const up = (e: PointerEvent) => { if (image && holding && !holding.pan && mode === 'edge') { if (e.type === 'pointerup') edges.fit(image, scale); else { edges.line = null; paint(); } } holding = null; loupe.hide(); bench.draw(); };
  stage.addEventListener('pointerup', up);
  stage.addEventListener('pointercancel', up);
  stage.addEventListener('wheel', e => {
    if (!image) return;
    e.preventDefault();
    const r = stage.getBoundingClientRect(), x = e.clientX - r.left, y = e.clientY - r.top, k = Math.exp(-e.deltaY * 0.002), now = Math.max(0.02, Math.min(40, scale * k));
    ox = x - (x - ox) * now / scale; oy = y - (y - oy) * now / scale; scale = now;
    paint();
  }, { passive: false });
  stage.addEventListener('keydown', e => {
    if (e.key === ' ') { space = true; e.preventDefault(); }
    const by = e.shiftKey ? 10 : e.ctrlKey || e.metaKey ? 0.1 : 1, move: Record<string, [number, number]> = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] };
    if (image && (mode === 'edge' || mode === 'read' && kind === 'side')) {
      const at = mode === 'edge' ? edges.key(e, image, scale, move[e.key] ?? null) : trace.key(e, image, move[e.key] ?? null);
      if (at) { e.preventDefault(); e.stopPropagation(); loupe.show(image, at, toStage(at), { width: stage.clientWidth, height: stage.clientHeight }, false); if (e.key !== 'Escape') return; }
    }
    const target = mode === 'read' ? reads[reads.length - 1]?.pixel : picked[current]?.pixel;
    if (move[e.key] && image && mode !== 'edge' && !(mode === 'read' && kind === 'side')) {
      e.preventDefault(); e.stopPropagation();
      const from = target ?? (mode === 'point' && which ? [image.width / 2, image.height / 2] : null);
      if (!from) return;
      const next: [number, number] = [Number((from[0] + move[e.key][0]).toFixed(2)), Number((from[1] + move[e.key][1]).toFixed(2))];
      if (mode === 'read') { reads[reads.length - 1] = { pixel: next, off: 0 }; soon(); } else if (picked[current]) { picked[current].pixel = next; delete picked[current].off; soon(); } else put(next);
      const at = toStage(next);
      loupe.show(image, next, at, { width: stage.clientWidth, height: stage.clientHeight }, false);
      announce(`pixel ${fix(next[0])}, ${fix(next[1])}`);
    }
    if (e.key === 'Escape') loupe.hide();
  });
  stage.addEventListener('keyup', e => { if (e.key === ' ') space = false; });
  stage.addEventListener('blur', () => loupe.hide());

  const takePlace = (i: number) => {
    const m = bench.chosen, p = seen?.places[i];
    if (!m || !p || !movable(m)) return;
    const unit = bench.state.unit, grain = (x: number) => Math.round(x * 16) / 16;
    const changes = [{ path: `${m.path}.where.fs`, value: written(unit === 'in' ? grain(p.at[0]) : p.at[0], unit) }];
    if (m.held === 'wl') changes.push({ path: heightOf(m).path, value: written(unit === 'in' ? grain(p.at[2]) : p.at[2], unit) });
    if (m.held === 'bl') changes.push({ path: heightOf(m).path, value: written(Math.abs(p.at[1]), unit) });
    void bench.edit(changes, `${m.id}: place read from ${id}`);
  };
  const takeLength = (l: LengthSeen, part: number) => {
    const m = bench.chosen, z = m && sizeOf(m);
    if (m && z) void bench.edit([{ path: z.path, value: written(Math.round((l.along || l.air) * part) / part, bench.state.unit) }], `${m.id}: size read from ${id}`);
  };
  /** The corner where two edges cross as a point of the aircraft, known to a tenth of a pixel at best, or as a place that is read. */
  const takeCorner = (as: 'point' | 'read') => {
    const c = edges.crossing, known = knowns().find(k => k.name === which);
    if (!c) return;
    const off = Math.max(0.1, Math.ceil(c.off * 10) / 10);
    if (as === 'read' && kind === 'side') { trace.add(c.at, off); return; }
    if (as === 'read') reads = [...reads.slice(-1), { pixel: c.at, off }];
    else if (known) { picked = [...picked.filter(p => p.name !== known.name), { ...known, pixel: c.at, off }]; current = picked.length - 1; }
    announce(as === 'read' ? 'the corner is read' : `${which} stands at the corner`);
    soon();
  };
  const cite = async () => {
    const m = bench.chosen, scene = bench.model.scene;
    if (!m || !scene) return;
    let n = 1;
    while (scene.evidence.some(e => e.id === `E-${n}`)) n++;
    const what = `${kind === 'side' ? 'side view' : 'photograph'} ${file}, ${picked.length} points`, old = scene.evidence.find(e => e.what.includes(file)), eid = old?.id ?? `E-${n}`;
    const changes = [...(old ? [] : [scene.evidence.length ? { add: 'evidence', yaml: `{id: ${eid}, class: E3, what: ${JSON.stringify(what)}}` } : { path: 'evidence', yaml: `[{id: ${eid}, class: E3, what: ${JSON.stringify(what)}}]` }]),
      ...(m.evidence.includes(eid) ? [] : [{ path: `${m.path}.evidence`, yaml: `[${[...m.evidence, eid].join(', ')}]` }])];
    if (changes.length) await bench.edit(changes, `${m.id} cites ${eid}`);
  };
  const keep = async () => {
    const photos = bench.model.scene?.photos ?? [];
    await bench.edit([photos.some(p => p.id === id) ? { path: `photos[${id}]`, yaml: item() } : photos.length ? { add: 'photos', yaml: item() } : { path: 'photos', yaml: `[${item()}]` }], `points of ${id}`);
  };
  const fromFolder = async (p: { id: string; file: string }) => {
    try {
      const b = await bench.engine.ask<Beside>('beside', { name: p.file });
      await load(new Blob([Uint8Array.from(atob(b.data), c => c.charCodeAt(0))]), p.file);
      id = p.id;
    } catch (e) { why = refusal(e).message; bench.draw(); }
  };

  bench.panel(() => {
    if (bench.state.job !== 'photograph') return;
    if (bench.droppedPhoto) { const f = bench.droppedPhoto; bench.droppedPhoto = null; void load(f, f.name); }
    const unit = bench.state.unit, all = knowns(), m = bench.chosen, photos = bench.model.scene?.photos ?? [];
    if (!all.some(k => k.name === which)) which = all.find(k => !picked.some(p => p.name === k.name))?.name ?? all[0]?.name ?? '';
    const chooser = h('input', { type: 'file', id: 'photo-file', accept: 'image/*', on: { change: (e: Event) => { const f = (e.target as HTMLInputElement).files?.[0]; if (f) void load(f, f.name); } } });
    const tracing = kind === 'side' && mode === 'read', edging = mode === 'edge';
    const span = (a: readonly number[]) => nearly((a[1] - a[0]) / 2, unit);
    patch(root, [
      h('div', { class: 'photowork', 'data-key': image ? 'with' : 'without' }, image ? stage.isConnected ? h('div', frame) : stage : h('div', { class: 'drop', 'data-key': 'drop' }, h('label', { for: 'photo-file' }, 'Drop a photograph on the page, or choose one. It stays in this page.'), chooser, photos.map(p => h('button', { type: 'button', on: { click: () => void fromFolder(p) } }, `Open ${p.file}, which the layout names`)), why ? h('p', { class: 'stop' }, why) : null),
        h('div', { class: 'photoside' },
          h('div', { class: 'head' }, h('h2', {}, 'Points'), image ? h('span', { class: 'soft' }, `${file}, ${image.width} by ${image.height}`) : null),
          h('div', { class: 'acts' }, h('span', { class: 'pair', role: 'group', 'aria-label': 'What the picture is' }, (['camera', 'side'] as const).map(x => h('button', { type: 'button', 'aria-pressed': String(kind === x), on: { click: () => { if (kind === x) return; kind = x; picked = []; current = -1; reads = []; seen = null; trace.clear(); if (mode === 'read') mode = 'point'; soon(); } } }, x === 'side' ? 'Side view' : 'Photograph')))),
          h('div', { class: 'acts' }, kind === 'side' ? null : h('span', { class: 'pair', role: 'group', 'aria-label': 'Side that is seen' }, (['left', 'right'] as const).map(x => h('button', { type: 'button', 'aria-pressed': String(side === x), on: { click: () => { side = x; picked = []; soon(); } } }, `${x} side`))),
            h('span', { class: 'pair', role: 'group', 'aria-label': 'What a touch sets' }, h('button', { type: 'button', 'aria-pressed': String(mode === 'point'), on: { click: () => { mode = 'point'; soon(); } } }, 'Point'), h('button', { type: 'button', 'aria-pressed': String(mode === 'read'), disabled: !fit(), on: { click: () => { mode = 'read'; soon(); } } }, kind === 'side' ? 'Trace' : 'Read'), h('button', { type: 'button', 'aria-pressed': String(mode === 'edge'), disabled: !image, on: { click: () => { mode = 'edge'; soon(); } } }, 'Edge'))),
          edging ? edges.panel(kind === 'side' ? null : seen, unit, {
            crossing: [which ? h('button', { type: 'button', on: { click: () => takeCorner('point') } }, `Set ${which} there`) : null, fit() ? h('button', { type: 'button', on: { click: () => takeCorner('read') } }, kind === 'side' ? 'Trace the place there' : 'Read the place there') : null].filter(x => x !== null),
            width: seen?.width && !seen.width.why && m && sizeOf(m) ? [h('button', { type: 'button', on: { click: () => takeLength(seen!.width!.length, 64) } }, `Take as size of ${m.id}`)] : [],
            ends: kind === 'side' && trace.seen ? e => trace.addEdge(e) : null,
          }) : null,
          tracing ? trace.panel(file, m ? h('button', { type: 'button', on: { click: () => void cite() } }, `Cite in evidence of ${m.id}`) : null) : null,
          kind === 'side' && !tracing ? h('div', { class: 'typedpoint' }, (['fs', 'wl'] as const).map(k => h('div', { class: 'field' }, h('label', { for: `photo-${k}` }, k === 'fs' ? `Station, ${unit}` : `Waterline, ${unit}`), h('span', { class: 'box' }, h('input', { id: `photo-${k}`, type: 'text', autocomplete: 'off', value: typing[k], on: { input: (e: Event) => { typing[k] = (e.target as HTMLInputElement).value; }, keydown: (e: KeyboardEvent) => { if (e.key === 'Enter') typePoint(); } } })))), h('button', { type: 'button', on: { click: typePoint } }, 'Name this point')) : null,
          kind === 'side' && !tracing && typing.why ? h('p', { class: 'stop' }, typing.why) : null,
          tracing ? null : !all.length ? kind === 'side' ? null : h('p', { class: 'warn' }, 'No hardpoint yet: type one in the text, or add lines and sections.') : h('div', { class: 'field' }, h('label', { for: 'photo-which' }, 'Which point?'), h('select', { id: 'photo-which', value: which, on: { change: (e: Event) => { which = (e.target as HTMLSelectElement).value; current = picked.findIndex(p => p.name === which); mode = 'point'; bench.draw(); paint(); } } }, all.map(k => h('option', { value: k.name, selected: k.name === which }, (picked.some(p => p.name === k.name) ? '✓ ' : '') + k.name)))),
          tracing ? null : h('div', { class: 'acts' }, h('button', { type: 'button', disabled: current < 0, class: 'strong', on: { click: () => { const next = all.find(k => !picked.some(p => p.name === k.name)); if (next) which = next.name; current = -1; bench.draw(); paint(); stage.focus(); } } }, 'Take, next point'), h('button', { type: 'button', on: { click: () => { const i = all.findIndex(k => k.name === which); which = all[(i + 1) % Math.max(1, all.length)]?.name ?? ''; current = picked.findIndex(p => p.name === which); bench.draw(); } } }, 'Skip')),
          kind === 'side' ? null : h('div', { class: 'field' }, h('label', { for: 'photo-focal' }, 'Focal length, if known: px, or {length: 6 in, film: 7 in}'), h('span', { class: 'box' }, h('input', { id: 'photo-focal', type: 'text', value: focal, autocomplete: 'off', on: { change: (e: Event) => { focal = (e.target as HTMLInputElement).value; soon(); } } }))),
          h('table', {}, h('thead', {}, h('tr', {}, ['point', 'pixel', 'residual', 'take out'].map(n => h('th', { scope: 'col' }, n)))), h('tbody', {}, picked.map((p, i) => { const r = fit()?.points[i], off = r ? Math.hypot(r.left[0], r.left[1]) : null; return h('tr', { 'data-key': p.name, class: fit()?.suspect === i ? 'suspect' : '' }, h('td', {}, h('button', { type: 'button', class: 'plain', on: { click: () => { which = p.name; current = i; mode = 'point'; paint(); bench.draw(); stage.focus(); } } }, p.name)), h('td', { class: 'n' }, p.off ? p.pixel.map(x => x.toFixed(2)).join(', ') : `${fix(p.pixel[0])}, ${fix(p.pixel[1])}`), h('td', { class: 'n' }, off === null ? '' : `${off.toFixed(1)} px${fit()!.suspect === i ? ' suspect' : ''}`), h('td', {}, h('button', { type: 'button', class: 'link', 'aria-label': `remove ${p.name}`, on: { click: () => { picked.splice(i, 1); current = -1; soon(); } } }, 'remove'))); }))),
          picked.length < least() && image ? h('p', { class: 'soft' }, kind === 'side' ? `${least() - picked.length} more: four points of known station and waterline, no three on one line` : `${least() - picked.length} more: six points, four where the focal length is known`) : null,
          why && image ? h('p', { class: 'stop' }, why) : null,
          suspect(fit()),
          (kind === 'side' ? [] : seen?.findings ?? []).filter(f => f.rule !== 'photo-suspect').map(f => h('p', { class: f.level === 'note' ? 'soft' : f.level }, f.message)),
          kind === 'camera' && seen ? [h('h2', { class: 'rule' }, 'Read'), !reads.length ? h('p', { class: 'soft' }, 'Press Read, then touch the picture: one place, or two for a length.') : null,
            seen.places.map((p, i) => h('div', { class: 'readplace' }, h('p', {}, h('b', {}, i ? 'B ' : 'A '), p.why ? h('span', { class: 'warn' }, p.why) : `${p.on}, FS ${near(p.at[0], unit)} ± ${span(p.in95[0])}, BL ${near(p.at[1], unit)} ± ${span(p.in95[1])}, WL ${near(p.at[2], unit)} ± ${span(p.in95[2])}`), m && !p.why ? h('button', { type: 'button', on: { click: () => takePlace(i) } }, `Take as place of ${m.id}`) : null)),
            seen.length ? h('p', {}, h('b', {}, 'A to B '), seen.length.along ? `${nearly(seen.length.along, unit)} ± ${span(seen.length.skin95)} along the skin; ` : '', `${nearly(seen.length.air, unit)} ± ${span(seen.length.air95)} straight`) : null,
            h('div', { class: 'acts' }, seen.length && m && sizeOf(m) ? h('button', { type: 'button', on: { click: () => takeLength(seen!.length!, 16) } }, `Take as size of ${m.id}`) : null, m ? h('button', { type: 'button', on: { click: () => void cite() } }, `Cite in evidence of ${m.id}`) : h('span', { class: 'soft' }, 'Select a marking to take a reading into it.'), h('button', { type: 'button', on: { click: () => void keep() } }, 'Write the points into the text'))] : null)),
    ]);
    paint();
  });
}
