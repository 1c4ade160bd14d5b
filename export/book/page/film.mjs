// How a film lies by the readings of its points: rigid in the flat, moved and turned, all
// readings adjusted together, the wrong ones named. The same as `maskloft tape --measured`;
// data is that of the page (unit, mark, held, zero, scale), readings are
// {point, tape, value, typed, unit}: value in inches, the mark held taken off.
import { search } from './adjust.mjs';

// length of a tape to another point of the flat, and the direction in which it leaves.
function lengthTo(t, from, p) {
  const l = t.length, x = from[0] + t.along[0] * l - p[0], y = from[1] + t.along[1] * l - p[1];
  const above = Math.max(0, l * l * (1 - t.along[0] * t.along[0] - t.along[1] * t.along[1])), d = Math.sqrt(x * x + y * y + above);
  return [d, [x / d, y / d]];
}

// The adjustment of the readings of one film.
export function filmOf(data, readings) {
  const points = new Map(), hooks = new Map(), unknowns = [], moves = [];
  for (const r of readings) if (!points.has(r.point.id)) points.set(r.point.id, r.point.film);
  const all = [...points.values()], middle = [0, 1].map(k => all.reduce((s, p) => s + p[k], 0) / all.length);
  const reach = Math.max(...all.map(p => Math.hypot(p[0] - middle[0], p[1] - middle[1]))), turns = reach > 1;
  const unknown = (name, sigma) => unknowns.push({ name, sigma }) - 1;
  unknown('shift to the right', 0); unknown('shift up', 0);
  if (turns) unknown('turn', 0);
  for (const { tape: t } of readings) if (t.hook && !hooks.has(t.hook)) {
    hooks.set(t.hook, moves.length);
    moves.push(['aft', 'right', 'up'].map(way => unknown(`${t.hook} ${way}`, t.hookSD)));
  }
  const ids = [...points.keys()], shared = new Map();
  let zero = -1, scale = -1;
  if (moves.length) { zero = unknown("tape's beginning", data.zero); scale = unknown("tape's scale", data.scale); }
  for (const { tape: t } of readings) for (const s of t.shared || []) if (!shared.has(s.name)) shared.set(s.name, unknown(s.name, s.sigma));
  const at = (p, x) => {
    const d = [p[0] - middle[0], p[1] - middle[1]], sin = turns ? Math.sin(x[2]) : 0, cos = turns ? Math.cos(x[2]) : 1;
    const e = [d[0] * cos - d[1] * sin, d[0] * sin + d[1] * cos];
    return [[middle[0] + e[0] + x[0], middle[1] + e[1] + x[1]], [-e[1], e[0]]];
  };
  const model = x => readings.map(r => {
    const terms = new Array(unknowns.length).fill(0), [p, turning] = at(r.point.film, x);
    const along = s => { terms[0] = s[0]; terms[1] = s[1]; if (turns) terms[2] = s[0] * turning[0] + s[1] * turning[1]; };
    if (!r.tape.hook) {
      const s = r.tape.slope;
      along(s);
      let length = r.tape.length + s[0] * (p[0] - r.point.film[0]) + s[1] * (p[1] - r.point.film[1]);
      for (const e of r.tape.shared || []) { const k = shared.get(e.name); terms[k] = e.by; length += e.by * x[k]; }
      return { terms, out: r.value - length, sigma: r.tape.sigma };
    }
    const hook = moves[hooks.get(r.tape.hook)];
    let [length, towards] = lengthTo(r.tape, r.point.film, p);
    along([-towards[0], -towards[1]]);
    hook.forEach((k, i) => { terms[k] = r.tape.away[i]; length += r.tape.away[i] * x[k]; });
    terms[zero] = 1; terms[scale] = length;
    length += x[zero] + length * x[scale];
    return { terms, out: r.value - length, sigma: r.tape.sigma };
  });
  const problem = {
    unknowns, hooks: moves, zero, scale, longest: 5, model,
    readings: readings.map(r => ({ read: r.value, typed: r.typed, unit: r.unit === 'mm' ? 1 / 25.4 : 1, start: data.mark, tape: Boolean(r.tape.hook), from: r.tape.hook ? hooks.get(r.tape.hook) : -1, point: ids.indexOf(r.point.id) })),
  };
  return { problem, at, turns, hooks: [...hooks.keys()], ids, points };
}

const sure = 6;

// What the readings say of a film: {error} where they do not place it; else its shift, its
// turn in degrees with its deviation, each point's way off, the corner of the paint that
// lies farthest off, what is wrong in words, and whether that is open.
export function laid(data, marking, readings) {
  const film = filmOf(data, readings);
  let a;
  try { a = search(film.problem); } catch (e) { return { error: e.message }; }
  const x = a.kept.x, moved = p => { const q = film.at(p, x)[0]; return [q[0] - p[0], q[1] - p[1]]; };
  const points = film.ids.map(id => ({ id, off: moved(film.points.get(id)), count: readings.filter((r, i) => r.point.id === id && a.used[i]).length }));
  let farthest = 0;
  for (const px of [marking.box[0], marking.box[2]]) for (const py of [marking.box[1], marking.box[3]]) farthest = Math.max(farthest, Math.hypot(...moved([px, py])));
  const left = a.kept.fits.map((f, i) => f.left + a.fixed[i]);
  return {
    shift: moved([0, 0]), turn: film.turns ? x[2] * 180 / Math.PI : 0, turnSD: film.turns ? Math.sqrt(a.kept.q[2][2]) * 180 / Math.PI : 0,
    points, farthest, left, used: a.used, spare: a.kept.spare,
    wrong: a.verdicts.map(v => ({ rows: v.rows, open: v.open, cause: v.cause, text: words(film, readings, v, data) })),
  };
}

const nameOf = r => r.tape.hook ? `${r.point.id} from ${r.tape.from}` : `${r.point.id}, ${r.tape.kind} from ${r.tape.from}`;

function words(film, readings, v, data) {
  if (v.open) return `one of these readings is wrong, or several, and they do not tell which: ${v.rows.map(i => nameOf(readings[i])).join('; ')}`;
  const text = cause(film, readings, v.cause, v.rows, v.hooks, v.amount, data);
  return v.lead < sure && v.next ? `${text}; or ${cause(film, readings, v.next, v.nextRows, v.nextHooks, v.amount, data)}` : text;
}

function cause(film, readings, what, rows, hooks, amount, data) {
  const size = Math.abs(amount), longer = `${data.unit === 'mm' ? `${(size * 25.4).toFixed(2)} mm` : `${size.toFixed(3)} in`} ${amount < 0 ? 'less' : 'more'}`, start = data.mark > 2 ? '100 mm' : '1 in';
  const name = rows.length ? `${nameOf(readings[rows[0]])} reads ${longer} than the others say: ` : '';
  const hook = k => film.hooks[hooks[k]], count = rows.length === 1 ? '1 reading' : `${rows.length} readings`;
  switch (what) {
    case 'start': return name + (amount > 0 ? `the tape was held at its ${start} mark and read as from its end; it is left out` : `the tape was held at its end, and the ${start} mark taken off; it is left out`);
    case 'foot': return name + 'a foot miscounted; it is left out';
    case 'unit': return name + 'read or typed in another unit, as inches for millimetres; it is left out';
    case 'digits': return name + 'two digits exchanged in writing; it is left out';
    case 'exchanged': return `${nameOf(readings[rows[0]])} and ${nameOf(readings[rows[1]])} are exchanged; they are taken the other way round`;
    case 'hardpoints exchanged': return `the readings from ${hook(0)} and ${hook(1)} are exchanged; they are taken the other way round`;
    case 'hardpoint': return `hardpoint ${hook(0)} is not where the list has it: its ${count} agree with each other and not with the rest; its place is left free`;
    case 'all by start': return amount > 0 ? `all tapes read ${longer}: they were held at the ${start} mark and read as from the end; it is taken off` : `all tapes read ${longer}: the ${start} mark was taken off and not held; it is added`;
    case 'zero': return `all tapes read ${longer} than the film allows: the tape's end is bent or worn; its beginning is left free`;
    case 'scale': return `all tapes are out by ${(100 * amount).toFixed(2)} % of their length: the tape is stretched, or was not pulled alike; its scale is left free`;
    case 'all in another unit': return 'all tapes were read or typed in another unit, as inches for millimetres; they are converted';
  }
  return name + 'misread, or hooked elsewhere; it is left out';
}
