// The page with all inside: reads what it carries, starts the engine behind, and opens
// the layout with the answers that were written into the page.

import { AskError } from "./carrier";
import { Session } from "./session";
import { keepDraft, lock, readDraft } from "./store";
import { fromBase64 } from "./text";
import { InWorker } from "./worker";

/** What `maskloft bench --one-file` writes into the page. */
interface Carried {
  name: string;
  text: string;
  hash: string;
  /** Files that the layout names, base64. */
  files: Record<string, string>;
  photos: Record<string, string>;
  /** Answers to the text as it is carried. */
  answers: { ask: string; marking: string; body: unknown }[];
  /** SHA-256 of the engine as it is packed. */
  engine: string;
}

/** Tells whether this page carries its engine. */
export const carries = () => document.getElementById("maskloft-engine") !== null;

const textOf = (id: string) => document.getElementById(id)!.textContent!;

/** The engine as it stands in the page: a byte a character of windows-1252, with "=" before
 * those that a page cannot hold. */
export function engineOf(text: string): Uint8Array {
  const high = new TextDecoder("windows-1252").decode(Uint8Array.from({ length: 32 }, (_, i) => 128 + i));
  const byte = new Map(Array.from(high, (c, i) => [c.charCodeAt(0), 128 + i]));
  const out = new Uint8Array(text.length);
  let n = 0;
  for (let i = 0; i < text.length; i++) {
    let c = text.charCodeAt(i);
    if (c > 255 || (c >= 128 && c < 160)) c = byte.get(c) ?? c;
    if (c === 61) {
      c = (text.charCodeAt(++i) - 64) & 255;
    }
    out[n++] = c;
  }
  return out.subarray(0, n);
}

export async function begin(): Promise<Session> {
  const carried: Carried = JSON.parse(textOf("maskloft-layout"));
  const place = document.getElementById("maskloft-engine")!;
  const engine = engineOf(place.textContent!);
  place.remove(); // nine megabytes that nobody reads again
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", engine as BufferSource));
  if (Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("") !== carried.engine)
    throw new AskError({ code: "fault", message: "this page was changed on its way here and its engine is broken: get the file once more, as it was written" });
  const files = Object.fromEntries(Object.entries(carried.files).map(([name, data]) => [name, fromBase64(data)]));
  const carrier: InWorker = new InWorker({ script: textOf("maskloft-worker"), engine, files }, () => void session.restarted(carrier));
  const session: Session = new Session(carrier);

  session.photos = Object.fromEntries(Object.entries(carried.photos).map(([name, data]) => [name, fromBase64(data)]));
  const job = carried.hash;
  const held = await lock(job, () => session.readOnly(true));
  session.takeOver = async () => {
    await held.takeOver();
    session.readOnly(false);
  };
  const kept = held.held ? await readDraft(job) : null;
  if (kept && kept.text !== carried.text) {
    for (const [name, data] of Object.entries(kept.files ?? {})) {
      session.dropped[name] = data;
      carrier.file(name, fromBase64(data));
    }
    await session.open({ name: carried.name, text: kept.text, data: kept.data, disk: kept.disk });
    session.draft = { text: kept.text, hash: session.hash, disk: kept.disk };
  } else {
    await session.openCarried({ name: carried.name, text: carried.text, disk: carried.hash }, carried.answers);
  }
  session.readOnly(!held.held);

  let timer = 0;
  const keep = async () => {
    const d = await session.ask<{ data: string; hash: string }>("draft");
    if (d.hash === session.hash) await keepDraft(job, { text: session.text.toString(), data: d.data ?? "", disk: session.disk, files: session.dropped });
  };
  session.on("text", ({ edited }) => {
    if (!edited || session.locked) return;
    clearTimeout(timer);
    timer = setTimeout(() => void keep().catch(() => {}), 300) as unknown as number;
  });
  return session;
}
