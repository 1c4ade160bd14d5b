// What the engine has answered to the text as it stands.
import type { Engine } from './engine.ts';
import { refusal } from './engine.ts';
import type { Figure, Figures, Film, Films, Finding, Findings, Marking, Markings, Outline, Outlines, Placed, Scene, Skin, Skins } from './protocol.ts';
import { refine, type Mesh, type Sight } from './skin.ts';

export class Model {
  scene: Scene | null = null;
  skins: Skin[] = [];
  meshes = new Map<string, Mesh>();
  markings: Marking[] = [];
  figures = new Map<string, Figure[]>(); // by marking
  outlines = new Map<string, { exact: boolean; list: Outline[] }>();
  films = new Map<string, Film[]>();
  found = new Map<string, Finding[]>(); // by marking; '' holds those of the whole
  foundOf = new Map<string, string>(); // the text that the findings of a marking were last asked of
  gone: Finding[] = [];
  fresh = new Set<string>();
  whole = false; // found[''] is of this text
  wholeBefore: Finding[] | null = null; // of the last text that was looked at as a whole
  hash = ''; // of the text that the markings are of
  trouble = ''; // why something could not be computed
}

/** The placement of a marking on a side; of one side alone, that one. */
export const placedOn = (m: Marking, side: string): Placed | undefined => m.placed.find(p => p.side === side);

/** Findings, worst first, each once for both sides. */
export function listed(model: Model): { finding: Finding; sides: string }[] {
  const order: Record<string, number> = { stop: 0, warn: 1, note: 2 };
  const all: Finding[] = [], seen = new Map<string, { finding: Finding; sides: string }>();
  const whole = model.found.get('') ?? [];
  for (const [id, list] of model.found) if (id) all.push(...list);
  // of a marking that was asked for by itself its own answer is newer
  const newer = new Set([...model.found.keys()].filter(Boolean));
  const keys = new Set(all.map(f => f.key));
  for (const f of whole) if (!keys.has(f.key) && (!newer.has(baseOf(f.marking)) || !ownRules.has(f.rule.split('/')[0]) || model.whole)) all.push(f);
  for (const f of all) {
    const base = baseOf(f.marking), key = `${f.rule} ${base} ${f.message.replaceAll(f.marking, base).replace(/\b(left|right)\b/g, '')}`;
    const was = seen.get(key);
    if (was) was.sides = 'both sides'; else seen.set(key, { finding: f, sides: f.marking.endsWith('-left') ? 'left' : f.marking.endsWith('-right') ? 'right' : '' });
  }
  return [...seen.values()].sort((a, b) => Number(model.fresh.has(b.finding.key)) - Number(model.fresh.has(a.finding.key)) || order[a.finding.level] - order[b.finding.level]);
}

const ownRules = new Set(['obstacle', 'edge', 'film', 'strain', 'seam', 'mask']);

/** The id of a marking without its side. */
export const baseOf = (id: string): string => id.replace(/-(left|right)$/, '');

/** The worst level that stands against a marking: stop, warn, note, or good. */
export function levelOf(model: Model, id: string): 'stop' | 'warn' | 'note' | 'good' | 'unknown' {
  let worst: 'stop' | 'warn' | 'note' | 'good' = 'good';
  for (const { finding: f } of listed(model)) {
    if (baseOf(f.marking) !== id && f.marking !== id) continue;
    if (f.level === 'stop') return 'stop';
    if (f.level === 'warn') worst = 'warn'; else if (worst === 'good') worst = 'note';
  }
  return worst === 'good' && !model.found.has(id) && !model.whole ? 'unknown' : worst;
}

/** The sights in which a skin is seen. */
export function sightsOf(skin: Skin): Sight[] {
  if (skin.kind === 'wing' || skin.kind === 'foil' && skin.face) return skin.face === 'lower' ? ['below'] : ['above'];
  return skin.side === 'left' ? ['left'] : skin.side === 'right' ? ['right'] : ['left', 'right'];
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
    model.markings = markings.markings; model.scene = scene; model.hash = hash; model.whole = false; model.trouble = '';
    if (skins) {
      model.skins = skins.skins;
      model.meshes = new Map(skins.skins.map(k => [k.id, refine(k)]));
    }
    const ids = model.markings.map(m => m.id), asked = touched === 'all' ? ids : ids.filter(id => touched.includes(id) || !model.figures.has(id));
    for (const map of [model.figures, model.outlines, model.films, model.found]) for (const id of map.keys()) if (id && !ids.includes(id)) map.delete(id);
    if (touched === 'all') { model.figures.clear(); model.outlines.clear(); model.films.clear(); }
    for (const id of asked) {
      if (!model.markings.find(m => m.id === id)?.placed.length) continue;
      const [figures, outlines] = await Promise.all([
        engine.ask<Figures>('figure', { marking: id }, { slot: `figure ${id}` }),
        engine.ask<Outlines>('outline', { marking: id }, { slot: `outline ${id}` }),
      ]);
      if (!still()) return;
      model.figures.set(id, figures.figures);
      model.outlines.set(id, { exact: outlines.exact, list: outlines.outlines });
      model.films.delete(id);
      changed();
    }
    changed();
    model.gone = []; model.fresh = new Set();
    if (touched !== 'all') for (const id of asked) {
      if (!model.markings.find(m => m.id === id)?.placed.length) continue;
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
