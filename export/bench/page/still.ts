// What stands still: the aircraft in one view, with its stations, lines and obstacles.
import { coatOf, lineClass } from './coat.ts';
import { s } from './dom.ts';
import { borderOf, dFlat, dOf, offsets, silhouette } from './lines.ts';
import { sightsOf, type Model } from './model.ts';
import { inside } from './outline.ts';
import { fromScreen, nameOf, pixelOf, toScreen, transformOf, type View } from './project.ts';
import type { SceneBar, Skin } from './protocol.ts';
import { ticksFor } from './ruler.ts';
import { axesOf, type Sight } from './skin.ts';
import type { State } from './state.ts';
import type { Vec } from './vec.ts';
import { show } from './length.ts';

/** Whether a skin is drawn in a view, be it from its edge. */
export function drawnIn(skin: Skin, sight: Sight): boolean {
  const flat = skin.kind === 'wing' || skin.kind === 'foil';
  if (sight === 'above' || sight === 'below') return flat ? sightsOf(skin).includes(sight) : skin.kind !== 'plate';
  return !flat && (skin.side === 'both' || skin.side === sight);
}

const seenObstacle = (o: SceneBar, sight: Sight): boolean =>
  sight === 'above' || sight === 'below' ? (o.face ?? '') === (sight === 'above' ? 'upper' : 'lower') : !o.face && o.side === sight;

/** The outlines of a skin in a view: stations and heights. */
const ringsOf = (k: Skin, model: Model, sight: Sight): readonly (readonly number[])[][] => {
  const m = model.meshes.get(k.id)!;
  return k.outlines.length ? k.outlines : [m.wraps ? silhouette(m, sight) : borderOf(m, sight)];
};

/** The outlines of all that is drawn of the aircraft, in pixels. */
export const drawnRings = (v: View, model: Model): (readonly number[])[][] =>
  model.skins.filter(k => drawnIn(k, v.sight)).flatMap(k => ringsOf(k, model, v.sight).map(r => r.map(p => toScreen(v, p[0], p[1]))));

/** The skins, lines and obstacles of a view: one group in inches, one in pixels. */
export function still(v: View, model: Model, state: State): SVGElement[] {
  const scene = model.scene;
  if (!scene) return [];
  const plan = v.sight === 'above' || v.sight === 'below';
  const skins = model.skins.filter(k => drawnIn(k, v.sight));
  const shown = state.shown, out: SVGElement[] = [];
  const group = (name: string, ...c: (SVGElement | null)[]) => s('g', { class: name }, c);
  const path = (d: string, name: string, fill?: string) => s('path', { d, class: name, fill, 'vector-effect': 'non-scaling-stroke' });
  const coat = (surface: string) => state.theme === 'sunlight' ? '' : coatOf(model, surface), on = (surface: string) => lineClass(coat(surface));

  if (shown.grid) out.push(grid(v, state));
  const shapes = skins.map(k => {
    const rings = ringsOf(k, model, v.sight);
    return { skin: k, d: rings.map(o => dFlat(o, true)).join(''), rings: coat(k.surface) ? rings.map(r => r.map(p => toScreen(v, p[0], p[1]))) : [] };
  });
  const profile = plan ? [] : scene.profile;
  const structure: SVGElement[] = [];
  if (shown.frames) {
    for (const f of scene.stations) {
      const surfaces = skins.filter(k => k.surface === f.surface);
      if (!surfaces.length) continue;
      const body = surfaces.some(k => k.side === 'both');
      if (plan && body) { structure.push(path(dOf(v.sight, f.points) + dOf(v.sight, f.points.map(mirror)), `frame ${on(f.surface)}`)); continue; }
      for (const k of surfaces) {
        const left = k.side === 'left' && f.points.some(p => p[1] > 0.01);
        structure.push(path(dOf(v.sight, left ? f.points.map(mirror) : f.points), `frame ${on(f.surface)}`));
      }
    }
    const ends = new Set<string>();
    for (const l of scene.lines) {
      if (!skins.some(k => k.surface === l.surface)) continue;
      ends.add(l.name);
      structure.push(path(dOf(v.sight, l.points) + (plan ? dOf(v.sight, l.points.map(mirror)) : ''), `stringer ${on(l.surface)}`));
    }
  }
  if (shown.tapes) for (const o of scene.obstacles) {
    if (o.kind !== 'tape' && o.kind !== 'section' || !seenObstacle(o, v.sight) || o.points.length < 2) continue;
    if (o.closed) structure.push(path(dOf(v.sight, o.points, true), `tape ${on(o.surface)}`));
    else for (const line of offsets(v.sight, o.points, o.size / 2)) structure.push(path(dFlat(line), `tape ${on(o.surface)}`));
  }
  const things = scene.obstacles.filter(o => o.kind !== 'tape' && o.kind !== 'section' && o.kind !== 'hinge' && seenObstacle(o, v.sight)).map(o => {
    const own = o.points.length > 1 ? dOf(v.sight, o.points, o.closed) : '';
    return own ? path(own, `obstacle ${o.kind} ${on(o.surface)}`) : null;
  });
  const world = s('g', { transform: transformOf(v) },
    group('ground', scene.ground && !plan ? path(groundLine(v, scene.ground.main, scene.ground.tail), 'groundline') : null),
    group('profile', ...profile.map(p => path(dFlat(p.points, p.closed), p.closed ? 'opening' : 'profile'))),
    group('skins', ...shapes.map(x => path(x.d, coat(x.skin.surface) ? 'skin coated' : 'skin', coat(x.skin.surface) || undefined))),
    group('structure', ...structure),
    group('things', ...things),
    group('outlines', ...shapes.map(x => path(x.d, 'edge'))));
  out.push(world, labels(v, model, state, (x, y) => { const on = shapes.filter(c => c.rings.length && inside(c.rings, x, y)).pop(); return on ? coat(on.skin.surface) : ''; }));
  return out;
}

const mirror = (p: readonly number[]): Vec => [p[0], -p[1], p[2]];

function grid(v: View, state: State): SVGElement {
  const { label } = ticksFor(v.look.scale, state.unit);
  const [a, top] = fromScreen(v, [0, 0]), [b, bottom] = fromScreen(v, [v.width, v.height]);
  let d = '';
  for (let i = Math.ceil(Math.min(a, b) / label); i <= Math.max(a, b) / label; i++) d += `M${toScreen(v, i * label, 0)[0].toFixed(1)} 0V${v.height}`;
  for (let i = Math.ceil(Math.min(top, bottom) / label); i <= Math.max(top, bottom) / label; i++) d += `M0 ${toScreen(v, 0, i * label)[1].toFixed(1)}H${v.width}`;
  return s('path', { d, class: 'grid' });
}

function groundLine(v: View, main: readonly number[], tail: readonly number[]): string {
  const [a] = fromScreen(v, [0, 0]), [b] = fromScreen(v, [v.width, 0]);
  const at = (x: number) => main[1] + (tail[1] - main[1]) * (x - main[0]) / (tail[0] - main[0] || 1);
  return dFlat([[a, at(a)], [b, at(b)]]);
}

/** Hardpoints, pegs and names, in pixels so that they stay readable; `under` is the coat at a pixel. */
function labels(v: View, model: Model, state: State, under: (x: number, y: number) => string): SVGElement {
  const scene = model.scene!, plan = axesOf[v.sight].height === 1, out: SVGElement[] = [];
  const taken: [number, number][] = [];
  const text = (x: number, y: number, anchor: string, name: string, words: string) => {
    if (x < 0 || y < 10 || x > v.width || y > v.height || taken.some(([a, b]) => Math.abs(a - x) < 34 && Math.abs(b - y) < 12)) return;
    taken.push([x, y]);
    // a name that lies wholly on a coat is cut out of it, else out of the sheet
    const w = words.length * 6.4, x0 = anchor === 'start' ? x : anchor === 'end' ? x - w : x - w / 2, coat = under(x0 - 3, y - 11), whole = coat && [[x0 - 3, y + 4], [x0 + w + 3, y - 11], [x0 + w + 3, y + 4]].every(([a, b]) => under(a, b) === coat);
    out.push(s('text', { x: x.toFixed(1), y: y.toFixed(1), 'text-anchor': anchor, class: whole ? `${name} coated ${lineClass(coat)}` : name, stroke: whole ? coat : undefined }, words));
  };
  if (state.shown.hardpoints) {
    for (const p of scene.hardpoints) {
      if (!plan && p.side !== v.sight) continue;
      const [x, y] = pixelOf(v, p.at);
      out.push(s('g', { class: 'hardpoint', transform: `translate(${x.toFixed(1)} ${y.toFixed(1)})` }, s('title', {}, `${p.id}: ${p.name}`),
        s('circle', { r: 6 }), s('path', { d: 'M-10 0H10M0-10V10' })));
      const middle = model.scene!.min[2] / 2 + model.scene!.max[2] / 2;
      text(x + (p.at[0] > v.look.fs ? 17 : -17) * (v.sight === 'right' ? -1 : 1), y + (p.at[2] > middle ? -6 : 21), 'middle', 'hardname', p.id);
    }
    if (!plan) for (const p of scene.pegs) {
      const [x, y] = pixelOf(v, p.at);
      out.push(s('path', { class: 'peg', d: `M${x - 5} ${y + 5}h10l-5-9z` }, s('title', {}, `level peg ${p.id}`)));
    }
  }
  for (const o of scene.obstacles) {
    if (o.kind === 'tape' || o.kind === 'section' || o.kind === 'hinge' || !seenObstacle(o, v.sight)) continue;
    const at = (o.at ?? o.points[0]) as Vec | undefined;
    if (!at) continue;
    const [x, y] = pixelOf(v, at);
    text(x + 11, y + Math.max(14, o.size * v.look.scale / 2 + 10), 'start', 'thing', o.id);
  }
  if (state.shown.frames && !plan) for (const l of scene.lines) {
    const first = l.points[0] as Vec;
    if (!first || l.name === 'crown' || l.name === 'keel') continue;
    const [x, y] = pixelOf(v, first);
    text(x - 8 * (v.sight === 'right' ? -1 : 1), y + 4, v.sight === 'right' ? 'start' : 'end', 'linename', l.name);
  }
  const name = { left: 'LEFT SIDE, nose to the left', right: 'RIGHT SIDE, nose to the right', above: 'FROM ABOVE, nose to the left', below: 'FROM BELOW, nose to the left' }[v.sight];
  const atLeft = v.sight === 'right' || v.sight === 'below';
  out.push(s('text', { x: atLeft ? 14 : v.width - 14, y: v.height - 14, 'text-anchor': atLeft ? 'start' : 'end', class: 'viewname' }, name));
  if (atLeft) out.push(scaleBar(v, state));
  return s('g', { class: 'labels', 'aria-label': nameOf[v.sight] }, out);
}

function scaleBar(v: View, state: State): SVGElement {
  const unit = state.unit === 'mm' ? 1 / 25.4 : 1;
  let far = 1;
  for (const k of [1, 3, 6, 12, 30, 60, 120, 300, 600, 1500, 3000, 6000]) if (k * unit * v.look.scale <= 160) far = k;
  const w = far * unit * v.look.scale / 3, x = Math.min(300, v.width - 3 * w - 20), y = v.height - 18;
  return s('g', { class: 'scale' },
    [0, 1, 2].map(i => s('rect', { x: x + i * w, y, width: w, height: 5, class: i % 2 ? 'pale' : 'full' })),
    s('text', { x, y: y - 6, 'text-anchor': 'middle' }, '0'), s('text', { x: x + 3 * w, y: y - 6, 'text-anchor': 'middle' }, `${show(far * unit, state.unit)} ${state.unit}`));
}
