// Several markings at once: level with one, at its station, or spread evenly between the
// outermost two. Each button says where they would come to stand.
import type { Bench } from './bench.ts';
import { distributed, heightOf, movable, risable } from './changes.ts';
import { h } from './dom.ts';
import type { Change } from './engine.ts';
import { near, written } from './length.ts';
import { outlinesOf } from './marks.ts';
import { boxOf } from './outline.ts';
import type { Marking } from './protocol.ts';
import { axesOf } from './skin.ts';
import { sightOf } from './move.ts';

export function alignment(bench: Bench, m: Marking): HTMLElement | null {
  const free = bench.state.selected.map(id => bench.marking(id)!).filter(o => o && movable(o) && !bench.locked(o.id));
  const others = free.filter(o => o.id !== m.id), unit = bench.state.unit;
  if (!others.length) return null;
  const all = (make: (o: Marking) => Change[], label: string) => () => void bench.edit(others.flatMap(make), label);
  return h('div', { class: 'acts column' }, h('h3', {}, 'Align the others to it'),
    h('button', { type: 'button', on: { click: all(o => risable(o) && o.held === m.held ? [{ path: heightOf(o).path, value: written(heightOf(m).value, unit) }] : [], `level with ${m.id}`) } }, `Level with ${m.id}`),
    h('button', { type: 'button', on: { click: all(o => [{ path: `${o.path}.where.fs`, value: written(m.fs, unit) }], `station of ${m.id}`) } }, `At the station of ${m.id}`),
    free.length > 2 ? [h('h3', {}, 'Spread between the outermost two'), ...spread(bench, free)] : null);
}

function spread(bench: Bench, all: Marking[]): HTMLElement[] {
  const unit = bench.state.unit, risables = all.every(o => risable(o) && o.held === all[0].held && o.held !== 'girth');
  const boxes = all.map(o => {
    const p = o.placed.find(q => q.side === bench.state.side) ?? o.placed[0], k = axesOf[sightOf(p)].height, points = outlinesOf(bench.model, p.id).flatMap(x => x.lines.flat());
    const b = points.length ? boxOf(points.map(q => [q[0] - p.anchor[0], Math.abs(q[k]) - Math.abs(p.anchor[k])])) : [0, 0, 0, 0];
    return { fs: { at: o.fs, before: -b[0], past: b[2] }, height: { at: heightOf(o).value, before: -b[1], past: b[3] } };
  });
  const button = (axis: 'fs' | 'height', by: 'steps' | 'gaps', name: string) => {
    const to = distributed(boxes.map(b => b[axis]), by), path = (o: Marking) => axis === 'fs' ? `${o.path}.where.fs` : heightOf(o).path;
    const changes = all.flatMap((o, i): Change[] => Math.abs(to[i] - boxes[i][axis].at) > 1e-6 ? [{ path: path(o), value: written(to[i], unit) }] : []);
    const says = all.map((o, i) => [to[i], o.id] as const).sort((a, b) => a[0] - b[0]).map(([v, id]) => `${id} ${near(v, unit)}`).join(', ');
    return h('button', { type: 'button', disabled: !changes.length, on: { click: () => void bench.edit(changes, name.toLowerCase()) } }, h('b', {}, name), h('span', { class: 'soft small' }, changes.length ? says : 'they are'));
  };
  return [button('fs', 'steps', 'Equal steps along'), button('fs', 'gaps', 'Equal gaps along'), ...(risables ? [button('height', 'steps', 'Equal steps up'), button('height', 'gaps', 'Equal gaps up')] : [])];
}
