// What carries messages to the engine and back.

import type { Answer, Error as EngineError, Request } from "./protocol";

export interface Carrier {
  /** native over the loopback address, or wasm in a worker of this page. */
  readonly kind: "native" | "wasm";
  /** Sends a request; `on` is called with each answer, the last of which has `done`. The
   * function that comes back cancels it. */
  send(q: Request, on: (a: Answer) => void): () => void;
}

/** Why there is no answer. `code` is one of protocol.go's, or "gone": no engine answers. */
export class AskError extends Error {
  constructor(readonly error: EngineError) {
    super(error.message);
    this.name = "AskError";
  }
  get code(): string {
    return this.error.code;
  }
}

/** The last answer to a request that no engine answers any more. */
export function gone(id: number, message: string): Answer {
  return { id, done: true, error: { code: "gone", message } };
}
