// Markings and findings in sentences, for lists and for a screen reader.
import type { Bench } from './bench.ts';
import { heightOf } from './changes.ts';
import { near, show, spoken, type Unit } from './length.ts';
import { levelOf } from './model.ts';
import type { Marking } from './protocol.ts';

export const levelNames: Record<string, string> = { stop: 'stop', warn: 'warning', note: 'notes only', good: 'clear', unknown: 'not checked yet' };

/** The place of a marking as fields show it: "FS 184, WL 53-1/8". */
export function placeOf(m: Marking, unit: Unit): string {
  if (m.held === 'own') return 'by its own place';
  const fs = `FS ${shortly(m.fs, unit)}`;
  if (m.held === 'girth') return `${fs}, ${shortly(Math.abs(m.down ?? 0), unit)} ${(m.down ?? 0) < 0 ? 'above' : 'below'} ${m.from}`;
  if (m.held === 'between') return `${fs}, midway ${m.from} ${m.to}`;
  const h = heightOf(m);
  return `${fs}, ${h.name} ${shortly(h.value, unit)}`;
}

/** A number short enough for a list. */
function shortly(inches: number, unit: Unit): string {
  const exact = show(inches, unit, 16);
  return exact.length <= 7 && !/\.\d{3}/.test(exact) ? exact : unit === 'mm' ? near(inches, unit) : String(Number(inches.toFixed(1)));
}

export const sidesOf = (m: Marking): string => m.face ? `${m.face} face, ${m.side === 'both' ? 'both sides' : m.side}` : m.side === 'both' ? 'both sides' : m.side;

/** "code, both sides, station 184, waterline 53 and 1/8 inches, 12 inches, clear". */
export function spokenPlace(bench: Bench, m: Marking): string {
  const unit = bench.state.unit, parts = [m.id, sidesOf(m)];
  if (m.held !== 'own') {
    parts.push(`station ${spoken(m.fs, unit).replace(/ (inches|millimetres)$/, '')}`);
    if (m.held === 'wl') parts.push(`waterline ${spoken(m.wl, unit)}`);
    else if (m.held === 'bl') parts.push(`buttock line ${spoken(m.bl, unit)}`);
    else parts.push(placeOf(m, unit));
  }
  const size = m.size || m.height;
  if (size) parts.push(`size ${spoken(size, unit)}`);
  parts.push(levelNames[levelOf(bench.model, m.id)]);
  if (bench.locked(m.id)) parts.push('locked');
  return parts.join(', ');
}
