// What is done to what is selected: copy, delete, sides, lock.
import type { Bench } from './bench.ts';
import { deletion, duplicate, part, sideTo } from './changes.ts';
import type { Marking } from './protocol.ts';

const ids = (bench: Bench) => bench.model.markings.map(m => m.id);
const chosen = (bench: Bench): Marking[] => bench.state.selected.map(id => bench.marking(id)).filter((m): m is Marking => !!m);

export async function copySelected(bench: Bench): Promise<void> {
  const m = bench.chosen;
  if (!m) return;
  const { changes, id } = duplicate(m, ids(bench), bench.state.unit);
  if (await bench.edit(changes, `duplicate ${m.id}`)) { await bench.settled(); bench.select([id]); bench.say(`${id} stands beside ${m.id}`); }
}

export async function deleteSelected(bench: Bench): Promise<void> {
  const all = chosen(bench).filter(m => !bench.locked(m.id));
  if (!all.length) return;
  bench.select([]);
  if (await bench.edit(all.flatMap(deletion), `delete ${all.map(m => m.id).join(', ')}`)) bench.say(`${all.map(m => m.id).join(', ')} is deleted; undo brings it back`);
}

export async function sidesTo(bench: Bench, side: 'left' | 'right' | 'both'): Promise<void> {
  const all = chosen(bench).filter(m => m.side !== side && !bench.locked(m.id));
  if (all.length) await bench.edit(all.flatMap(m => sideTo(m, side)), `${all[0].id} on ${side === 'both' ? 'both sides' : `the ${side} side`}`);
}

/** One definition for both sides becomes one a side. */
export async function partSides(bench: Bench): Promise<void> {
  const m = bench.chosen;
  if (!m || m.side !== 'both') return;
  const { changes, id } = part(m, ids(bench));
  if (await bench.edit(changes, `part the sides of ${m.id}`)) bench.say(`${m.id} is left, ${id} is right`);
}

export function lock(bench: Bench): void {
  const now = bench.state.locked, all = bench.state.selected, on = all.every(id => now.includes(id));
  bench.set({ locked: on ? now.filter(id => !all.includes(id)) : [...new Set([...now, ...all])] });
}
