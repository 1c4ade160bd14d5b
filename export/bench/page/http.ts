// Messages over the loopback address: one POST a request, lines of JSON back.

import { AskError, gone, type Carrier } from "./carrier";
import type { Answer, Request } from "./protocol";

const HEADER = "Maskloft-Token";
const KEPT = "maskloft-token";

/** Enters with the ticket of the address, or with the token that this tab has already. */
export async function enter(): Promise<Carrier> {
  const ticket = location.hash.slice(1);
  if (ticket) {
    history.replaceState(null, "", location.pathname);
    const r = await post("/ticket", { ticket });
    if (r.ok) sessionStorage.setItem(KEPT, (await r.json()).token);
    else if (!sessionStorage.getItem(KEPT)) throw new AskError({ code: "refused", message: (await r.text()).trim() });
  }
  const token = sessionStorage.getItem(KEPT);
  if (!token) throw new AskError({ code: "refused", message: "open the address that the program prints: it lets this page in once" });
  return new Http(token);
}

function post(path: string, body: unknown, token?: string, signal?: AbortSignal): Promise<Response> {
  const headers: Record<string, string> = { "Content-Type": "application/json" };
  if (token) headers[HEADER] = token;
  return fetch(path, { method: "POST", headers, body: JSON.stringify(body), signal, credentials: "omit", cache: "no-store" });
}

class Http implements Carrier {
  readonly kind = "native";
  constructor(private readonly token: string) {}

  send(q: Request, on: (a: Answer) => void): () => void {
    const stop = new AbortController();
    let over = false;
    const say = (a: Answer) => {
      if (over) return;
      over = !!a.done;
      on(a);
    };
    (async () => {
      const r = await post("/ask", q, this.token, stop.signal);
      if (!r.ok || !r.body) return say(gone(q.id, (await r.text()).trim() || "the program does not answer"));
      const reader = r.body.pipeThrough(new TextDecoderStream()).getReader();
      let rest = "";
      for (;;) {
        const { value, done } = await reader.read();
        if (done) break;
        const lines = (rest + value).split("\n");
        rest = lines.pop()!;
        for (const line of lines) if (line) say(JSON.parse(line));
      }
      say(gone(q.id, "the answer broke off: is the program still running?"));
    })().catch(() => say(gone(q.id, "the program does not answer: is it still running?")));
    return () => {
      say({ id: q.id, done: true, error: { code: "cancelled", message: "cancelled" } });
      stop.abort();
    };
  }

  /** Another address to open in a tab, once. */
  async another(): Promise<string> {
    return (await (await post("/another", {}, this.token)).json()).address;
  }
}
