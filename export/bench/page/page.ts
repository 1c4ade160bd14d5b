// The page: its parts in order, and what each job shows.
import { acceptDrops } from './add.ts';
import { bar, status } from './bar.ts';
import { Bench } from './bench.ts';
import { check } from './check.ts';
import { h } from './dom.ts';
import { editor } from './editor.ts';
import { fields } from './fields.ts';
import { film } from './film.ts';
import { findings } from './findings.ts';
import { pageKeys } from './keys.ts';
import { list } from './list.ts';
import { liveRegions } from './live.ts';
import { cross } from './cross.ts';
import { panels } from './panels.ts';
import { photo } from './photo.ts';
import { place } from './place.ts';
import type { Session } from './session.ts';
import { wear } from './theme.ts';
import { views } from './views.ts';
import { visit } from './visit.ts';

/** Shows the layout of a session in root. */
export function start(session: Session, root: HTMLElement): void {
  const bench = new Bench(session);
  const skip = (to: string, name: string) => h('a', { href: `#${to}`, on: { click: (e: Event) => { e.preventDefault(); const at = document.getElementById(to); at?.setAttribute('tabindex', at.getAttribute('tabindex') ?? '-1'); at?.focus(); } } }, name);
  const part = (tag: 'header' | 'main' | 'aside' | 'footer' | 'section', name: string) => h(tag, { class: name });
  const top = part('header', 'top'), side = part('section', 'side'), main = part('main', 'main'), right = part('aside', 'right'), foot = part('footer', 'foot');
  right.setAttribute('aria-label', 'Fields');
  const drawing = h('div', { class: 'drawing' }), strip = h('section', { class: 'strip' }), hand = h('div', { class: 'cross' }), over = h('div', { class: 'over' });
  const fieldPart = h('div', { class: 'fields', id: 'fields' }), textPart = h('section', { class: 'text' });
  const jobs = h('div', { class: 'job' });
  main.append(drawing, hand, strip, jobs, over);
  right.append(h('button', { type: 'button', class: 'closer', on: { click: () => { bench.set({ panel: null }); bench.focus('drawing'); } } }, 'Close'), fieldPart, textPart);
  root.replaceChildren(h('div', { class: 'skips' }, skip('jobs', 'Jobs'), skip('markings', 'Markings'), skip('drawing', 'Drawing'), skip('fields', 'Fields'), skip('strip', 'Findings'), skip('text', 'Text')), top, side, main, right, foot, ...liveRegions());
  strip.id = 'strip';

  bench.focus = where => {
    if (where === 'drawing') document.getElementById('drawing')?.focus({ preventScroll: true });
    else if (where === 'field') { bench.set(innerWidth <= 1100 ? { panel: 'fields' } : {}); requestAnimationFrame(() => { const f = document.getElementById('field-fs') as HTMLInputElement | null; f?.focus(); f?.select(); }); }
    else { if (innerWidth <= 1100) bench.set({ panel: 'text' }); bench.goToLine(session.problems[0]?.at.line || bench.chosen?.line || 1, true); }
  };
  bar(bench, top);
  list(bench, side);
  views(bench, drawing);
  cross(bench, hand);
  findings(bench, strip);
  fields(bench, fieldPart);
  editor(bench, textPart);
  status(bench, foot);
  panels(bench, over);
  for (const [id, make] of Object.entries({ photograph: photo, check, film, place, visit })) {
    const at = h('div', { class: `jobpage ${id}` });
    jobs.append(at);
    make(bench, at);
  }
  pageKeys(bench);
  acceptDrops(bench);
  bench.panel(() => {
    wear(bench.state.theme);
    root.dataset.job = bench.state.job;
    root.dataset.panel = bench.state.panel ?? '';
    document.title = `${session.file === 'saved' ? '' : '* '}${bench.name}: maskloft bench`;
    for (const p of jobs.children as HTMLCollectionOf<HTMLElement>) p.hidden = !p.classList.contains(bench.state.job);
    jobs.hidden = bench.state.job === 'layout';
    drawing.hidden = hand.hidden = strip.hidden = bench.state.job !== 'layout';
  });
  window.addEventListener('beforeunload', () => { void bench.flushTyping(); });
  if (!session.text.toString().trim()) bench.state.job = 'visit';
  bench.start();
  void session.ask<{ alphabets: { id: string }[] }>('alphabets', { text: 'A' }).then(a => { bench.alphabets = a.alphabets.map(x => x.id); bench.draw(); }).catch(() => {});
}
