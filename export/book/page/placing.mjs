// Placing as plain values: which point comes next, what readings say of it.
import { laid } from './film.mjs';
import { off, show } from './lengths.mjs';
import { isOn } from './state.mjs';

// All points in working order: {marking, point, number, of}.
export const pointsOf = (data, only) => data.markings.filter(m => !only || m.id === only).flatMap(marking => marking.points.map((point, i) => ({ marking, point, number: i + 1, of: marking.points.length })));

// The first that is not done, from a place of the list on and then from its beginning; -1:
// all are done.
export function nextOf(list, state, from = 0) {
  for (let k = 0; k < list.length; k++) { const i = (from + k) % list.length; if (!isOn(state, list[i].point.key)) return i; }
  return -1;
}

// The readings of a marking that a state holds, for the adjustment.
export function readingsOf(data, marking, state) {
  const out = [];
  for (const point of marking.points) for (const tape of point.tapes) {
    const r = state.readings[tape.key];
    if (r && r.value !== null) out.push({ point, tape, typed: r.value, unit: r.unit, value: r.value * (r.unit === 'mm' ? 1 / 25.4 : 1) - heldOf(data, tape) });
  }
  return out;
}

// The mark that is held at the start: a hardpoint's alone, all else is read from 0.
export const heldOf = (data, tape) => tape.hook ? data.held : 0;

// What a state keeps of a reading that was typed.
export const readingOf = (data, point, tape, value, unit) => ({ value, unit, point: point.id, from: tape.from, kind: tape.kind, printed_in: tape.length, starts_at_in: heldOf(data, tape) });

const way = (v, unit, plus, minus) => off(v, unit) && `${off(v, unit)} ${v > 0 ? plus : minus}`;

// How a point lies by the readings of its film: {text, level: "" | good | warn, wrong}.
export function judged(data, marking, point, state, unit) {
  const all = readingsOf(data, marking, state), own = all.filter(r => r.point === point);
  if (!own.length) return { text: '', level: '', wrong: [] };
  const single = own.map(r => { const d = r.value - r.tape.length, by = off(d, unit); return `${r.tape.hook || r.tape.from} ${by ? `${by} ${d > 0 ? 'more' : 'less'}` : 'as it should'}`; }).join(', ');
  const film = own.length < 2 ? { error: '' } : laid(data, marking, all);
  if (film.error !== undefined) return { text: single, level: own.every(r => Math.abs(r.value - r.tape.length) <= 0.125) ? 'good' : 'warn', wrong: [] };
  const d = film.points.find(p => p.id === point.id).off, far = Math.hypot(d[0], d[1]);
  const text = [way(d[0], unit, 'right', 'left'), way(d[1], unit, 'up', 'down')].filter(Boolean).join(', ');
  const wrong = film.wrong.map(w => w.text);
  return { text: text ? `off by ${text}` : 'as meant', level: wrong.length || far > data.limit ? 'warn' : 'good', wrong };
}

// What was typed on the keypad: digits, then sixteenths, or a decimal point for mm.
export const typed = { whole: '', part: null };
export function press(t, key, unit) {
  if (key === 'back') return t.part !== null ? { ...t, part: null } : { ...t, whole: t.whole.slice(0, -1) };
  if (/^\d$/.test(key)) return t.part === null && t.whole.length < (unit === 'mm' ? 7 : 4) ? { ...t, whole: t.whole === '0' ? key : t.whole + key } : t;
  if (key === '.') return unit === 'mm' && !t.whole.includes('.') ? { ...t, whole: (t.whole || '0') + '.' } : t;
  if (/^p\d+$/.test(key)) return { ...t, part: +key.slice(1) };
  return t;
}
export const valueOf = (t, parts) => t.whole === '' && t.part === null ? null : Number(t.whole || 0) + (t.part || 0) / parts;
export const shownOf = (t, parts, unit) => valueOf(t, parts) === null ? '' : unit === 'mm' ? `${t.whole} mm` : show(valueOf(t, parts), 'in');
