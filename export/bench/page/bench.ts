// The page's one object: the state, what the engine answered, and who is to be drawn anew.
import { refusal, type Change, type Engine } from './engine.ts';
import { announce } from './live.ts';
import { listed, Model } from './model.ts';
import { refresh, refreshWhole } from './refresh.ts';
import type { Edited, Marking } from './protocol.ts';
import { initial, recall, remember, type State } from './state.ts';

/** What is asked of the whole layout: long, and worth nothing once the text is another. */
const ofTheWhole = ['findings all', 'findings before', 'check', 'run'];

export class Bench {
  state: State = initial();
  model = new Model();
  lastMs = 0;
  alphabets: string[] = []; // their names, once asked for
  droppedPhoto: File | null = null;
  private drawers: (() => void)[] = [];
  private asked = false;
  private checkTimer: ReturnType<typeof setTimeout> | undefined;
  private groups = 0;
  /** Set by the text. */
  goToLine: (line: number, focus: boolean) => void = () => {};
  /** Each puts what was typed somewhere into the text. */
  typers: (() => Promise<unknown>)[] = [];
  /** Set by the drawing. */
  zoomBy: (k: number) => void = () => {};
  /** Set by the page: puts the focus into a part of it. */
  focus: (where: 'field' | 'text' | 'drawing') => void = () => {};
  private refreshed: Promise<void> = Promise.resolve();

  constructor(readonly engine: Engine) {
    engine.on('text', e => this.textChanged(e.edited ?? undefined));
    engine.on('file', () => this.draw());
    engine.on('engine', e => { if (e !== 'ready') this.say(e === 'gone' ? 'the engine has ended: start maskloft bench again' : 'the engine was started anew'); this.draw(); });
  }

  get name(): string { return this.engine.name || 'layout.yaml'; }

  /** Resolves when the placements of the text as it stands are there. */
  async settled(): Promise<void> {
    for (let now: Promise<void> | null = null; now !== this.refreshed;) { now = this.refreshed; await now; }
  }

  /** Puts all that was typed and not yet taken into the text. */
  async flushTyping(): Promise<void> { for (const f of this.typers) await f(); }

  /** Whether a key is meant for a field or the text. */
  typing(e: KeyboardEvent): boolean {
    const t = e.composedPath()[0] as HTMLElement | undefined;
    return !!t && (t.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(t.tagName));
  }

  /** Registers a panel; it is drawn at the next frame and with every change. */
  panel(draw: () => void): void { this.drawers.push(draw); this.draw(); }

  /** Draws all panels once, at the next frame. */
  draw(): void {
    if (this.asked) return;
    this.asked = true;
    requestAnimationFrame(() => {
      this.asked = false;
      for (const d of this.drawers) d();
    });
  }

  set(part: Partial<State>): void {
    Object.assign(this.state, part);
    remember(this.name, this.state);
    this.draw();
  }

  say(text: string): void { this.state.say = text; announce(text); this.draw(); }

  marking(id: string): Marking | undefined { return this.model.marking(id); }

  /** The one marking that fields and handles are of. */
  get chosen(): Marking | undefined { return this.state.selected.length ? this.marking(this.state.selected[this.state.selected.length - 1]) : undefined; }

  locked(id: string): boolean { return this.state.locked.includes(id); }

  /** Makes changes that are one step of undo. What was refused is said and nothing is written. */
  async edit(changes: Change[], label: string, group?: string): Promise<Edited | null> {
    let last: Edited | null = null;
    const together = group ?? (changes.length > 1 ? `step ${++this.groups} ${Date.now()}` : undefined);
    this.touched = [];
    try {
      for (const c of changes) {
        this.holdText = c !== changes[changes.length - 1];
        last = await this.engine.edit(c, label, together ?? '');
      }
      return last;
    } catch (e) {
      const r = refusal(e);
      this.say(r.hint ? `${r.message}: ${r.hint}` : r.message);
      if (this.holdText) { this.holdText = false; this.textChanged(); }
      return null;
    }
  }
  private holdText = false;
  private touched: string[] = [];

  /** The text is another: everything that hangs on it is asked for anew. */
  private textChanged(e?: Partial<Edited>): void {
    const some = e?.touched && !e.all ? e.touched : null;
    if (this.holdText) { if (some) this.touched.push(...some); else this.touched.push('*'); return; }
    const all = !some || this.touched.includes('*') || !this.model.scene;
    const touched = all ? 'all' : [...new Set([...this.touched, ...some!])];
    this.touched = [];
    this.model.version++;
    this.draw();
    for (const slot of ofTheWhole) this.engine.cancel(slot); // what was of the text before stands in the way
    const start = performance.now();
    let placed = () => {};
    this.refreshed = new Promise(done => { placed = done; });
    void refresh(this.model, this.engine, touched, () => { this.model.version++; this.lastMs = performance.now() - start; placed(); this.draw(); }).then(() => {
      placed();
      this.tellFindings();
      clearTimeout(this.checkTimer);
      this.checkTimer = setTimeout(() => void refreshWhole(this.model, this.engine, () => { this.model.version++; this.draw(); }), touched === 'all' ? 50 : 1500);
    });
  }

  private tellFindings(): void {
    if (this.engine.problems.length) { announce(`line ${this.engine.problems[0].at?.line}: ${this.engine.problems[0].message}`, true); return; }
    for (const f of this.model.gone) announce(`1 gone: ${f.message}`);
    for (const { finding } of listed(this.model)) if (this.model.fresh.has(finding.key)) announce(`${finding.level}: ${finding.message}`, finding.level === 'stop');
  }

  /** Asks for everything of the text as it stands. */
  start(): void { if (this.engine.units === 'mm') this.state.unit = 'mm'; recall(this.name, this.state); this.textChanged(); }

  async undo(): Promise<void> { await this.engine.undo().catch(e => this.say(refusal(e).message)); }
  async redo(): Promise<void> { await this.engine.redo().catch(e => this.say(refusal(e).message)); }

  async save(): Promise<void> {
    try {
      await this.flushTyping();
      await this.engine.save();
      this.say(this.engine.engine === 'wasm' ? this.engine.savedInto ? `saved into ${this.engine.savedInto}` : `${this.name} is saved as a download` : `${this.name} is saved`);
    } catch (e) {
      const r = refusal(e);
      if (r.code === 'disk') this.set({ panel: 'diff' });
      this.say(r.hint ? `${r.message}: ${r.hint}` : r.message);
    }
  }

  select(ids: string[], side: State['side'] = this.state.side): void {
    if (ids.join() === this.state.selected.join() && side === this.state.side) return;
    this.set({ selected: ids, side });
  }
}
