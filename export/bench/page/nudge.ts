// Nudges by keys and by the cross of a tablet: those within 0.8 s are one step of undo.
import type { Bench } from './bench.ts';
import { moveBy, movable, turnTo } from './changes.ts';
import type { Change } from './engine.ts';
import { near, spoken, steps } from './length.ts';
import { announce } from './live.ts';
import { grab, previewAt, sightOf, standing } from './move.ts';
import { axesOf } from './skin.ts';

let group = '', last = 0, count = 0, rest: ReturnType<typeof setTimeout> | undefined, chain: Promise<unknown> = Promise.resolve();

/** The group that steps in a row share, so that they are one step of undo. */
function groupOf(bench: Bench): string {
  const now = Date.now(), key = bench.state.selected.join();
  if (now - last > 800 || !group.endsWith(key)) group = `nudge ${++count} ${now} ${key}`;
  last = now;
  return group;
}

/** The step of arrows, in inches; with Shift 1 in or 10 mm. */
export const stepOf = (bench: Bench, shift: boolean): number =>
  shift ? (bench.state.unit === 'mm' ? 10 / 25.4 : 1) : steps[bench.state.unit][Math.min(bench.state.step, steps[bench.state.unit].length - 1)];

/** Moves what is selected: across and up as the view shows it, in steps. */
export function nudge(bench: Bench, right: number, up: number, shift = false): void {
  const far = stepOf(bench, shift), plan = bench.state.views === 'wings';
  const aft = right * far * (!plan && bench.state.side === 'right' ? -1 : 1);
  const g = groupOf(bench);
  chain = chain.then(async () => {
    const changes: Change[] = [];
    for (const id of bench.state.selected) {
      const m = bench.marking(id);
      if (!m || !movable(m) || bench.locked(id)) continue;
      changes.push(...moveBy(m, aft, up * far, bench.state.unit));
    }
    if (!changes.length) { bench.say(bench.state.selected.length ? 'this marking cannot be moved: it is locked, or brings its own place' : 'nothing is selected'); return; }
    const m = bench.chosen!;
    await bench.edit(changes, `nudge ${m.id}`, g);
    await bench.settled();
    clearTimeout(rest);
    rest = setTimeout(() => tell(bench, up !== 0), 400);
  }).catch(() => {});
}

/** After a rest: where it stands now, and what it clears. */
function tell(bench: Bench, rose: boolean): void {
  const m = bench.chosen;
  if (!m) return;
  const unit = bench.state.unit, place = rose ? m.held === 'bl' ? `buttock line ${spoken(m.bl, unit)}` : `waterline ${spoken(m.wl, unit)}` : `station ${spoken(m.fs, unit)}`;
  const p = m.placed.find(q => q.side === bench.state.side) ?? m.placed[0], g = p && grab(bench.model, m, p);
  const st = g ? standing(bench.model, previewAt(g, p.anchor[0], p.anchor[axesOf[sightOf(p)].height])) : null;
  announce(st ? `${place}; ${near(st.near.distance, unit)} ${unit === 'in' ? 'inch' : 'millimetres'} to the ${st.obstacle.id}` : place);
}

/** Turns what is selected by degrees. */
export function turnBy(bench: Bench, degrees: number): void {
  const g = groupOf(bench);
  chain = chain.then(async () => {
    const changes = bench.state.selected.map(id => bench.marking(id)).filter(m => m && movable(m) && !bench.locked(m.id)).flatMap(m => turnTo(m!, m!.angle + degrees));
    if (changes.length) await bench.edit(changes, 'turn', g);
    await bench.settled();
  }).catch(() => {});
}

/** Changes the step of nudges. */
export function changeStep(bench: Bench, by: number): void {
  const all = steps[bench.state.unit], step = Math.max(0, Math.min(all.length - 1, bench.state.step + by));
  bench.set({ step });
  bench.say(`step ${near(all[step], bench.state.unit, 64)} ${bench.state.unit}`);
}
