// What the engine has answered to the text as it stands.
import type { Figure, Film, Finding, Marking, Outline, Placed, Scene, Skin } from './protocol.ts';
import type { Mesh, Sight } from './skin.ts';

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
  version = 0; // another after each change of what is above
  private kept = { version: -1, listed: [] as Listed[], levels: new Map<string, Level>() };

  /** The findings as they are listed, and the worst level against each marking: looked through once a version. */
  get summary(): { listed: Listed[]; levels: Map<string, Level> } {
    if (this.kept.version !== this.version) this.kept = { version: this.version, ...summaryOf(this) };
    return this.kept;
  }

  marking(id: string): Marking | undefined { return this.markings.find(m => m.id === id); }
}

/** The placement of a marking on a side; of one side alone, that one. */
export const placedOn = (m: Marking, side: string): Placed | undefined => m.placed.find(p => p.side === side);

/** A finding as it is listed, and the sides that it is of. */
export interface Listed { finding: Finding; sides: string }
export type Level = 'stop' | 'warn' | 'note';

function summaryOf(model: Model): { listed: Listed[]; levels: Map<string, Level> } {
  const all = listed(model), levels = new Map<string, Level>(), worth = { stop: 3, warn: 2, note: 1 };
  for (const { finding: f } of all) for (const id of new Set([baseOf(f.marking), f.marking])) {
    const level = f.level in worth ? f.level as Level : 'note';
    if (worth[level] > (levels.has(id) ? worth[levels.get(id)!] : 0)) levels.set(id, level);
  }
  return { listed: all, levels };
}

/** Findings, worst first, each once for both sides. */
export function listed(model: Model): Listed[] {
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
  return model.summary.levels.get(id) ?? (model.found.has(id) || model.whole ? 'good' : 'unknown');
}

/** The sights in which a skin is seen. */
export function sightsOf(skin: Skin): Sight[] {
  if (skin.kind === 'wing' || skin.kind === 'foil' && skin.face) return skin.face === 'lower' ? ['below'] : ['above'];
  return skin.side === 'left' ? ['left'] : skin.side === 'right' ? ['right'] : ['left', 'right'];
}
