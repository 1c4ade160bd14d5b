// The text beside the drawing, with its mistakes at their lines. Drawing and text change one text.
import type { Bench } from './bench.ts';
import { Annotation, type ChangeSet, defaultKeymap, drawSelection, EditorState, EditorView, highlightActiveLine, HighlightStyle, indentUnit, keymap, lineNumbers, lintGutter, search, searchKeymap, setDiagnostics, syntaxHighlighting, tags, yaml, type Diagnostic } from './codemirror-6.min.js';
import { h, patch } from './dom.ts';
import { refusal } from './engine.ts';

const ours = Annotation.define<boolean>();

// tokens of the page's theme reach into the editor's own root by their names
const look = EditorView.theme({
  '&': { height: '100%', color: 'var(--ink)', backgroundColor: 'var(--sheet)', fontSize: '12px' },
  '&.cm-focused': { outline: 'none' },
  '.cm-scroller': { fontFamily: 'var(--mono)', lineHeight: '20px' },
  '.cm-content': { caretColor: 'var(--ink)' },
  '.cm-gutters': { color: 'var(--soft)', backgroundColor: 'var(--sheet)', border: 'none' },
  '.cm-activeLine, .cm-activeLineGutter': { backgroundColor: 'var(--hold)' },
  '.cm-cursor': { borderLeftColor: 'var(--ink)', borderLeftWidth: '2px' },
  '.cm-selectionBackground, &.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground': { backgroundColor: 'var(--select)' },
  '.cm-tooltip, .cm-panels': { backgroundColor: 'var(--sheet)', color: 'var(--ink)', border: '1px solid var(--edge)' },
  '.cm-diagnostic-error': { borderLeft: '4px solid var(--stop)' },
  '.cm-lintRange-error': { backgroundImage: 'none', textDecoration: 'underline wavy var(--stop)', textUnderlineOffset: '3px' },
  '.cm-lintPoint:after': { borderBottomColor: 'var(--stop)' },
});
const words = HighlightStyle.define([
  { tag: tags.comment, color: 'var(--soft)', fontStyle: 'italic' },
  { tag: [tags.propertyName, tags.definition as never], color: 'var(--accent)' },
  { tag: [tags.string, tags.content], color: 'var(--ink)' },
]);

export function editor(bench: Bench, root: HTMLElement): void {
  root.setAttribute('role', 'region');
  root.setAttribute('aria-label', 'Text');
  root.id = 'text';
  const head = h('div', { class: 'head' }), foot = h('div', { class: 'foot' }), place = h('div', { class: 'editor', 'data-keep': true });
  root.append(head, place, foot);
  // its styles are made by script: in a root of their own the page's policy lets them in
  const inner = place.attachShadow({ mode: 'open' });
  let timer: ReturnType<typeof setTimeout> | undefined, group = '', pending = false, groups = 0;
  let base: EditorState | null = null, mine: ChangeSet | null = null; // the text before what is typed and not sent, and that
  const send = async () => {
    clearTimeout(timer);
    if (!pending) return;
    await bench.engine.type(() => { pending = false; return view.state.doc.toString(); }, group).catch(e => bench.say(refusal(e).message));
  };
  const view = new EditorView({
    parent: inner, root: inner,
    state: EditorState.create({
      doc: bench.engine.text.toString(),
      extensions: [lineNumbers(), highlightActiveLine(), drawSelection(), lintGutter(), search({ top: true }), yaml(), syntaxHighlighting(words), look, indentUnit.of('  '), EditorState.tabSize.of(2),
        EditorView.lineWrapping, EditorView.contentAttributes.of({ 'aria-label': 'The text of the layout', spellcheck: 'false', tabindex: '0' }),
        keymap.of([
          { key: 'Mod-z', run: () => { void send().then(() => bench.undo()); return true; } }, { key: 'Mod-Shift-z', run: () => { void send().then(() => bench.redo()); return true; } },
          { key: 'Mod-y', run: () => { void send().then(() => bench.redo()); return true; } }, ...searchKeymap, ...defaultKeymap.filter(k => (k as { key?: string }).key !== 'Mod-Enter')]),
        EditorView.updateListener.of(u => {
          if (!u.docChanged || u.transactions.some(t => t.annotation(ours))) return;
          if (!pending) {
            const head = u.state.selection.main.head, before = u.state.doc.toString().slice(Math.max(0, head - 1), head);
            if (!group || /\s/.test(before)) group = `typing ${++groups} ${Date.now()}`; // a word is one step of undo
          }
          if (!pending || !mine) { base = u.startState; mine = u.changes; } else mine = mine.compose(u.changes);
          pending = true;
          clearTimeout(timer);
          timer = setTimeout(() => void send(), 150);
        }),
        EditorView.domEventHandlers({ blur: () => { void send(); group = ''; return false; } })],
    }),
  });

  const show = () => {
    const now = bench.engine.text.toString(), old = pending ? base! : view.state, was = old.doc.toString();
    if (now !== was) {
      let from = 0, end = 0;
      const least = Math.min(now.length, was.length);
      while (from < least && now[from] === was[from]) from++;
      while (end < least - from && now[now.length - 1 - end] === was[was.length - 1 - end]) end++;
      const theirs = old.changes({ from, to: was.length - end, insert: now.slice(from, now.length - end) });
      // what is typed meanwhile stays, over the text as it is now
      view.dispatch({ changes: pending ? theirs.map(mine!) : theirs, annotations: ours.of(true) });
      if (pending) { base = old.update({ changes: theirs }).state; mine = mine!.map(theirs, true); }
    }
    if (pending) return;
    const doc = view.state.doc;
    view.dispatch(setDiagnostics(view.state, bench.engine.problems.filter(p => p.at.line > 0 && (!p.at.file || p.at.file === bench.name)).map((p): Diagnostic => {
      const line = doc.line(Math.min(p.at.line, doc.lines)), from = Math.min(line.to, line.from + Math.max(0, p.at.column - 1));
      return { from, to: Math.max(from, Math.min(line.to, from + Math.max(1, p.excerpt && !p.excerpt.includes('\n') ? 1 : 1) + wordAt(now, from))), severity: 'error', message: p.hint ? `${p.message}: ${p.hint}` : p.message };
    })));
  };
  const wordAt = (text: string, at: number) => (/^[^\s,}\]]*/.exec(text.slice(at, at + 60))?.[0].length ?? 1) - 1;

  /** Brings the lines of a marking into sight. */
  const goTo = (line: number, focus: boolean) => {
    const at = view.state.doc.line(Math.max(1, Math.min(line, view.state.doc.lines))).from;
    view.dispatch({ selection: { anchor: at }, effects: EditorView.scrollIntoView(at, { y: focus ? 'center' : 'start' }) });
    if (focus) view.focus();
  };
  bench.goToLine = goTo;
  bench.typers.push(send);

  let selected = '';
  bench.engine.on('text', () => { show(); bench.draw(); });
  bench.panel(() => {
    const m = bench.chosen, { file, problems } = bench.engine;
    if (m && m.id !== selected && m.line && !view.hasFocus) goTo(m.line, false);
    selected = m?.id ?? '';
    patch(head, [h('b', {}, bench.name), problems.length ? h('span', { class: 'stop' }, problems.length === 1 ? '1 error' : `${problems.length} errors`) : h('span', { class: 'good' }, 'no errors')]);
    const differs = file === 'changed' || file === 'changed-on-disk';
    patch(foot, [h('span', { class: 'soft' }, differs ? 'the text differs from the saved file' : file === 'none' ? 'there is no file: save writes one' : file === 'saved' ? 'as it is saved' : file),
      differs ? h('button', { type: 'button', on: { click: () => bench.set({ panel: 'diff' }) } }, 'Show') : null]);
  });
  show();
}
