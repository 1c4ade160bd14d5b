// What is drawn while a marking is held: chain lines, its place, distances, and the detail.
import { areaOf, boxesIn, meets, type Box } from './boxes.ts';
import { coatUnder, lineClass, paintClass } from './coat.ts';
import { s } from './dom.ts';
import { near, nearly, show, type Unit } from './length.ts';
import { dOf } from './lines.ts';
import type { Model } from './model.ts';
import type { Preview, Standing } from './move.ts';
import { boxOf, inside } from './outline.ts';
import { pixelOf, toScreen, transformOf, type View } from './project.ts';
import type { Vec } from './vec.ts';

/** Chain lines through a place, to both rulers. */
export function chains(v: View, fs: number, height: number, strong: boolean): SVGElement {
  const [x, y] = toScreen(v, fs, height);
  return s('path', { class: strong ? 'chain' : 'chain thin', d: `M0 ${y.toFixed(1)}H${v.width}${strong ? `M${x.toFixed(1)} 0V${v.height}` : ''}` });
}

/** The outline of a preview: paints, or the edge alone. */
export function outlineOf(v: View, p: Preview, how: 'held' | 'follows'): SVGElement {
  return s('g', { transform: transformOf(v), class: how }, p.paints.map(x =>
    s('path', { d: x.lines.map(l => dOf(v.sight, l, true)).join(''), fill: how === 'held' ? x.hex : 'none', 'vector-effect': 'non-scaling-stroke' })));
}

export const previewBox = (v: View, p: Preview): Box => boxOf(p.paints.flatMap(x => x.lines.flat()).map(q => pixelOf(v, q)));

/** The nearest neighbour fore or aft, as a dimension between the edges. */
export function neighbourDim(v: View, model: Model, p: Preview, unit: Unit): SVGElement | null {
  const own = previewBox(v, p);
  let best: { from: number; to: number; y: number } | null = null;
  for (const b of boxesIn(v, model)) {
    if (b.marking.id === p.grabbed.marking.id || b.box[1] > own[3] || b.box[3] < own[1]) continue;
    const y = Math.max(own[1], b.box[1]) + Math.min(24, (Math.min(own[3], b.box[3]) - Math.max(own[1], b.box[1])) / 2);
    const one = b.box[2] <= own[0] ? { from: b.box[2], to: own[0], y } : b.box[0] >= own[2] ? { from: own[2], to: b.box[0], y } : null;
    if (one && (!best || one.to - one.from < best.to - best.from)) best = one;
  }
  if (!best || best.to - best.from < 24) return null;
  const { from, to, y } = best, text = nearly((to - from) / v.look.scale, unit), w = text.length * 7.6 + 10, mid = (from + to) / 2;
  return s('g', { class: 'dim' },
    s('path', { d: `M${from} ${y}H${to}` }), s('path', { class: 'tip', d: `M${from} ${y}l7-2.6v5.2zM${to} ${y}l-7-2.6v5.2z` }),
    to - from > w + 20 ? [s('rect', { x: mid - w / 2, y: y - 9, width: w, height: 18 }), s('text', { x: mid, y: y + 4.5, 'text-anchor': 'middle' }, text)]
      : s('text', { x: mid, y: y - 6, 'text-anchor': 'middle' }, text));
}

/** What is said at the hand: the place, how far it has come, and why it stands there. */
export function saysAt(p: Preview, unit: Unit, reasons: string[]): string[] {
  const g = p.grabbed, plan = g.sight === 'above' || g.sight === 'below', h = plan ? 1 : 2;
  const aft = p.station - g.placed.anchor[0], up = p.height - g.placed.anchor[h];
  const moved = [aft && `${nearly(Math.abs(aft), unit)} ${aft > 0 ? 'aft' : 'forward'}`, up && `${nearly(Math.abs(up), unit)} ${plan ? (Math.abs(p.height) > Math.abs(g.placed.anchor[1]) ? 'outboard' : 'inboard') : up > 0 ? 'up' : 'down'}`].filter(Boolean);
  return [`FS ${show(p.station, unit, 16)}, ${plan ? 'BL' : 'WL'} ${show(plan ? Math.abs(p.height) : p.height, unit, 16)}`,
    p.on ? moved.length ? moved.join(', ') : 'not moved' : 'off the skin', ...(reasons.length ? [reasons.join('; ')] : [])];
}

export function readout(v: View, p: Preview, lines: string[]): SVGElement {
  const box = previewBox(v, p), w = Math.max(...lines.map(l => l.length)) * 7.3 + 24, high = 14 + lines.length * 17;
  let x = (box[0] + box[2]) / 2 + 24, y = box[3] + 14;
  y = Math.max(4, Math.min(y, v.height - 8 - high));
  x = Math.min(Math.max(6, x), v.width - w - 6);
  return s('g', { class: 'readout', transform: `translate(${x.toFixed(0)} ${y.toFixed(0)})` }, s('rect', { width: w, height: high, rx: 2 }),
    lines.map((l, i) => s('text', { x: 12, y: 20 + i * 17, class: i ? 'soft' : 'strong' }, l)));
}

/** The clearance: an arrow where there is room, else a detail circle in empty sky. */
export function clearance(v: View, model: Model, p: Preview, st: Standing, was: number | null, unit: Unit): SVGElement[] {
  const a = pixelOf(v, st.near.from), b = pixelOf(v, st.near.to), far = Math.hypot(a[0] - b[0], a[1] - b[1]);
  const good = st.near.distance >= st.limit - 0.0005;
  if (far >= 12) {
    const text = near(st.near.distance, unit);
    return [s('g', { class: good ? 'clear good' : 'clear warn' }, s('path', { d: `M${a[0]} ${a[1]}L${b[0]} ${b[1]}` }), tips(a, b),
      s('text', { x: (a[0] + b[0]) / 2 + 8, y: (a[1] + b[1]) / 2 + 4 }, `${text} ${unit} (keep ${show(st.limit, unit)})`))];
  }
  const coat = coatUnder(model, p.grabbed.marking.surfaces);
  const r = 58, k = [2, 3, 5, 8, 10, 20, 50].find(k => st.near.distance * v.look.scale * k >= 11) ?? 50;
  const at = sky(v, model, p, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], r);
  if (!at) return [];
  const look = { ...v.look, scale: v.look.scale * k };
  const middle: Vec = [(st.near.from[0] + st.near.to[0]) / 2, (st.near.from[1] + st.near.to[1]) / 2, (st.near.from[2] + st.near.to[2]) / 2];
  const zoom: View = { ...v, look, width: 2 * r, height: 2 * r };
  const plan = v.sight === 'above' || v.sight === 'below';
  look.fs = middle[0]; look.height = plan ? middle[1] : middle[2];
  const id = `detail-${v.sight}`, ax = pixelOf(zoom, st.near.from), bx = pixelOf(zoom, st.near.to);
  const outline = st.obstacle.points.length ? st.obstacle.points : st.obstacle.at ? [st.obstacle.at] : [];
  const words = [`DETAIL A, ${k} : 1`, `${near(st.near.distance, unit, 64)} ${unit}${good ? ' clear' : ', too near'}`, `of ${st.obstacle.id}`,
    ...(was !== null && Math.abs(was - st.near.distance) > 0.004 ? [`was ${show(Math.round(was * 100) / 100, unit, 64)} ${unit}`] : [`keep ${show(st.limit, unit)} ${unit}`])];
  const left = at[0] - r - 180 > 4, tx = left ? at[0] - r - 12 : at[0] + r + 12;
  return [s('circle', { class: 'lens', cx: (a[0] + b[0]) / 2, cy: (a[1] + b[1]) / 2, r: 11 }), s('text', { class: 'lensname', x: a[0] + 14, y: a[1] + 18 }, 'A'),
    s('clipPath', { id }, s('circle', { cx: r, cy: r, r: r - 1 })),
    s('g', { class: good ? 'detail good' : 'detail warn', transform: `translate(${at[0] - r} ${at[1] - r})` }, s('circle', { class: 'ring', cx: r, cy: r, r }),
      s('g', { 'clip-path': `url(#${id})` }, s('rect', { class: coat ? 'ground coated' : 'ground', fill: coat || undefined, width: 2 * r, height: 2 * r }),
        s('g', { transform: transformOf(zoom) },
          p.paints.map(x => s('path', { d: x.lines.map(l => dOf(v.sight, l, true)).join(''), fill: x.hex, class: paintClass(x.hex, coat), 'vector-effect': 'non-scaling-stroke' })),
          s('path', { d: dOf(v.sight, outline, st.obstacle.closed), class: `obstacle ${lineClass(coat)}`, 'vector-effect': 'non-scaling-stroke' })),
        s('path', { class: 'gap', d: `M${ax[0]} ${ax[1]}L${bx[0]} ${bx[1]}` }), tips(ax, bx))),
    s('g', { class: good ? 'detailtext good' : 'detailtext warn' }, words.map((w, i) =>
      s('text', { x: tx, y: at[1] - 22 + i * 18, 'text-anchor': left ? 'end' : 'start', class: ['head', 'verdict', 'soft', 'soft'][i] }, w)))];
}

function tips(a: readonly number[], b: readonly number[]): SVGElement {
  const l = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1, x = (b[0] - a[0]) / l, y = (b[1] - a[1]) / l, k = Math.min(6, l / 2);
  const tip = (p: readonly number[], q: number) => `M${p[0]} ${p[1]}l${q * k * x - k / 2 * y} ${q * k * y + k / 2 * x}l${k * y} ${-k * x}z`;
  return s('path', { class: 'tip', d: tip(a, 1) + tip(b, -1) });
}

/** Room for the detail that covers no paint, best no aircraft, and is near. */
function sky(v: View, model: Model, p: Preview, from: [number, number], r: number): [number, number] | null {
  const boxes = [...boxesIn(v, model).map(b => b.box), previewBox(v, p)];
  const skins = model.skins.filter(k => k.outlines.length).flatMap(k => k.outlines.map(o => o.map(q => toScreen(v, q[0], q[1]))));
  const bodies: Box[] = [...model.meshes.values()].filter(m => m.wraps).map(m => {
    const points: [number, number][] = [];
    for (let i = 0; i < m.points.length; i += 9) points.push(pixelOf(v, [m.points[i], m.points[i + 1], m.points[i + 2]]));
    return boxOf(points);
  });
  let best: [number, number] | null = null, least = Infinity;
  for (let y = r + 8; y <= v.height - r - 8; y += 24) for (let x = r + 8; x <= v.width - r - 8; x += 24) {
    const words: Box = x - r - 190 > 0 ? [x - r - 190, y - r, x + r, y + r] : [x - r, y - r, x + r + 190, y + r];
    if (words[2] > v.width || boxes.some(b => meets(words, b))) continue;
    let cost = Math.hypot(x - from[0], y - from[1]);
    if (cost < r + 30) continue;
    for (const b of bodies) if (meets(words, b)) cost += 400 * areaOf([Math.max(words[0], b[0]), Math.max(words[1], b[1]), Math.min(words[2], b[2]), Math.min(words[3], b[3])]) / areaOf(words);
    if (skins.length && (inside(skins, x, y) || inside(skins, x + r, y) || inside(skins, x, y + r) || inside(skins, words[0], y))) cost += 500;
    if (cost < least) { least = cost; best = [x, y]; }
  }
  return best;
}
