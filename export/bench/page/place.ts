// Place: the points of each marking, what its tapes should read, and what they read.
import type { Bench } from './bench.ts';
import { h, patch, s } from './dom.ts';
import { refusal } from './engine.ts';
import { near, nearly, read } from './length.ts';
import { dOf, silhouette, dFlat } from './lines.ts';
import { announce } from './live.ts';
import { baseIn } from './marks.ts';
import { fit, pixelOf, transformOf, type View } from './project.ts';
import type { Sight } from './skin.ts';
import type { Vec } from './vec.ts';

interface Tape { from: string; length_in: number; kind: string }
interface Checkpoint { id: string; role: string; step: number; skin: { fs: number; bl: number; wl: number }; tapes: Tape[]; closure?: Tape & { limit?: number }; crossing_deg?: number; grade?: string; sigma_in?: number; within95_in?: [number, number] }
interface Report { checkpoints: Checkpoint[]; findings: { message: string; level: string }[] }
interface Built { markings: { marking: string; lies: { right_in: number; up_in: number; within95_in?: [number, number]; turn_deg?: number }; wrong?: { point: string; from: string; off_in?: number; says?: string }[]; points: { id: string; right_in: number; up_in: number }[]; readings: { point: string; from: string; left_in: number; left_sigmas?: number }[] }[]; findings: { message: string; level: string }[] }

const wide = 520, high = 300;

export function place(bench: Bench, root: HTMLElement): void {
  let report: Report | null = null, of = '', why = '', asking = false, at = 0, marking = '', active = 0, built: Built | null = null, says = '', lock: { release(): Promise<void> } | null = null;
  const typed = new Map<string, string>(), done = new Set<string>();
  let kept = '';
  const key = () => `bench readings ${bench.name}`;
  const recall = () => { if (kept === key()) return; kept = key(); typed.clear(); done.clear(); try { const was = JSON.parse(localStorage.getItem(kept) ?? '{}'); for (const [k, v] of Object.entries(was.typed ?? {})) if (typeof v === 'string') typed.set(k, v); for (const d of Array.isArray(was.done) ? was.done : []) if (typeof d === 'string') done.add(d); } catch { /* nothing kept */ } };
  const keep = () => { try { localStorage.setItem(key(), JSON.stringify({ typed: Object.fromEntries(typed), done: [...done] })); } catch { /* the browser keeps nothing */ } };
  const ask = async () => {
    if (asking || of === bench.engine.hash || bench.engine.problems.length) return;
    asking = true;
    const hash = bench.engine.hash;
    try { report = await bench.engine.ask<Report>('place', {}, { slot: 'tapes' }); why = ''; of = hash; } catch (e) { const r = refusal(e); if (r.code !== 'cancelled') { why = r.message; of = hash; } }
    asking = false;
    void adjust();
    bench.draw();
  };
  const adjust = async () => {
    const readings = [...typed].filter(([, v]) => read(v, bench.state.unit).ok).map(([k, v]) => { const [point, from, kind] = k.split('|'), r = read(v, bench.state.unit); return { point, from, kind, reads: r.ok ? `${r.inches} in` : '' }; }).filter(r => report?.checkpoints.some(c => c.id === r.point));
    if (!readings.length) { built = null; says = ''; bench.draw(); return; }
    try { built = await bench.engine.ask<Built>('readings', { readings }, { slot: 'readings' }); says = ''; } catch (e) { const r = refusal(e); if (r.code === 'cancelled') return; built = null; says = r.message; }
    bench.draw();
  };
  const tapesOf = (c: Checkpoint): { tape: Tape; use: string }[] => [...c.tapes.map(tape => ({ tape, use: 'place' })), ...(c.closure ? [{ tape: c.closure, use: 'check' }] : [])];
  const set = (k: string, v: string) => { if (v.trim()) typed.set(k, v); else typed.delete(k); keep(); void adjust(); };

  bench.panel(() => {
    if (bench.state.job !== 'place') { if (lock) { void lock.release(); lock = null; } return; }
    recall();
    void ask();
    if (!lock && matchMedia('(max-width: 1100px)').matches) { const w = (navigator as unknown as { wakeLock?: { request(k: string): Promise<{ release(): Promise<void> }> } }).wakeLock; if (w && document.visibilityState === 'visible') void w.request('screen').then(l => { lock = l; }).catch(() => {}); }
    placements = bench.model.markings.flatMap(m => m.placed.map(p => p.id));
    const unit = bench.state.unit, points = report?.checkpoints ?? [], all = [...new Set(points.map(c => markingOf(c)))];
    if (!all.includes(marking)) marking = all.find(m => bench.chosen && m.startsWith(bench.chosen.id)) ?? all[0] ?? '';
    const mine = points.filter(c => markingOf(c) === marking).sort((a, b) => a.step - b.step);
    at = Math.max(0, Math.min(at, mine.length - 1));
    const c = mine[at], tapes = c ? tapesOf(c) : [], lies = built?.markings.find(m => m.marking === marking);
    active = Math.min(active, Math.max(0, tapes.length - 1));
    const go = (by: number) => { at = Math.max(0, Math.min(mine.length - 1, at + by)); active = 0; bench.draw(); };
    const current = tapes[active] && c ? `${c.id}|${tapes[active].tape.from}|${tapes[active].tape.kind}` : '';
    patch(root, [
      h('div', { class: 'head' }, h('h2', { class: 'big' }, 'Place'), h('span', { class: 'soft' }, asking ? 'tapes are being strung' : `${points.length} points, ${[...done].filter(d => points.some(p => p.id === d)).length} done`)),
      why ? h('p', { class: 'stop' }, why) : null,
      report && !points.length && !asking ? h('p', {}, 'No point can be placed: give two hardpoints or more on the side.') : null,
      c ? h('div', { class: 'placing' },
        h('div', { class: 'sheet' },
          h('div', { class: 'acts' }, h('label', {}, 'Marking ', h('select', { value: marking, on: { change: (e: Event) => { marking = (e.target as HTMLSelectElement).value; at = 0; bench.draw(); } } }, all.map(m => h('option', { value: m, selected: m === marking }, m)))),
            h('button', { type: 'button', disabled: at === 0, on: { click: () => go(-1) } }, 'Back'), h('b', { class: 'step' }, `point ${at + 1} of ${mine.length}`), h('button', { type: 'button', disabled: at === mine.length - 1, on: { click: () => go(1) } }, 'Next')),
          h('p', {}, h('b', {}, nameOf(c)), h('span', { class: 'soft' }, ` FS ${near(c.skin.fs, unit)}, WL ${near(c.skin.wl, unit)}${c.grade ? `; ${c.grade}` : ''}`)),
          picture(bench, c, tapes),
          c.within95_in ? h('p', { class: 'soft small' }, `to be expected within ${nearly(c.within95_in[0], unit)} by ${nearly(c.within95_in[1], unit)}, 19 times in 20`) : null),
        h('div', { class: 'sheet readings' },
          tapes.map(({ tape, use }, i) => {
            const k = `${c.id}|${tape.from}|${tape.kind}`, v = typed.get(k) ?? '', r = v ? read(v, unit) : null, off = r?.ok ? r.inches - tape.length_in : null;
            return h('div', { class: i === active ? 'reading on' : 'reading', 'data-key': k },
              h('div', { class: 'wanted' }, h('b', { class: 'hook' }, tape.from), h('span', { class: 'length' }, near(tape.length_in, unit, 16)), h('span', { class: 'soft' }, `${unit}, ${tape.kind}${use === 'check' ? ', closes' : ''}`)),
              h('div', { class: r && !r.ok ? 'field bad' : 'field' }, h('label', { for: `read-${i}` }, 'reads'), h('span', { class: 'box' }, h('input', { id: `read-${i}`, type: 'text', inputmode: 'none', value: v, autocomplete: 'off', 'aria-invalid': r && !r.ok ? 'true' : undefined, on: { focus: () => { if (active !== i) { active = i; bench.draw(); } }, input: (e: Event) => set(k, (e.target as HTMLInputElement).value), keydown: (e: KeyboardEvent) => { if (e.key === 'Enter') { if (i + 1 < tapes.length) root.querySelector<HTMLElement>(`#read-${i + 1}`)?.focus(); else finish(c); } } } }), h('span', { class: 'unit' }, unit)), r && !r.ok ? h('p', { class: 'why' }, r.why) : null),
              off !== null ? h('p', { class: Math.abs(off) > 0.126 ? 'warn' : 'good' }, Math.abs(off) < 1 / 32 ? 'as wanted' : `${nearly(Math.abs(off), unit)} too ${off > 0 ? 'long' : 'short'}`) : null);
          }),
          keypad(unit, key => { const v = typed.get(current) ?? ''; if (current) set(current, press(v, key)); bench.draw(); }),
          h('p', { class: 'off', role: 'status' }, lies ? saysOff(lies, c.id, unit) : typed.size ? says : ''),
          (built?.findings ?? []).map(f => h('p', { class: built?.markings.length ? f.level : 'soft' }, f.message)),
          h('button', { type: 'button', class: 'strong done', on: { click: () => finish(c) } }, done.has(c.id) ? 'Done; next point' : 'Done')))
        : null,
      points.length ? h('details', { class: 'sheet' }, h('summary', {}, 'All points as a list'), h('div', { class: 'scroll', tabindex: 0, role: 'region', 'aria-label': 'All points' }, h('table', {}, h('thead', {}, h('tr', {}, ['point', 'from', 'reads', 'from', 'reads', 'closes', 'done'].map(n => h('th', { scope: 'col' }, n)))),
        h('tbody', {}, points.map(p => h('tr', {}, h('td', {}, p.id), p.tapes.slice(0, 2).flatMap(t => [h('td', { class: 'n' }, t.from), h('td', { class: 'n' }, near(t.length_in, unit, 16))]), h('td', { class: 'n' }, p.closure ? `${p.closure.from} ${near(p.closure.length_in, unit, 16)}` : ''), h('td', {}, done.has(p.id) ? 'yes' : ''))))))) : null,
    ]);
    function finish(p: Checkpoint): void { done.add(p.id); keep(); announce(`${p.id} done`); go(1); }
  });
}

/** The placement that a point is of: the longest that its id begins with. */
let placements: string[] = [];
const markingOf = (c: Checkpoint): string => placements.filter(p => c.id.startsWith(`${p}-`)).sort((a, b) => b.length - a.length)[0] ?? c.id.replace(/-[^-]*$/, '');
const nameOf = (c: Checkpoint): string => `${markingOf(c)}: ${c.id.slice(markingOf(c).length + 1).replaceAll('-', ' ')}`;

function saysOff(m: Built['markings'][number], point: string, unit: 'in' | 'mm'): string {
  const p = m.points.find(q => q.id === point), right = p?.right_in ?? m.lies.right_in, up = p?.up_in ?? m.lies.up_in;
  const wrong = m.wrong?.[0];
  return `off by ${nearly(Math.abs(right), unit)} to the ${right >= 0 ? 'right' : 'left'} as read, ${nearly(Math.abs(up), unit)} ${up >= 0 ? 'up' : 'down'}${wrong ? `; look at ${wrong.point} from ${wrong.from}` : ''}`;
}

/** What a key of the keypad makes of a reading: digits, then sixteenths. */
export function press(v: string, key: string): string {
  if (key === '⌫') return v.includes('-') ? v.slice(0, v.lastIndexOf('-')) : v.slice(0, -1);
  if (/^\d+\/\d+$/.test(key)) { const whole = v.split('-')[0].replace(/\D/g, ''); return whole ? `${whole}-${key}` : key; }
  return v.includes('-') ? v : v + key;
}

function keypad(unit: 'in' | 'mm', on: (key: string) => void): HTMLElement {
  const key = (k: string, name = '') => h('button', { type: 'button', class: name, on: { click: () => on(k) } }, k);
  const parts = unit === 'in' ? Array.from({ length: 15 }, (_, i) => { let n = i + 1, d = 16; while (n % 2 === 0) { n /= 2; d /= 2; } return `${n}/${d}`; }) : [];
  return h('div', { class: 'keypad', role: 'group', 'aria-label': 'Keypad' }, h('div', { class: 'digits' }, ['7', '8', '9', '4', '5', '6', '1', '2', '3', '0', '.', '⌫'].map(k => key(k))), parts.length ? h('div', { class: 'sixteenths' }, parts.map(k => key(k))) : null);
}

/** The side with the hooks and the tapes as they run to a point. */
function picture(bench: Bench, c: Checkpoint, tapes: { tape: Tape; use: string }[]): SVGElement {
  const { model } = bench, at: Vec = [c.skin.fs, c.skin.bl, c.skin.wl], placed = model.markings.flatMap(m => m.placed).find(p => p.id === markingOf(c));
  const plan = !!placed && Math.abs(placed.out[2]) > 0.8, sight: Sight = plan ? placed!.out[2] > 0 ? 'above' : 'below' : placed?.side === 'right' ? 'right' : 'left';
  const side = placed?.side ?? 'left', hooks = tapes.map(t => ({ t, p: model.scene?.hardpoints.find(p => p.id === t.tape.from && (p.side === side || p.side === '')) ?? model.scene?.hardpoints.find(p => p.id === t.tape.from) })).filter(x => x.p);
  const h2 = plan ? 1 : 2, all = [[at[0], at[h2]], ...hooks.map(x => [x.p!.at[0], x.p!.at[h2]])];
  const box: [number, number, number, number] = [Math.min(...all.map(p => p[0])) - 8, Math.min(...all.map(p => p[1])) - 8, Math.max(...all.map(p => p[0])) + 8, Math.max(...all.map(p => p[1])) + 8];
  const v: View = { sight, width: wide, height: high, look: fit(box, wide, high, 34) }, [x, y] = pixelOf(v, at);
  const marking = baseIn(model, markingOf(c));
  return s('svg', { class: 'placepicture', viewBox: `0 0 ${wide} ${high}`, role: 'img', 'aria-label': `The point with its tapes from ${hooks.map(q => q.t.tape.from).join(', ')}` },
    s('g', { transform: transformOf(v) }, model.skins.filter(k => plan ? k.kind === 'wing' || k.kind === 'foil' : k.side === 'both' || k.kind === 'plate' && k.side === sight).map(k => { const m = model.meshes.get(k.id)!; return s('path', { class: 'skin edge', 'vector-effect': 'non-scaling-stroke', d: k.outlines.length ? k.outlines.map(o => dFlat(o, true)).join('') : m.wraps ? dFlat(silhouette(m, sight), true) : '' }); }),
      (model.outlines.get(marking)?.list ?? []).filter(o => o.id === placed?.id).map(o => s('path', { d: o.lines.map(l => dOf(sight, l, true)).join(''), fill: o.hex, class: 'paint', opacity: 0.5 }))),
    hooks.map(({ t, p }) => { const [a, b] = pixelOf(v, p!.at); return s('g', { class: t.use === 'check' ? 'tapeline closes' : 'tapeline' }, s('path', { d: `M${a} ${b}L${x} ${y}` }), s('g', { class: 'hardpoint', transform: `translate(${a} ${b})` }, s('circle', { r: 6 }), s('path', { d: 'M-10 0H10M0-10V10' })), s('text', { x: a + 10, y: b - 8 }, p!.id), s('text', { x: (a + x) / 2, y: (b + y) / 2 - 5, 'text-anchor': 'middle' }, near(t.tape.length_in, bench.state.unit, 16))); }),
    s('g', { class: 'point', transform: `translate(${x} ${y})` }, s('circle', { r: 7 }), s('circle', { r: 1.5 })));
}
