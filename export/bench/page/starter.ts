// The text of a new layout from what was typed on the first visit. What is a guess is a
// comment beside its value.
import { read, written, type Unit } from './length.ts';
import { quoted } from './changes.ts';

export type Kind = 'stringers' | 'round' | 'faired' | 'scan';
export interface Typed {
  kind: Kind; unit: Unit; name: string; datum: string;
  lines: string[]; // of stringers, crown to keel
  sections: string[][]; // one row a section, as typed: station first
  hardpoints: { id: string; name: string; fs: string; bl: string; wl: string }[];
  scan: string;
  text: string; height: string; nation: string; date: string;
}

export const kinds: Record<Kind, { name: string; says: string; datum: string; columns: string[] }> = {
  stringers: { name: 'Stringers', says: 'cloth or sheet over lines from frame to frame', datum: 'FS 0 is the fore face of the propeller hub, positive aft. WL 0 is the upper face of the upper longeron, positive up. BL 0 is the plane of symmetry, positive to the pilot\'s right.', columns: [] },
  round: { name: 'Round', says: 'circles from nose to tail', datum: 'FS 0 is the tip of the nose, positive aft. WL 0 is the axis of the body, positive up. BL 0 is the plane of symmetry, positive to the pilot\'s right.', columns: ['Radius', 'WL of its middle'] },
  faired: { name: 'Faired', says: 'ovals and rounded boxes, smooth between', datum: 'FS 0 is the fore face of the propeller hub, positive aft. WL 0 is the thrust line, positive up. BL 0 is the plane of symmetry, positive to the pilot\'s right.', columns: ['Half breadth', 'Half height', 'WL of its middle'] },
  scan: { name: 'From a scan', says: 'a mesh, and points known on it', datum: 'FS 0, WL 0 and BL 0 as the points of the scan give them.', columns: [] },
};

export const columnsOf = (t: Typed): string[] => ['Station, FS', ...(t.kind === 'stringers' ? t.lines.flatMap(l => [`${l} half breadth`, `${l} height`]) : kinds[t.kind].columns)];

/** An empty sheet of a kind: three sections, two hardpoints a side. */
export function blank(kind: Kind, unit: Unit): Typed {
  const lines = ['T', 'S1', 'S2', 'B'];
  const t: Typed = { kind, unit, name: '', datum: kinds[kind].datum, lines, sections: [], hardpoints: [], scan: 'body.stl', text: 'A1', height: unit === 'in' ? '12' : '300', nation: '', date: '' };
  t.sections = Array.from({ length: 3 }, () => columnsOf(t).map(() => ''));
  t.hardpoints = [1, 2].map(i => ({ id: `P${i}`, name: '', fs: '', bl: '', wl: '' }));
  return t;
}

/** The sections whose every number can be read, in inches, by station; and what is wrong with the others. */
export function sectionsOf(t: Typed): { rows: number[][]; why: string[] } {
  const rows: number[][] = [], why: string[] = [];
  t.sections.forEach((row, i) => {
    if (row.every(c => !c.trim())) return;
    const values = row.map(c => read(c, t.unit)), bad = values.findIndex(v => !v.ok);
    if (bad >= 0) { const v = values[bad]; why.push(`section ${i + 1}, ${columnsOf(t)[bad].toLowerCase()}: ${v.ok ? '' : v.why}`); return; }
    rows.push(values.map(v => v.ok ? v.inches : 0));
  });
  rows.sort((a, b) => a[0] - b[0]);
  for (let i = 1; i < rows.length; i++) if (rows[i][0] - rows[i - 1][0] < 1e-6) why.push('two sections have one station');
  return { rows, why };
}

/** The outline of a section, right half, crown to keel: [half breadth, height]. */
export function outlineOf(t: Typed, row: number[]): [number, number][] {
  if (t.kind === 'stringers') return t.lines.map((_, i): [number, number] => [row[1 + 2 * i], row[2 + 2 * i]]);
  const [, a, b, c] = row, round = t.kind === 'round', n = round ? 2 : 2.5, mid = round ? b : c, high = round ? a : b;
  return Array.from({ length: 25 }, (_, i) => { const p = Math.PI * i / 24, s = Math.sin(p), q = Math.cos(p); return [a * Math.pow(s, 2 / n), mid + high * Math.sign(q) * Math.pow(Math.abs(q), 2 / n)] as [number, number]; });
}

/** The layout as text; or why it cannot be written yet. */
export function layoutText(t: Typed): { text: string } | { why: string[] } {
  const { rows, why } = sectionsOf(t);
  if (!t.name.trim()) why.unshift('the name of the aircraft is missing');
  if (t.kind !== 'scan' && rows.length < 2) why.push('two sections or more are needed');
  if (why.length) return { why };
  const w = (x: number) => written(x, t.unit), out: string[] = [];
  const first = rows[0]?.[0] ?? 0, last = rows[rows.length - 1]?.[0] ?? 100, mid = rows[rows.length >> 1], shape = mid ? outlineOf(t, mid) : [];
  const heights = shape.map(p => p[1]), wl = heights.length ? (Math.max(...heights) + Math.min(...heights)) / 2 : 0;
  out.push(`name: ${JSON.stringify(t.name.trim())}`, `units: ${t.unit} # a bare number below is in ${t.unit === 'in' ? 'inches' : 'millimetres'}`, '', 'aircraft:', `  name: ${JSON.stringify(t.name.trim())}`, '  datum: >-', `    ${t.datum.trim().replace(/\s+/g, ' ') || 'FS 0 is not said yet.'}`, '  surfaces:', '    - id: fuselage', `      kind: ${t.kind}`);
  if (t.kind === 'stringers') {
    out.push(`      lines: [${t.lines.join(', ')}] # crown to keel, right side; the left is its mirror image`, `      sections: # ${rows.length} typed; the skin is taken straight between them: a guess until more are measured`);
    for (const r of rows) out.push(`        - fs: ${w(r[0])}`, `          points: [${outlineOf(t, r).map(p => `[${w(p[0])}, ${w(p[1])}]`).join(', ')}]`);
  } else if (t.kind === 'round') {
    out.push(`      sections: # ${rows.length} typed; the skin between them is a guess until more are measured`);
    for (const r of rows) out.push(`        - {fs: ${w(r[0])}, radius: ${w(r[1])}, wl: ${w(r[2])}}`);
  } else if (t.kind === 'faired') {
    out.push('      along: monotone', `      sections: # ${rows.length} typed; the exponent is a guess: 2 is an ellipse, 4 nearly a box`);
    for (const r of rows) out.push(`        - {fs: ${w(r[0])}, superellipse: {half-breadth: ${w(r[1])}, half-height: ${w(r[2])}, wl: ${w(r[3])}, exponent: 2.5}}`);
  } else out.push(`      file: ${quoted(t.scan)}`, '      units: mm', '      points: # four or more that are known on the aircraft: the place in the scan, then on the aircraft', '        - {name: one, scan: [0, 0, 0], fs: 0, bl: 0, wl: 0}');
  const hard = t.hardpoints.filter(p => [p.fs, p.bl, p.wl].every(v => read(v, t.unit).ok));
  if (hard.length) {
    out.push('  hardpoints: # where a tape hooks');
    for (const p of hard) { const [fs, bl, z] = [p.fs, p.bl, p.wl].map(v => { const r = read(v, t.unit); return r.ok ? w(r.inches) : ''; }); out.push(`    - {id: ${p.id}, name: ${JSON.stringify(p.name || 'not named yet')}, side: both, fs: ${fs}, bl: ${bl}, wl: ${z}}`); }
  }
  const rules = [t.date && `  date: ${quoted(t.date)}`, t.nation && `  nation: ${quoted(t.nation)}`].filter(Boolean) as string[];
  if (rules.length) out.push('', 'rules:', ...rules);
  const height = read(t.height, t.unit);
  out.push('', 'markings:', '  - id: code', `    figure: {text: ${JSON.stringify(t.text || 'A1')}, alphabet: block-6x4, height: ${w(height.ok ? height.inches : 12)}} # letters and height are a guess until evidence decides`, `    where: {surface: fuselage, side: both, fs: ${w((first + last) / 2)}, wl: ${w(wl)}} # the middle: move it`, '    true: skin', '    handed: text # reads left to right on both sides', '    colours: {text: white}', '',
    'film:', `  web: ${t.unit === 'in' ? '24 in' : '610 mm'} # width of the roll: that of your cutter`, '', 'paint:', '  order: [white, black]', '  colours:', '    white: {name: white, hex: "#f2f2ee"}', '    black: {name: black, hex: "#1b1b1b"}', '');
  return { text: out.join('\n') };
}
