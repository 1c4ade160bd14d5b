// The state of the page besides the text: what is looked at, selected and shown.
import type { Unit } from './length.ts';
import type { Look } from './project.ts';

export type Job = 'photograph' | 'layout' | 'check' | 'film' | 'place' | 'visit';
export const jobs: { id: Job; name: string }[] = [
  { id: 'photograph', name: 'Photograph' }, { id: 'layout', name: 'Lay out' }, { id: 'check', name: 'Check' },
  { id: 'film', name: 'Film' }, { id: 'place', name: 'Place' },
];
export const themes = ['light', 'dark', 'sunlight'] as const;
export type Theme = typeof themes[number];
export const parts = {
  grid: 'Stations and waterlines', frames: 'Frames and stringers', tapes: 'Tape edges', hardpoints: 'Hardpoints', films: 'Film edges and seams',
};
export type Shown = keyof typeof parts;
export type Views = 'sides' | 'wings';

export interface State {
  job: Job;
  unit: Unit;
  theme: Theme;
  selected: string[]; // ids of markings
  side: 'left' | 'right'; // on which the selection was made
  views: Views;
  looks: Partial<Record<Views, Look>>; // none: the whole aircraft
  narrowView: 0 | 1; // which of two views a narrow screen shows
  shown: Record<Shown, boolean>;
  step: number; // of steps of the unit
  snap: boolean;
  letters: boolean; // single letters are keys
  locked: string[];
  panel: null | 'add' | 'keys' | 'pack' | 'diff' | 'menu' | 'aircraft' | 'fields' | 'text'; // what lies over the drawing
  busy: string; // what the engine works on
  say: string; // the last thing to be told in the status bar
  awake: boolean;
}

const kept = ['unit', 'theme', 'shown', 'step', 'snap', 'letters', 'locked', 'views'] as const;

export function initial(): State {
  const state: State = {
    job: 'layout', unit: 'in', theme: 'light', selected: [], side: 'left', views: 'sides', looks: {}, narrowView: 0,
    shown: { grid: true, frames: true, tapes: true, hardpoints: true, films: false }, step: 1, snap: true, letters: true, locked: [],
    panel: null, busy: '', say: '', awake: false,
  };
  if (typeof matchMedia === 'function' && matchMedia('(prefers-color-scheme: dark)').matches) state.theme = 'dark';
  return state;
}

/** What of the state is kept from one visit to the next, by the name of the layout. */
export function remember(name: string, state: State): void {
  try { localStorage.setItem(`bench view ${name}`, JSON.stringify(Object.fromEntries(kept.map(k => [k, state[k]])))); } catch { /* the browser keeps nothing */ }
}

/** Reads what was kept; it is checked as a stranger's file would be. */
export function recall(name: string, state: State): void {
  try {
    const was = JSON.parse(localStorage.getItem(`bench view ${name}`) ?? '{}') as Record<string, unknown>;
    if (was.unit === 'in' || was.unit === 'mm') state.unit = was.unit;
    if (themes.includes(was.theme as Theme)) state.theme = was.theme as Theme;
    if (was.views === 'sides' || was.views === 'wings') state.views = was.views;
    if (typeof was.step === 'number' && was.step >= 0 && was.step < 4) state.step = was.step;
    for (const k of ['snap', 'letters'] as const) if (typeof was[k] === 'boolean') state[k] = was[k] as boolean;
    if (Array.isArray(was.locked)) state.locked = was.locked.filter((x): x is string => typeof x === 'string');
    if (was.shown && typeof was.shown === 'object') for (const k of Object.keys(parts) as Shown[]) {
      const on = (was.shown as Record<string, unknown>)[k];
      if (typeof on === 'boolean') state.shown[k] = on;
    }
  } catch { /* nothing kept, or not by us */ }
}
