// What may have gone wrong with readings, each weighed: smaller is likelier. As in the
// program's geometry/adjust (Baarda 1968; Kass and Raftery 1995; from memory).
import { dot, inverse, leastShare, square, times } from './solve.mjs';

export const reach = 36; // inches either way that a free amount is thought to be off
const units = [25.4, 2.54, 12, 1 / 25.4, 1 / 2.54, 1 / 12];

// Of a row, or past the rows of what is known beforehand of an unknown, its derivatives,
// its weight and what is left of it. Weight 0: not in the solution.
function part(s, row) {
  const k = row - s.rows.length;
  if (k >= 0) {
    const u = s.unknowns[k];
    if (u.sigma === 0) return { terms: null, weight: 0, left: 0 };
    const terms = new Array(s.unknowns.length).fill(0);
    terms[k] = 1;
    return { terms, weight: 1 / (u.sigma * u.sigma), left: -s.x[k] };
  }
  if (!s.used[row]) return { terms: null, weight: 0, left: 0 };
  const r = s.rows[row];
  return { terms: r.terms, weight: 1 / (r.sigma * r.sigma), left: s.fits[row].left };
}

// c'Pe, with e what is left; c is a list of shifts {row, by}.
const pull = (s, c) => c.reduce((sum, h) => { const p = part(s, h.row); return sum + p.weight * p.left * h.by; }, 0);

// c'(P - P A Q A' P)d.
function hold(s, c, d) {
  const onto = c => {
    const out = new Array(s.unknowns.length).fill(0);
    for (const h of c) {
      const p = part(s, h.row);
      if (p.weight !== 0) p.terms.forEach((t, k) => { out[k] += p.weight * h.by * t; });
    }
    return out;
  };
  let own = 0;
  for (const h of c) for (const o of d) if (h.row === o.row) own += part(s, h.row).weight * h.by * o.by;
  return own - dot(onto(c), times(s.q, onto(d)));
}

// Chi-square were the readings shorter by c.
export const corrected = (s, c) => Math.max(0, s.chi2 - 2 * pull(s, c) + hold(s, c, c));

// What a mistake of known shapes and unknown amounts explains; shapes that the readings
// cannot tell from those before them are left out.
export function allow(s, shapes) {
  const t = { amounts: shapes.map(() => 0), sigmas: shapes.map(() => 0), rank: 0, drop: 0 };
  let kept = [], inv = [];
  shapes.forEach((_, k) => {
    const list = [...kept, k], g = square(list.length);
    let strong = true;
    list.forEach((a, i) => {
      list.forEach((b, j) => { g[i][j] = hold(s, shapes[a], shapes[b]); });
      const own = shapes[a].reduce((sum, h) => sum + part(s, h.row).weight * h.by * h.by, 0);
      strong = strong && g[i][i] > leastShare * own;
    });
    if (!strong) return;
    const [m, free] = inverse(g);
    if (free < 0) { kept = list; inv = m; }
  });
  t.rank = kept.length;
  const pulls = kept.map(k => pull(s, shapes[k])), amounts = times(inv, pulls);
  kept.forEach((k, i) => { t.amounts[k] = amounts[i]; t.sigmas[k] = Math.sqrt(inv[i][i]); });
  t.drop = Math.max(0, dot(pulls, amounts));
  return t;
}

export const one = row => [{ row, by: 1 }];
export const single = c => c.rows.length === 1 && c.hooks.length === 0;

// Chi-square as the mistake leaves it, 2 ln of the number of its kind, and for each free
// amount a charge.
function weigh(s, c) {
  if (c.shapes) { c.test = allow(s, c.shapes); c.chi2 = s.chi2 - c.test.drop; } else c.chi2 = corrected(s, c.fixed);
  c.score = c.chi2 + 2 * Math.log(c.members);
  for (const sigma of c.test.sigmas) if (sigma > 0) {
    const width = c.cause === 'scale' ? 0.2 : 2 * reach;
    c.score += Math.max(0, 2 * Math.log(width / (Math.sqrt(2 * Math.PI) * sigma)));
  }
  return c;
}

const suspect = c => ({ rows: [], hooks: [], fixed: [], shapes: null, unknown: -1, members: 1, test: { drop: 0, rank: 0, amounts: [], sigmas: [] }, chi2: 0, score: 0, ...c });

// Numbers that become v when two adjacent digits of its whole part change places.
export function transpositions(v) {
  const whole = Math.floor(Math.abs(v)), rest = Math.abs(v) - whole, out = [];
  for (let place = 1; place * 10 <= whole; place *= 10) {
    const low = Math.floor(whole / place) % 10, high = Math.floor(whole / (place * 10)) % 10;
    if (low !== high) out.push(whole + (low - high) * place * 9 + rest);
  }
  return out;
}

// Free amounts that several readings share: hardpoints that moved, the tape's zero and
// its scale.
export function shared(p, s, freed) {
  const n = p.readings.length, out = [];
  const add = c => { if (weigh(s, c).test.rank > 0 && c.rows.length > 1) out.push(c); };
  p.hooks.forEach((moves, h) => {
    const rows = [...p.readings.keys()].filter(i => s.used[i] && p.readings[i].from === h);
    add(suspect({ cause: 'hardpoint', hooks: [h], rows, shapes: moves.filter(k => !freed[k]).map(k => [{ row: n + k, by: -1 }]), members: p.hooks.length }));
  });
  const tapes = [...p.readings.keys()].filter(i => s.used[i] && p.readings[i].tape);
  for (const [at, cause] of [[p.zero, 'zero'], [p.scale, 'scale']]) if (at >= 0 && !freed[at]) add(suspect({ cause, rows: tapes, shapes: [[{ row: n + at, by: -1 }]], unknown: at }));
  return out;
}

// All that may be wrong with the readings used.
export function suspects(p, s, freed) {
  const used = [...p.readings.keys()].filter(i => s.used[i]), tapes = used.filter(i => p.readings[i].tape), out = [];
  const add = c => out.push(weigh(s, suspect(c)));
  const digits = used.reduce((n, i) => n + transpositions(p.readings[i].typed).length, 0);
  for (const i of used) {
    const r = p.readings[i], exact = (cause, by, members) => add({ cause, rows: [i], fixed: [{ row: i, by }], members });
    add({ cause: 'misread', rows: [i], shapes: [one(i)], members: used.length });
    if (!r.tape) continue;
    for (const sign of [1, -1]) { exact('start', sign * r.start, 2 * tapes.length); exact('foot', sign * 12, 2 * tapes.length); }
    for (const f of units) exact('unit', r.read - r.read * f, units.length * tapes.length);
    for (const v of transpositions(r.typed)) exact('digits', (r.typed - v) * r.unit, digits);
  }
  const pairs = [], hooks = [];
  tapes.forEach((i, k) => tapes.slice(0, k).forEach(j => {
    const a = p.readings[j], b = p.readings[i];
    if (a.point !== b.point && a.from !== b.from) return;
    const by = a.read - b.read;
    pairs.push({ cause: 'exchanged', rows: [j, i], fixed: [{ row: j, by }, { row: i, by: -by }] });
  }));
  for (let a = 0; a < p.hooks.length; a++) for (let b = 0; b < a; b++) {
    const c = { cause: 'hardpoints exchanged', hooks: [b, a], rows: [], fixed: [] };
    for (const i of tapes) for (const j of tapes) {
      const x = p.readings[i], y = p.readings[j];
      if (x.from !== a || y.from !== b || x.point !== y.point) continue;
      const by = x.read - y.read;
      c.rows.push(j, i); c.fixed.push({ row: i, by }, { row: j, by: -by });
    }
    if (c.rows.length > 2) hooks.push(c);
  }
  for (const list of [pairs, hooks]) list.forEach(c => add({ ...c, members: list.length }));
  out.push(...shared(p, s, freed));
  if (tapes.length < 2) return out;
  const all = (cause, members, by) => add({ cause, rows: tapes, members, fixed: tapes.map(i => ({ row: i, by: by(p.readings[i]) })) });
  if (p.zero < 0 || !freed[p.zero]) for (const sign of [1, -1]) all('all by start', 2, r => sign * r.start);
  for (const f of units) all('all in another unit', units.length, r => r.read - r.read * f);
  return out;
}
