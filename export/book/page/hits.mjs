// Search: every word must stand in an entry; entries whose name has it come first.

// entry: {name, text, ...}. Lower case is made once.
export const indexed = entries => entries.map(e => ({ ...e, low: ` ${e.name} ${e.text}`.toLowerCase(), head: e.name.toLowerCase() }));

// The entries that hold all words, at most so many, the best first.
export function hitsOf(index, query, most = 60) {
  const words = query.trim().toLowerCase().split(/\s+/).filter(Boolean);
  if (!words.length) return { total: 0, hits: [] };
  const ranks = [[], [], []];
  let total = 0;
  for (const e of index) {
    if (!words.every(w => e.low.includes(w))) continue;
    total++;
    ranks[words.every(w => e.head.includes(w)) ? 0 : words.every(w => e.low.includes(' ' + w)) ? 1 : 2].push(e);
  }
  return { total, hits: ranks.flat().slice(0, most) };
}

// A piece of a text round its first word that was asked for.
export function piece(text, query, long = 90) {
  const word = query.trim().toLowerCase().split(/\s+/)[0] || '', at = Math.max(0, text.toLowerCase().indexOf(word));
  const from = Math.max(0, Math.min(at - 30, text.length - long));
  return (from > 0 ? '...' : '') + text.slice(from, from + long).trim() + (from + long < text.length ? '...' : '');
}
