// Keys: those of the drawing while it has focus, and those of the whole page.
import type { Bench } from './bench.ts';
import { changeStep, nudge, turnBy } from './nudge.ts';
import { copySelected, deleteSelected, sidesTo } from './deeds.ts';
import { nextFinding, takeCurrent } from './findings.ts';
import { jobs } from './state.ts';

export const table: [string, string][] = [
  ['1 to 5', 'job'], ['Tab, Shift+Tab', 'next marking in the view'], ['arrows, with Shift', 'nudge by the step, by 1 in or 10 mm'], [', and .', 'smaller, larger step'],
  ['[ and ], with Shift', 'turn 1 deg, 15 deg'], ['- = 0', 'zoom out, in, whole'], ['Ctrl or Command held', 'no snap while dragging'], ['G', 'go to a station and a height'],
  ['F', 'fields and drawing'], ['T', 'text at this marking'], ['H, Shift+H', 'next finding, take its hint'], ['L, R, B', 'left, right, both sides'],
  ['Ctrl+D, Delete', 'duplicate, delete'], ['Ctrl+Z, Ctrl+Shift+Z', 'undo, redo'], ['Ctrl+S', 'save'], ['Ctrl+Enter', 'write the pack'], ['Escape', 'let go'], ['?', 'this list'],
];

/** Keys of the drawing. */
export function drawingKeys(bench: Bench, e: KeyboardEvent): void {
  if (e.ctrlKey || e.metaKey || e.altKey) return;
  const { state, model } = bench;
  const done = () => { e.preventDefault(); e.stopPropagation(); };
  const placed = model.markings.filter(m => m.placed.length);
  switch (e.key) {
    case 'ArrowLeft': done(); return nudge(bench, -1, 0, e.shiftKey);
    case 'ArrowRight': done(); return nudge(bench, 1, 0, e.shiftKey);
    case 'ArrowUp': done(); return nudge(bench, 0, 1, e.shiftKey);
    case 'ArrowDown': done(); return nudge(bench, 0, -1, e.shiftKey);
    case 'Tab': {
      const at = placed.findIndex(m => m.id === bench.chosen?.id), next = at + (e.shiftKey ? -1 : 1);
      if (at < 0 && e.shiftKey || next < 0 || next >= placed.length) return; // leaves the drawing
      done();
      const m = placed[next];
      return bench.select([m.id], m.placed.some(p => p.side === state.side) ? state.side : m.placed[0].side as 'left' | 'right');
    }
    case 'Escape': done(); return bench.select([]);
    case 'Delete': case 'Backspace': done(); return void deleteSelected(bench);
  }
  if (!state.letters) return;
  switch (e.key) {
    case ',': done(); return changeStep(bench, -1);
    case '.': done(); return changeStep(bench, 1);
    case '[': done(); return turnBy(bench, -1);
    case ']': done(); return turnBy(bench, 1);
    case '{': done(); return turnBy(bench, -15);
    case '}': done(); return turnBy(bench, 15);
    case '-': done(); return bench.zoomBy(1 / 1.3);
    case '=': case '+': done(); return bench.zoomBy(1.3);
    case '0': done(); return bench.set({ looks: { ...state.looks, [state.views]: undefined } });
    case 'l': case 'L': done(); return void sidesTo(bench, 'left');
    case 'r': case 'R': done(); return void sidesTo(bench, 'right');
    case 'b': case 'B': done(); return void sidesTo(bench, 'both');
    case 'f': case 'F': done(); return bench.focus('field');
    case 'g': case 'G': done(); return bench.focus('field');
    case 't': case 'T': done(); return bench.focus('text');
    case 'h': done(); return nextFinding(bench);
    case 'H': done(); return void takeCurrent(bench);
    case '?': done(); return bench.set({ panel: state.panel === 'keys' ? null : 'keys' });
  }
  const job = jobs[Number(e.key) - 1];
  if (job) { done(); bench.set({ job: job.id }); }
}

/** Keys of the whole page. */
export function pageKeys(bench: Bench): void {
  window.addEventListener('keydown', e => {
    const mod = e.ctrlKey || e.metaKey, key = e.key.toLowerCase();
    if (mod && key === 's') { e.preventDefault(); void bench.save(); }
    else if (mod && key === 'z' && !bench.typing(e)) { e.preventDefault(); void (e.shiftKey ? bench.redo() : bench.undo()); }
    else if (mod && key === 'y' && !bench.typing(e)) { e.preventDefault(); void bench.redo(); }
    else if (mod && key === 'd' && !bench.typing(e)) { e.preventDefault(); void copySelected(bench); }
    else if (mod && e.key === 'Enter') { e.preventDefault(); bench.set({ panel: 'pack' }); }
    else if (e.key === 'Escape' && bench.state.panel && !e.defaultPrevented) { e.preventDefault(); bench.set({ panel: null }); bench.focus('drawing'); }
  });
}
