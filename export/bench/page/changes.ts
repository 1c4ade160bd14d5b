// From a gesture to changes of the text: paths and values, each value with its unit.
import type { Change } from './engine.ts';
import { written, type Unit } from './length.ts';
import type { Marking } from './protocol.ts';

const wh = (m: Marking, key: string) => `${m.path}.where.${key}`;

/** The value of the marking's place that moves it up and down, and its path. */
export function heightOf(m: Marking): { path: string; value: number; sign: 1 | -1; name: string } {
  switch (m.held) {
    case 'bl': return { path: wh(m, 'bl'), value: m.bl, sign: 1, name: 'BL' };
    case 'girth': return (m.down ?? 0) >= 0
      ? { path: wh(m, 'from.down'), value: m.down ?? 0, sign: -1, name: 'down' }
      : { path: wh(m, 'from.up'), value: -(m.down ?? 0), sign: 1, name: 'up' };
    default: return { path: wh(m, 'wl'), value: m.wl, sign: 1, name: 'WL' };
  }
}

/** Whether a marking can be moved: what brings its own place cannot. */
export const movable = (m: Marking): boolean => m.held !== 'own' && m.placed.length > 0;

/** Whether its height is its own to change: midway between two lines is not. */
export const risable = (m: Marking): boolean => movable(m) && m.held !== 'between';

/** Moves by distances aft and up: along the skin for a height by girth. */
export function moveBy(m: Marking, aft: number, up: number, unit: Unit): Change[] {
  const out: Change[] = [];
  if (aft) out.push({ path: wh(m, 'fs'), value: written(m.fs + aft, unit) });
  if (up && risable(m)) {
    const h = heightOf(m);
    out.push({ path: h.path, value: written(h.value + up * h.sign, unit) });
  }
  return out;
}

/** Moves to a station and height; only what differs is written. */
export function moveTo(m: Marking, fs: number, height: number, unit: Unit): Change[] {
  const h = heightOf(m), now = m.held === 'bl' ? m.bl : m.held === 'girth' ? NaN : m.wl;
  if (m.held === 'girth') return moveBy(m, Math.abs(fs - m.fs) < 1e-6 ? 0 : fs - m.fs, 0, unit);
  const out: Change[] = [];
  if (Math.abs(fs - m.fs) > 1e-6) out.push({ path: wh(m, 'fs'), value: written(fs, unit) });
  if (risable(m) && Math.abs(height - now) > 1e-6) out.push({ path: h.path, value: written(height, unit) });
  return out;
}

/** What stands between the outermost two of three or more: at equal steps of their places
 * along an axis, or with equal gaps between their boxes (from each place: before it, past it). */
export function distributed(places: { at: number; before: number; past: number }[], by: 'steps' | 'gaps'): number[] {
  const order = places.map((_, i) => i).sort((a, b) => places[a].at - places[b].at || a - b), n = order.length, out = places.map(p => p.at);
  if (n < 3) return out;
  const first = places[order[0]], last = places[order[n - 1]];
  if (by === 'steps') order.forEach((i, k) => { if (k > 0 && k < n - 1) out[i] = first.at + (last.at - first.at) * k / (n - 1); });
  else {
    const inner = order.slice(1, -1), room = last.at - last.before - (first.at + first.past) - inner.reduce((w, i) => w + places[i].before + places[i].past, 0), gap = room / (n - 1);
    let edge = first.at + first.past;
    for (const i of inner) { out[i] = edge + gap + places[i].before; edge = out[i] + places[i].past; }
  }
  return out;
}

export const turnTo = (m: Marking, degrees: number): Change[] => [{ path: wh(m, 'angle'), value: `${Number(degrees.toFixed(3))} deg` }];

/** The size that a figure is drawn by, and its path; null where it has none. */
export function sizeOf(m: Marking): { path: string; value: number; name: string } | null {
  if (m.kind === 'rule' && m.size) return { path: `${m.path}.figure.size`, value: m.size, name: 'Size' };
  if ((m.kind === 'text' || m.kind === 'drawing') && m.height) return { path: `${m.path}.figure.height`, value: m.height, name: 'Height' };
  return null;
}

export function sizeTo(m: Marking, size: number, unit: Unit): Change[] {
  const s = sizeOf(m);
  return s && size > 0 ? [{ path: s.path, value: written(size, unit) }] : [];
}

export const sideTo = (m: Marking, side: string): Change[] => [{ path: wh(m, 'side'), value: side }];
export const deletion = (m: Marking): Change[] => [{ remove: m.path }];

/** An id that no marking has, made of another. */
export function newId(base: string, taken: string[]): string {
  const clean = base.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '') || 'marking';
  if (!taken.includes(clean)) return clean;
  const stem = clean.replace(/-\d+$/, '');
  for (let i = 2; ; i++) if (!taken.includes(`${stem}-${i}`)) return `${stem}-${i}`;
}

/** A second marking 2 in aft of the first. */
export function duplicate(m: Marking, taken: string[], unit: Unit): { changes: Change[]; id: string } {
  const id = newId(m.id, taken), path = m.path.replace(/\[.*\]$/, `[${id}]`);
  const changes: Change[] = [{ duplicate: m.path, as: id }];
  if (movable(m)) changes.push({ path: `${path}.where.fs`, value: written(m.fs + (unit === 'mm' ? 50 / 25.4 : 2), unit) });
  return { changes, id };
}

/** Two definitions, one a side, of what stood on both. */
export function part(m: Marking, taken: string[]): { changes: Change[]; id: string } {
  const id = newId(`${m.id}-right`, taken), path = m.path.replace(/\[.*\]$/, `[${id}]`);
  return { id, changes: [{ duplicate: m.path, as: id }, { path: `${path}.where.side`, value: 'right' }, { path: wh(m, 'side'), value: 'left' }] };
}

/** A word of YAML, quoted where it must be. */
export const quoted = (text: string): string => /^[A-Za-z][\w /.-]*$/.test(text) && !/^(yes|no|true|false|null|on|off|~)$/i.test(text) ? text : JSON.stringify(text);
