// The skin of the page against the engine's own: 2,000 places, and markings carried where
// the engine laid them. The file is written by `go test ./export/bench -run PagePlaces
// -args -page-places FILE`; its name stands in MASKLOFT_PLACES.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import { test } from 'node:test';
import { Model } from './model.ts';
import { grab, previewAt, sightOf, turnedTo } from './move.ts';
import type { Figures, Markings, Outlines, Skins } from './protocol.ts';
import { axesOf, farFrom, hold, cornersOf, locate, refine, type Mesh } from './skin.ts';
import { distance, type Vec } from './vec.ts';

interface Case { skins: Skins; places: { skin: string; at: Vec; out: Vec }[]; moves: { marking: string; from: Markings; to: Markings; figures: Figures; before: Outlines; after: Outlines }[] }
const file = process.env.MASKLOFT_PLACES, skip = file ? false : 'MASKLOFT_PLACES names no file';
const cases = (): Case[] => JSON.parse(fs.readFileSync(file!, 'utf8')) as Case[];
const meshesOf = (c: Case): Map<string, Mesh> => new Map(c.skins.skins.map(k => [k.id, refine(k)]));

test('2,000 places of the engine lie on the skin of the page, and are found by station and height', { skip }, () => {
  let seen = 0, found = 0;
  for (const c of cases()) {
    const meshes = meshesOf(c);
    for (const p of c.places) {
      const skin = c.skins.skins.find(k => k.id === p.skin)!, mesh = meshes.get(p.skin)!;
      // the net's own bound, and what triangles of 2 in leave of its curvature
      const within = skin.within + 0.02;
      const [a, b, d] = cornersOf(mesh, hold(mesh, p.at).triangle), off = Math.sqrt(farFrom(p.at, a, b, d));
      assert.ok(off <= within, `${p.skin} ${p.at}: ${off.toFixed(4)} in off, ${within} allowed`);
      seen++;
      const plan = Math.abs(p.out[2]) > 0.8, sight = plan ? p.out[2] > 0 ? 'above' : 'below' : p.out[1] > 0 ? 'right' : 'left';
      const { height, depth, towards } = axesOf[sight], square = p.out[depth] * towards;
      if (square < 0.5) continue; // seen along the skin a place says little of its depth
      const hit = locate(mesh, sight, p.at[0], p.at[height]);
      if (!hit) continue; // within `within` of the edge
      // what hides it lies further out, never further in
      const out = (hit.point[depth] - p.at[depth]) * towards;
      assert.ok(out >= -within / square - 1e-6, `${p.skin} ${p.at}: found ${(-out).toFixed(4)} in within the skin`);
      if (Math.abs(out) <= within / square) found++;
    }
  }
  assert.equal(seen, 2000);
  assert.ok(found >= 1000, `${found} were found where they are`);
});

test('a marking carried by the page lies where the engine lays it', { skip }, t => {
  for (const c of cases()) for (const m of c.moves) {
    const model = new Model();
    model.skins = c.skins.skins;
    model.meshes = meshesOf(c);
    model.markings = m.from.markings;
    model.figures.set(m.marking, m.figures.figures);
    model.outlines.set(m.marking, { exact: true, list: m.before.outlines });
    const was = model.marking(m.marking)!, now = m.to.markings.find(x => x.id === m.marking)!, by = now.fs - was.fs;
    let worst = 0;
    for (const placed of was.placed) {
      const g = grab(model, was, placed)!, to = now.placed.find(p => p.id === placed.id)!;
      const shown = previewAt(g, to.anchor[0], to.anchor[axesOf[sightOf(to)].height], turnedTo(g, to));
      for (const [i, paint] of shown.paints.entries()) {
        const exact = m.after.outlines.filter(o => o.id === placed.id && o.paint === m.figures.figures[0].regions[i].paint).flatMap(o => o.lines as Vec[][]);
        for (const line of paint.lines) for (const p of line) worst = Math.max(worst, toLines(p, exact));
      }
    }
    const limit = 0.01; // inches
    t.diagnostic(`${m.marking}, ${by.toFixed(1)} in aft: worst point ${worst.toFixed(4)} in off, ${limit} allowed`);
    assert.ok(worst <= limit, `${m.marking} moved ${by} in: ${worst.toFixed(4)} in off`);
  }
});

function toLines(p: Vec, lines: Vec[][]): number {
  let least = Infinity;
  for (const l of lines) for (let i = 0, j = l.length - 1; i < l.length; j = i++) {
    const d: Vec = [l[i][0] - l[j][0], l[i][1] - l[j][1], l[i][2] - l[j][2]], q: Vec = [p[0] - l[j][0], p[1] - l[j][1], p[2] - l[j][2]];
    const n = d[0] * d[0] + d[1] * d[1] + d[2] * d[2], s = n ? Math.max(0, Math.min(1, (d[0] * q[0] + d[1] * q[1] + d[2] * q[2]) / n)) : 0;
    least = Math.min(least, distance(p, [l[j][0] + d[0] * s, l[j][1] + d[1] * s, l[j][2] + d[2] * s]));
  }
  return least;
}
