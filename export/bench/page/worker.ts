// Messages to the engine in a worker of this page. What is asked before it is ready waits.

import { gone, type Carrier } from "./carrier";
import type { Answer, Request } from "./protocol";

export interface Given {
  /** The script of the worker. */
  script: string;
  /** The engine, packed. */
  engine: Uint8Array;
  /** Files that the layout names. */
  files: Record<string, Uint8Array>;
}

export class InWorker implements Carrier {
  readonly kind = "wasm";
  private worker!: Worker;
  private ready = false;
  private waiting: unknown[] = [];
  private asked = new Map<number, (a: Answer) => void>();

  /** `died` is called when the worker ended by itself; a new one is then there already. */
  constructor(private readonly given: Given, private readonly died: () => void = () => {}) {
    this.begin();
  }

  private begin() {
    const url = URL.createObjectURL(new Blob([this.given.script], { type: "text/javascript" }));
    this.worker = new Worker(url);
    URL.revokeObjectURL(url);
    this.ready = false;
    this.worker.onmessage = (e) => this.heard(e.data);
    this.worker.onerror = (e) => this.over(e.message);
    this.worker.postMessage({ engine: this.given.engine });
  }

  private heard(m: { ready?: true; answer?: string; gone?: string }) {
    if (m.ready) {
      this.ready = true;
      for (const [name, bytes] of Object.entries(this.given.files)) this.worker.postMessage({ file: name, bytes });
      for (const w of this.waiting.splice(0)) this.worker.postMessage(w);
    } else if (m.answer) {
      const a: Answer = JSON.parse(m.answer);
      const on = this.asked.get(a.id);
      if (a.done) this.asked.delete(a.id);
      on?.(a);
    } else if (m.gone !== undefined) this.over(m.gone);
  }

  private over(why: string) {
    const open = [...this.asked];
    this.asked.clear();
    const had = this.ready;
    this.worker.terminate();
    this.waiting = [];
    for (const [id, on] of open) on(gone(id, "the engine ended: " + why));
    if (!had) return; // it cannot start here: once more would not help
    this.begin();
    this.died();
  }

  private post(m: unknown) {
    if (this.ready) this.worker.postMessage(m);
    else this.waiting.push(m);
  }

  /** Gives a file that the layout may name. */
  file(name: string, bytes: Uint8Array) {
    this.given.files[name] = bytes;
    if (this.ready) this.worker.postMessage({ file: name, bytes });
  }

  send(q: Request, on: (a: Answer) => void): () => void {
    this.asked.set(q.id, on);
    this.post({ ask: JSON.stringify(q) });
    return () => {
      if (!this.asked.delete(q.id)) return;
      this.post({ cancel: q.id });
      on({ id: q.id, done: true, error: { code: "cancelled", message: "cancelled" } });
    };
  }
}
