// Two changes of one text put together: what one side left alone is the other's; what both
// changed is a clash, to be asked.

export interface Diffed { sign: ' ' | '-' | '+'; text: string; line: number }

/** A part of the merged text: agreed, or a clash with what each side has. */
export type Part = { agreed: string[] } | { mine: string[]; theirs: string[]; base: string[]; line: number };

/** Pairs of lines that stay, by the longest common run; each list begins and ends alike before it is looked at. */
function common(old: string[], now: string[]): [number, number][] {
  let a = 0, z = 0;
  while (a < old.length && a < now.length && old[a] === now[a]) a++;
  while (z < old.length - a && z < now.length - a && old[old.length - 1 - z] === now[now.length - 1 - z]) z++;
  const n = old.length - z - a, m = now.length - z - a, out: [number, number][] = [];
  for (let i = 0; i < a; i++) out.push([i, i]);
  if (n * m > 0 && n * m <= 4e6) {
    const best = Array.from({ length: n + 1 }, () => new Uint16Array(m + 1));
    for (let i = n - 1; i >= 0; i--) for (let j = m - 1; j >= 0; j--) best[i][j] = old[a + i] === now[a + j] ? best[i + 1][j + 1] + 1 : Math.max(best[i + 1][j], best[i][j + 1]);
    for (let i = 0, j = 0; i < n && j < m;) {
      if (old[a + i] === now[a + j]) out.push([a + i++, a + j++]);
      else if (best[i][j + 1] > best[i + 1][j]) j++; else i++;
    }
  }
  for (let k = z; k > 0; k--) out.push([old.length - k, now.length - k]);
  return out;
}

/** Lines of the text against those of the file. */
export function lineDiff(old: string[], now: string[]): Diffed[] {
  const out: Diffed[] = [];
  let i = 0, j = 0;
  for (const [a, b] of [...common(old, now), [old.length, now.length]]) {
    while (i < a) out.push({ sign: '-', text: old[i], line: ++i });
    while (j < b) out.push({ sign: '+', text: now[j], line: ++j });
    if (i < old.length && j < now.length) { out.push({ sign: ' ', text: now[j], line: ++j }); i++; }
  }
  return out;
}

/**
 * What was changed in `mine` and in `theirs` since `base`, line by line. Where both changed
 * neighbouring lines it is a clash; of one line with values in it, `finer` looks at the values.
 */
export function merge(base: string[], mine: string[], theirs: string[], finer = true): Part[] {
  const toMine = new Map(common(base, mine)), toTheirs = new Map(common(base, theirs)), out: Part[] = [];
  const agreed = (lines: string[]) => {
    const last = out[out.length - 1];
    if (!lines.length) return;
    if (last && 'agreed' in last) last.agreed.push(...lines); else out.push({ agreed: [...lines] });
  };
  let b = 0, m = 0, t = 0;
  const take = (toB: number, toM: number, toT: number) => {
    const was = base.slice(b, toB), a = mine.slice(m, toM), c = theirs.slice(t, toT), line = m + 1;
    b = toB; m = toM; t = toT;
    if (same(a, c)) return agreed(a);
    if (same(a, was)) return agreed(c);
    if (same(c, was)) return agreed(a);
    const joined = finer ? valuesOf(was, a, c) : null;
    if (joined) agreed(joined); else out.push({ mine: a, theirs: c, base: was, line });
  };
  for (let i = 0; i <= base.length; i++) {
    const a = i < base.length ? toMine.get(i) : mine.length, c = i < base.length ? toTheirs.get(i) : theirs.length;
    if (a === undefined || c === undefined) continue; // changed by one of them at least
    take(i, a, c);
    if (i < base.length) take(i + 1, a + 1, c + 1);
  }
  return out;
}

const same = (a: string[], b: string[]): boolean => a.length === b.length && a.every((x, i) => x === b[i]);

/** Lines of equal number whose values were changed in different places: {fs: 1, wl: 2}. */
function valuesOf(base: string[], mine: string[], theirs: string[]): string[] | null {
  if (base.length !== mine.length || base.length !== theirs.length) return null;
  const out: string[] = [];
  for (let i = 0; i < base.length; i++) {
    const parts = merge(words(base[i]), words(mine[i]), words(theirs[i]), false);
    if (parts.some(p => !('agreed' in p))) return null;
    out.push(parts.flatMap(p => 'agreed' in p ? p.agreed : []).join(''));
  }
  return out;
}

const words = (line: string): string[] => line.match(/[,{}[\]:]\s*|[^,{}[\]:]+/g) ?? [];

/** The merged text, each clash by what was chosen for it; null while one is open. */
export function joined(parts: Part[], chosen: ('mine' | 'theirs' | undefined)[]): string | null {
  const out: string[] = [];
  let clash = 0;
  for (const p of parts) {
    if ('agreed' in p) { out.push(...p.agreed); continue; }
    const c = chosen[clash++];
    if (!c) return null;
    out.push(...p[c]);
  }
  return out.join('\n');
}
