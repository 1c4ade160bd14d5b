// Asks the engine for what it says of a text, and puts the answers into the model.
import { refusal, type Engine } from './engine.ts';
import type { Model } from './model.ts';
import { grab, previewAt, sightOf, turnedTo, type Grabbed } from './move.ts';
import type { Figure, Figures, Films, Findings, Marking, Markings, Outline, Outlines, Scene, Skins } from './protocol.ts';
import { axesOf, refine } from './skin.ts';

/** Markings as they stand, to be carried where they go; those that have an outline. */
function hold(model: Model, ids: string[]): Map<string, Grabbed[]> {
  const out = new Map<string, Grabbed[]>();
  if (ids.length > 8) return out; // the whole: the engine draws it
  for (const id of ids) {
    const m = model.marking(id), all = m?.placed.map(p => grab(model, m, p)) ?? [];
    if (all.length && m!.held !== 'own' && model.outlines.has(id) && all.every(g => g)) out.set(id, all as Grabbed[]);
  }
  return out;
}

/** Whether two drawings are one: then only the place differs. */
const alike = (a: Figure[] | undefined, b: Figure[]): boolean =>
  !!a && a.length === b.length && a.every((f, i) => f.id === b[i].id && f.regions.length === b[i].regions.length && f.regions.every((r, k) => r.d === b[i].regions[k].d && r.paint === b[i].regions[k].paint));

/** The outlines of a marking carried to its new place by the page itself; null where it cannot. */
function carriedTo(held: Grabbed[], m: Marking, figures: Figure[]): Outline[] | null {
  const out: Outline[] = [];
  for (const g of held) {
    const p = m.placed.find(p => p.id === g.placed.id), figure = figures.find(f => f.id === g.placed.id);
    if (!p || !figure || p.skin !== g.placed.skin || sightOf(p) !== g.sight || m.true !== g.marking.true) return null;
    const now = previewAt(g, p.anchor[0], p.anchor[axesOf[g.sight].height], turnedTo(g, p));
    if (!now.on) return null;
    now.paints.forEach((paint, i) => out.push({ id: p.id, side: p.side, paint: figure.regions[i].paint, hex: figure.regions[i].hex, lines: paint.lines as [number, number, number][][] }));
  }
  return held.length === m.placed.length ? out : null;
}

/**
 * Asks the engine for what a text shows, the nearest to the eye first. Each step checks
 * that the text is still the one meant.
 */
export async function refresh(model: Model, engine: Engine, touched: string[] | 'all', changed: () => void): Promise<void> {
  const hash = engine.hash, still = () => engine.hash === hash;
  if (engine.problems.length) { changed(); return; }
  try {
    const [markings, scene, skins] = await Promise.all([
      engine.ask<Markings>('markings', {}, { slot: 'markings' }),
      touched === 'all' || !model.scene ? engine.ask<Scene>('scene', {}, { slot: 'scene' }) : model.scene,
      touched === 'all' || !model.skins.length ? engine.ask<Skins>('skins', {}, { slot: 'skins' }) : null,
    ]);
    if (!still()) return;
    const before = new Map(model.markings.map(m => [m.id, m]));
    const meant = (m: Marking | undefined) => touched === 'all' || !!m && (touched.includes(m.id) || m.placed.some(p => touched.includes(p.id)));
    const ids = markings.markings.map(m => m.id), asked = ids.filter((id, i) => meant(markings.markings[i]) || meant(before.get(id)) || !model.figures.has(id));
    const held = skins ? new Map<string, Grabbed[]>() : hold(model, asked); // as they stood
    model.markings = markings.markings; model.scene = scene; model.hash = hash; model.whole = false; model.trouble = '';
    if (skins) {
      model.skins = skins.skins;
      model.meshes = new Map(skins.skins.map(k => [k.id, refine(k)]));
    }
    for (const map of [model.figures, model.outlines, model.films, model.found]) for (const id of map.keys()) if (id && !ids.includes(id)) map.delete(id);
    if (touched === 'all') { model.figures.clear(); model.outlines.clear(); model.films.clear(); }
    let last = 0;
    const soon = () => { // of many not every one is drawn by itself
      const now = performance.now();
      if (asked.length > 20 && now - last < 500) return;
      last = now;
      changed();
    };
    const drawOne = async (id: string): Promise<void> => {
      if (!model.marking(id)?.placed.length) return;
      const { figures } = await engine.ask<Figures>('figure', { marking: id }, { slot: `figure ${id}` });
      if (!still()) return;
      const carried = held.has(id) && alike(model.figures.get(id), figures) ? carriedTo(held.get(id)!, model.marking(id)!, figures) : null;
      model.figures.set(id, figures);
      if (carried) model.outlines.set(id, { exact: false, list: carried });
      else {
        const outlines = await engine.ask<Outlines>('outline', { marking: id }, { slot: `outline ${id}` });
        if (!still()) return;
        model.outlines.set(id, { exact: outlines.exact, list: outlines.outlines });
      }
      model.films.delete(id);
      soon();
    };
    const waiting = [...asked];
    const lane = async (): Promise<void> => { for (let id = waiting.shift(); id !== undefined && still(); id = waiting.shift()) await drawOne(id); };
    await Promise.all(Array.from({ length: asked.length > 20 ? 4 : 1 }, lane));
    if (!still()) return;
    changed();
    model.gone = []; model.fresh = new Set();
    if (touched !== 'all') for (const id of asked) {
      if (!model.marking(id)?.placed.length) continue;
      const [exact, films, findings] = await Promise.all([
        engine.ask<Outlines>('outline', { marking: id, exact: true }, { slot: `outline ${id}` }),
        engine.ask<Films>('film', { marking: id }, { slot: `film ${id}` }),
        engine.ask<Findings>('findings', { marking: id, after: model.foundOf.get(id) }, { slot: `findings ${id}` }),
      ]);
      if (!still()) return;
      model.foundOf.set(id, hash);
      if (exact.outlines.length) model.outlines.set(id, { exact: true, list: exact.outlines });
      model.films.set(id, films.films);
      model.found.set(id, findings.findings);
      model.gone.push(...findings.gone);
      for (const k of findings.fresh) model.fresh.add(k);
      changed();
    }
  } catch (e) {
    const r = refusal(e);
    if (r.code !== 'cancelled' && r.code !== 'stale') model.trouble = r.message;
    if (still()) changed();
  }
}

/** Asks for the findings of the whole layout. */
export async function refreshWhole(model: Model, engine: Engine, changed: () => void): Promise<void> {
  const hash = engine.hash;
  if (engine.problems.length) return;
  try {
    const all = await engine.ask<Findings>('findings', {}, { slot: 'findings all' });
    if (engine.hash !== hash) return;
    if (model.wholeBefore) { // what no marking told by itself: the whole before against the whole now
      const now = new Set(all.findings.map(f => f.key)), was = new Set(model.wholeBefore.map(f => f.key)), told = new Set(model.gone.map(f => f.key));
      model.gone.push(...model.wholeBefore.filter(f => !now.has(f.key) && !told.has(f.key)));
      for (const f of all.findings) if (!was.has(f.key)) model.fresh.add(f.key);
    }
    model.wholeBefore = all.findings;
    model.found = new Map([['', all.findings]]);
    model.whole = true;
    changed();
    // what each shows by itself, so that the next change can tell what is gone and new
    for (const m of model.markings) {
      if (model.foundOf.has(m.id) || !m.placed.length) continue;
      await engine.ask<Findings>('findings', { marking: m.id }, { slot: 'findings before' });
      if (engine.hash !== hash) return;
      model.foundOf.set(m.id, hash);
    }
  } catch (e) {
    const r = refusal(e);
    if (r.code !== 'cancelled' && r.code !== 'stale') model.trouble = r.message;
    changed();
  }
}
