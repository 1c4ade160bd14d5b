// The state of a job: which steps are done and what was read, by whom and when. It is
// merged and never thinned: what one page does not show may belong to another.
//
//   {"format": "maskloft job state", "version": 1, "job": "...", "title": "...",
//    "ticks":    {"cut 3f9c12ab10": {"on": true, "at": 1764450000, "by": "Ann", "what": "..."}},
//    "readings": {"1b00c41d22":     {"value": 18.3125, "unit": "in", "at": ..., "by": "...",
//                 "point": "...", "from": "...", "kind": "...", "printed_in": 18.3077, "starts_at_in": 0}}}
//
// Times are seconds since 1970. A value of null is a reading taken back.

export const format = 'maskloft job state';

export const empty = (job, title) => ({ format, version: 1, job, title, ticks: {}, readings: {} });

const plain = v => v !== null && typeof v === 'object' && !Array.isArray(v);
const text = (v, most) => typeof v === 'string' ? v.slice(0, most) : '';
const when = v => Number.isSafeInteger(v) && v > 0 && v < 1e11 ? v : 0;
const named = k => /^[a-z]{0,8} ?[0-9a-z?]{1,40}$/.test(k);

// What is read is a stranger's until it is looked at: of an object only what belongs is
// taken. Throws where it is no state at all.
export function checked(raw) {
  if (!plain(raw) || raw.format !== format) throw new Error('this is no job-state.json');
  if (raw.version !== 1) throw new Error(`this state is of version ${text(String(raw.version), 10)}: open it with a newer book`);
  const out = empty(text(raw.job, 200), text(raw.title, 300));
  if (plain(raw.ticks)) for (const [k, e] of Object.entries(raw.ticks)) if (named(k) && plain(e)) out.ticks[k] = { on: e.on === true, at: when(e.at), by: text(e.by, 60), what: text(e.what, 200) };
  if (plain(raw.readings)) for (const [k, e] of Object.entries(raw.readings)) {
    if (!named(k) || !plain(e)) continue;
    const value = typeof e.value === 'number' && Number.isFinite(e.value) && e.value > 0 ? e.value : null, one = { value, unit: e.unit === 'mm' ? 'mm' : 'in', at: when(e.at), by: text(e.by, 60) };
    for (const f of ['point', 'from', 'kind']) if (text(e[f], 200)) one[f] = text(e[f], 200);
    for (const f of ['printed_in', 'starts_at_in']) if (typeof e[f] === 'number' && Number.isFinite(e[f])) one[f] = e[f];
    out.readings[k] = one;
  }
  return out;
}

// Of two entries the later one; of one second the one whose text comes last, so that all
// devices choose alike. What only one of them tells of the step is kept.
function later(a, b) {
  if (!a) return b;
  if (!b) return a;
  const bare = e => JSON.stringify([e.on ?? null, e.value ?? null, e.unit ?? '', e.by]);
  const [first, second] = a.at !== b.at ? (a.at < b.at ? [a, b] : [b, a]) : bare(a) < bare(b) ? [a, b] : [b, a];
  const out = { ...first, ...second };
  for (const k of Object.keys(out)) if (out[k] === '' && first[k]) if (k !== 'by') out[k] = first[k];
  return out;
}

// Both states in one; the order does not matter, and nothing of either is lost.
export function merge(a, b) {
  const out = { ...a, ticks: {}, readings: {} };
  for (const part of ['ticks', 'readings']) for (const k of [...Object.keys(a[part]), ...Object.keys(b[part])].sort()) out[part][k] = later(a[part][k], b[part][k]);
  return out;
}

// How many entries of b say something else than a has, and were made later.
export function news(a, b) {
  let n = 0;
  for (const part of ['ticks', 'readings']) for (const k of Object.keys(b[part])) {
    const now = a[part][k], then = later(now, b[part][k]);
    if (!now || now.on !== then.on || now.value !== then.value) n++;
  }
  return n;
}

export const isOn = (s, key) => Boolean(s.ticks[key] && s.ticks[key].on);

// A state with one step ticked or not, at a time no earlier than what it had.
export function ticked(s, key, on, by, what, now) {
  const was = s.ticks[key];
  return { ...s, ticks: { ...s.ticks, [key]: { on, at: Math.max(now, was ? was.at + 1 : 0), by, what } } };
}

// A state with one reading; null takes it back.
export function read(s, key, reading, by, now) {
  const was = s.readings[key];
  return { ...s, readings: { ...s.readings, [key]: { ...reading, by, at: Math.max(now, was ? was.at + 1 : 0) } } };
}

// The file, with sorted keys, so that two files can be compared.
export function file(s) {
  const sorted = v => plain(v) ? Object.fromEntries(Object.keys(v).sort().map(k => [k, sorted(v[k])])) : v;
  return JSON.stringify({ format: s.format, version: s.version, job: s.job, title: s.title, ticks: sorted(s.ticks), readings: sorted(s.readings) }, null, 1) + '\n';
}

// A short text to send: `maskloft1 JOB; Ann, Ben; +c3f9c12ab10 t 0; ...; CHECK`. Names of
// people, then each entry: sign, first letter of the step, hash, time in base 36, number
// of the person; a reading has its value and unit. The last word is a checksum.
export function pack(s) {
  const clean = t => t.replace(/[;,\s]+/g, ' ').trim(), people = [], parts = [];
  const of = by => { const n = clean(by || ''); if (!people.includes(n)) people.push(n); return people.indexOf(n); };
  for (const [k, e] of Object.entries(s.ticks).sort()) { const [kind, hash] = k.split(' '); parts.push(`${e.on ? '+' : '-'}${kind[0]}${hash} ${e.at.toString(36)} ${of(e.by)}`); }
  for (const [k, e] of Object.entries(s.readings).sort()) parts.push(`=${k} ${e.value === null ? 'x' : e.value + e.unit} ${e.at.toString(36)} ${of(e.by)}`);
  const body = ['maskloft1 ' + s.job.replace(/[;\s]+/g, '_'), people.join(','), ...parts].join('; ');
  return body + '; ' + sum(body);
}

const kinds = { c: 'cut', p: 'place', s: 'spray' };

// Reads what pack wrote, line breaks and blanks of a message or not; throws in words.
export function unpack(given, job) {
  const body = given.trim().replace(/\s+/g, ' ').split(/ ?; ?/), check = body.pop();
  if (!/^maskloft1 /.test(body[0] || '')) throw new Error('this is no text of a job book: it begins with maskloft1');
  if (sum(body.join('; ')) !== check) throw new Error('a part of the text is missing: copy all of it');
  const out = empty(body[0].slice(10), ''), people = (body[1] || '').split(',');
  if (job !== undefined && out.job !== job.replace(/[;\s]+/g, '_')) throw new Error('this text is of another job');
  if (job !== undefined) out.job = job;
  for (const p of body.slice(2)) {
    const tick = p.match(/^([+-])([cps])([0-9a-f?]+) ([0-9a-z]+) (\d+)$/), reading = p.match(/^=([0-9a-f]+) (x|[\d.]+)(in|mm)? ([0-9a-z]+) (\d+)$/);
    if (tick) out.ticks[`${kinds[tick[2]]} ${tick[3]}`] = { on: tick[1] === '+', at: parseInt(tick[4], 36), by: people[tick[5]] || '', what: '' };
    else if (reading) out.readings[reading[1]] = { value: reading[2] === 'x' ? null : Number(reading[2]), unit: reading[3] || 'in', at: parseInt(reading[4], 36), by: people[reading[5]] || '' };
    else throw new Error(`"${p.slice(0, 40)}" is no step of a job`);
  }
  return checked({ ...out });
}

// FNV-1a of 32 bits, over the text as UTF-8.
function sum(t) {
  let h = 0x811c9dc5;
  for (const b of new TextEncoder().encode(t)) h = Math.imul(h ^ b, 0x01000193) >>> 0;
  return h.toString(36);
}
