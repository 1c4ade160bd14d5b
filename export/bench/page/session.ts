// The open layout: its text, what can be taken back, the state of its file, and asks of
// the engine. One text is the truth; edits are made one after the other.

import { AskError, type Carrier } from "./carrier";
import type { Edited, Findings, Hello, Offer, Opened, Problem, Request, Saved, Splice, Told } from "./protocol";
import { VERSION } from "./protocol";
import { ChosenFile } from "./filehandle";
import { download } from "./store";
import { Text, fromBase64, spliceBetween } from "./text";

/** What changes the text: one of these. */
export type Change =
  | { path: string; value: string }
  | { path: string; yaml: string }
  | { remove: string }
  | { add: string; yaml: string }
  | { duplicate: string; as: string }
  | { splice: Splice };

export interface Step { step: number; n?: number; say: string }

export interface Options {
  /** A new ask of a slot cancels the older one. */
  slot?: string;
  onPart?: (part: string, body: unknown) => void;
  onStep?: (s: Step) => void;
}

type Events = {
  /** The text changed: by whom, and what it touched. */
  text: { edited: Edited | null; by: "me" | "other" | "open" };
  /** The state of the file changed. */
  file: string;
  /** The engine is there, or gone. */
  engine: "ready" | "gone" | "restarted";
};

export class Session {
  readonly tab = Math.random().toString(36).slice(2, 10);
  hello!: Hello;
  name = "";
  text = new Text("");
  hash = "";
  problems: Problem[] = [];
  units = "";
  undoLabels: string[] = [];
  redoLabels: string[] = [];
  file = "none";
  disk = "";
  draft: Opened["draft"];
  /** The text of the file as it was read or written last; null where it is not known. */
  base: string | null = null;
  /** This tab may look and not change: another tab has the job. */
  locked = false;
  /** Makes this tab the one that may change the job. */
  takeOver: () => Promise<void> = async () => {};

  /** The file that the last save went into; empty: it was a download. */
  savedInto = "";
  private readonly chosen = new ChosenFile();

  private carried = new Map<string, unknown>();
  private carriedHash = "";
  private id = 0;
  private slots = new Map<string, () => void>();
  private chain: Promise<unknown> = Promise.resolve();
  private listeners: { [K in keyof Events]: ((e: Events[K]) => void)[] } = { text: [], file: [], engine: [] };

  constructor(private carrier: Carrier) {}

  get engine(): "native" | "wasm" {
    return this.carrier.kind;
  }

  on<K extends keyof Events>(event: K, f: (e: Events[K]) => void): () => void {
    this.listeners[event].push(f);
    return () => {
      this.listeners[event] = this.listeners[event].filter((x) => x !== f) as typeof this.listeners[K];
    };
  }

  private emit<K extends keyof Events>(event: K, e: Events[K]) {
    for (const f of [...this.listeners[event]]) f(e);
  }

  /** Files that were dropped on a page without a folder, base64, by name. */
  dropped: Record<string, string> = {};

  /** One ask of the engine. Rejects with an AskError. */
  async ask<T>(ask: string, fields: Partial<Request> = {}, o: Options = {}): Promise<T> {
    const { body } = await this.answered<T>(ask, fields, o);
    const file = ask === "drawing" && (body as { file?: string }).file;
    if (file && this.engine === "wasm") this.dropped[file] = fields.data ?? "";
    return body;
  }

  /** The same with the hash of the text that the answer is of. */
  answered<T>(ask: string, fields: Partial<Request> = {}, o: Options = {}): Promise<{ of: string; body: T }> {
    if (o.slot) this.cancel(o.slot);
    if (this.carriedHash && this.carriedHash === this.hash) {
      const { marking = "", ...more } = fields;
      const body = this.carried.get(ask + " " + marking);
      if (body !== undefined && Object.keys(more).length === 0) return Promise.resolve({ of: this.hash, body: body as T });
    }
    return new Promise((resolve, reject) => {
      const q: Request = { v: VERSION, id: ++this.id, ask, tab: this.tab, of: this.hash, ...fields };
      const cancel = this.carrier.send(q, (a) => {
        if (a.say !== undefined && !a.done) o.onStep?.({ step: a.step ?? 0, n: a.n, say: a.say });
        else if (a.part && !a.done) o.onPart?.(a.part, a.body);
        if (!a.done) return;
        if (o.slot && this.slots.get(o.slot) === cancel) this.slots.delete(o.slot);
        if (a.error) {
          if (a.error.code === "gone") this.emit("engine", "gone");
          reject(new AskError(a.error));
        } else resolve({ of: a.of ?? "", body: a.body as T });
      });
      if (o.slot) this.slots.set(o.slot, cancel);
    });
  }

  /** Ends what is asked in a slot. */
  cancel(slot: string) {
    const end = this.slots.get(slot);
    this.slots.delete(slot);
    end?.();
  }

  /** Greets the engine and takes over the text; `with` opens one where no file stands behind. */
  async open(given?: { name: string; text: string; data?: string; disk?: string }): Promise<Opened> {
    this.hello = await this.ask<Hello>("hello");
    const o = await this.ask<Opened>("open", given ?? {});
    this.take(o);
    if (this.base === null && o.disk && this.engine === "native") {
      const d = await this.ask<{ disk: string; text: string }>("disk");
      if (d.disk === o.disk) this.base = d.text;
    }
    this.emit("engine", "ready");
    this.emit("text", { edited: null, by: "open" });
    return o;
  }

  /** Opens a text with answers that the page carries: they are taken until the text is
   * changed, and the engine opens it behind. */
  async openCarried(given: { name: string; text: string; disk: string }, answers: { ask: string; marking: string; body: unknown }[]): Promise<void> {
    for (const a of answers) this.carried.set(a.ask + " " + a.marking, a.body);
    const hello = this.carried.get("hello ") as Hello | undefined;
    const opened = this.carried.get("open ") as Opened | undefined;
    if (!hello || !opened) return void (await this.open(given));
    this.hello = hello;
    this.take(opened);
    this.carriedHash = opened.hash;
    const found = (this.carried.get("findings ") as Findings | undefined)?.findings;
    this.queue(() => this.ask<Opened>("open", { ...given, found }).then(() => this.emit("engine", "ready"))).catch(() => this.emit("engine", "gone"));
  }

  /** Pictures that the page carries, by name. */
  photos: Record<string, Uint8Array> = {};

  /** The bytes of a picture that stands beside the layout, or in the page. */
  async beside(name: string): Promise<Uint8Array> {
    if (this.photos[name]) return this.photos[name];
    return fromBase64((await this.ask<{ data: string }>("beside", { name })).data);
  }

  /** Says whether this tab may only look. */
  readOnly(locked: boolean) {
    this.locked = locked;
    this.emit("file", this.file);
  }

  private take(o: Opened) {
    this.name = o.name;
    this.text = new Text(o.text);
    this.hash = o.hash;
    this.problems = o.problems;
    this.units = o.units;
    this.undoLabels = o.undo;
    this.redoLabels = o.redo;
    this.disk = o.disk;
    this.draft = o.draft;
    this.base = o.hash === o.disk ? o.text : null;
    this.setFile(o.file === "none" && this.engine === "wasm" ? this.ownState() : o.file);
  }

  /** The state of the copy, where no file stands behind the page. */
  private ownState(): string {
    return this.hash === this.disk ? "saved" : "changed";
  }

  private setFile(file: string) {
    if (file === this.file) return;
    this.file = file;
    this.emit("file", file);
  }

  /** Listens to what the engine says by itself, until it is gone. */
  listen() {
    this.ask("told", {}, {
      onPart: (part, body) => {
        const t = body as Told;
        if (part === "text" && t.edited) void this.queue(() => this.apply(t.edited!, "other", t.file));
        else if (t.file) {
          if (t.disk) this.disk = t.disk;
          this.setFile(t.file);
        }
      },
    }).catch(() => {});
  }

  /** Makes one change. Edits in a row of one `group` are one step of undo. */
  edit(change: Change, label = "", group = ""): Promise<Edited> {
    return this.queue(() => this.changed("edit", { ...change, label, group }));
  }

  /** Writes what an editor holds when its turn comes: the splice between the text and it. */
  type(held: () => string, group = ""): Promise<Edited | null> {
    return this.queue(async () => {
      const splice = spliceBetween(this.text, new Text(held()));
      if (splice.from === splice.to && splice.insert === "") return null;
      return this.changed("edit", { splice, label: "typing", group });
    });
  }

  /** Takes an offer of a list of findings: looked at before it is written. */
  takeOffer(offer: Offer, list: string): Promise<Edited> {
    return this.queue(() => this.changed("take", { number: offer.number, list, label: offer.why || offer.path }));
  }

  undo(): Promise<Edited | null> {
    return this.turn("undo");
  }

  redo(): Promise<Edited | null> {
    return this.turn("redo");
  }

  private turn(ask: string): Promise<Edited | null> {
    return this.queue(() => this.changed(ask, {}).catch((e) => {
      if (e instanceof AskError && e.code === "missing") return null;
      throw e;
    }));
  }

  /** The file as it stands on the disk in the place of the text, one undo away. */
  takeTheirs(): Promise<Edited> {
    return this.queue(() => this.theirs());
  }

  private async theirs(): Promise<Edited> {
    const edited = await this.changed("disk", { to: "theirs" });
    this.disk = edited.hash; // the text is what the file holds
    this.base = this.text.toString();
    this.setFile("saved");
    return edited;
  }

  /** The file as it stands on the disk, and over it the text that it was merged to: two
   * steps of undo lead back to mine. `theirs` is what was looked at. */
  takeBoth(merged: string, theirs: string): Promise<Edited> {
    return this.queue(async () => {
      const edited = await this.theirs();
      if (this.base !== theirs) throw new AskError({ code: "disk", message: "the file was changed once more meanwhile: it stands here now, yours is one undo away" });
      const splice = spliceBetween(this.text, new Text(merged));
      return splice.from === splice.to && splice.insert === "" ? edited : this.changed("edit", { splice, label: "both: mine merged with the file" });
    });
  }

  /** Writes the file; with a name a new one beside it. Without a file behind the page
   * the text is offered as a download. */
  save(name?: string): Promise<Saved> {
    return this.queue(async () => {
      if (this.engine === "wasm") {
        const into = name ? "none" : await this.chosen.write(this.name, this.text.bytes);
        if (into === "cancelled") throw new AskError({ code: "cancelled", message: "nothing was saved" });
        if (into === "changed") {
          const was = this.chosen.name;
          this.chosen.forget();
          throw new AskError({ code: "refused", message: `${was} was changed by another program since it was written here; nothing was written`, hint: "save once more and choose another name, or the same one to put yours in its place" });
        }
        if (into === "none") download(name ?? this.name, this.text.bytes, "application/yaml");
        this.savedInto = into === "written" ? this.chosen.name : "";
        if (!name) this.disk = this.hash;
        this.setFile(this.ownState());
        return { disk: this.disk, first: "", file: this.file };
      }
      const before = this.file;
      if (!name) this.setFile("saving");
      try {
        const s = await this.ask<Saved>("save", name ? { name } : { disk: this.disk });
        this.disk = s.disk;
        if (!name) this.base = this.text.toString();
        this.setFile(s.file);
        return s;
      } catch (e) {
        this.setFile(e instanceof AskError && e.code === "disk" ? "changed-on-disk" : before);
        throw e;
      }
    });
  }

  private queue<T>(f: () => Promise<T>): Promise<T> {
    const next = this.chain.then(f, f);
    this.chain = next.catch(() => {});
    return next;
  }

  private async changed(ask: string, fields: Partial<Request>): Promise<Edited> {
    if (this.locked) throw new AskError({ code: "refused", message: "this layout is open in another tab, which changes it: look at it here, or take it over" });
    let e: Edited;
    try {
      e = await this.ask<Edited>(ask, fields);
    } catch (error) {
      if (error instanceof AskError && error.code === "stale") await this.reload();
      throw error;
    }
    await this.apply(e, "me");
    return e;
  }

  /** Applies a change that the engine made, and compares hashes. */
  private async apply(e: Edited, by: "me" | "other", file?: string) {
    if (e.hash === this.hash && by === "other") return;
    let text: Text | null = null;
    try {
      text = this.text.splice(e.splice);
    } catch {
      text = null;
    }
    if (!text || (await text.hash()) !== e.hash) return this.reload();
    this.text = text;
    this.hash = e.hash;
    this.problems = e.problems;
    this.undoLabels = e.undo;
    this.redoLabels = e.redo;
    this.draft = undefined;
    if (this.engine === "wasm") this.setFile(this.ownState());
    else if (this.file !== "none") this.setFile(file ?? (e.hash === this.disk ? "saved" : this.file === "saved" ? "changed" : this.file));
    this.emit("text", { edited: e, by });
  }

  /** Takes the engine's text where the page's is another one. */
  async reload() {
    this.take(await this.ask<Opened>("open"));
    this.emit("text", { edited: null, by: "open" });
  }

  /** After a worker died and was started anew: opens the text there once more. */
  async restarted(carrier: Carrier) {
    this.carrier = carrier;
    await this.ask<Opened>("open", { name: this.name, text: this.text.toString(), disk: this.disk });
    this.emit("engine", "restarted");
  }
}
