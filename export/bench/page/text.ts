// The text of a layout as the bytes that stand in its file. Splices count bytes of UTF-8,
// from 0; an editor counts UTF-16 units: `byteAt` and `unitAt` go from one to the other.

import type { Splice } from "./protocol";

const encoder = new TextEncoder();
const decoder = new TextDecoder("utf-8", { ignoreBOM: true });

export class Text {
  readonly bytes: Uint8Array;
  private said: string | undefined;

  constructor(from: string | Uint8Array) {
    this.bytes = typeof from === "string" ? encoder.encode(from) : from;
    if (typeof from === "string") this.said = from;
  }

  toString(): string {
    return (this.said ??= decoder.decode(this.bytes));
  }

  /** The changed text; this one stays as it is. */
  splice(s: Splice): Text {
    if (s.from < 0 || s.to < s.from || s.to > this.bytes.length) throw new RangeError("the change reaches outside the text");
    const insert = encoder.encode(s.insert);
    const out = new Uint8Array(this.bytes.length - (s.to - s.from) + insert.length);
    out.set(this.bytes.subarray(0, s.from));
    out.set(insert, s.from);
    out.set(this.bytes.subarray(s.to), s.from + insert.length);
    return new Text(out);
  }

  /** The splice that takes s back; this is the text that s is made for. */
  inverse(s: Splice): Splice {
    return { from: s.from, to: s.from + encoder.encode(s.insert).length, insert: decoder.decode(this.bytes.subarray(s.from, s.to)) };
  }

  /** The place, in bytes, of a place in UTF-16 units. */
  byteAt(unit: number): number {
    return encoder.encode(this.toString().slice(0, unit)).length;
  }

  /** The place, in UTF-16 units, of a place in bytes. */
  unitAt(byte: number): number {
    return decoder.decode(this.bytes.subarray(0, byte)).length;
  }

  /** The name of the text: the first 16 digits of its SHA-256. */
  async hash(): Promise<string> {
    const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", this.bytes as BufferSource));
    return Array.from(sum.subarray(0, 8), (b) => b.toString(16).padStart(2, "0")).join("");
  }
}

/** One splice that makes `now` out of `old`: what lies between their common ends. */
export function spliceBetween(old: Text, now: Text): Splice {
  const a = old.bytes, b = now.bytes, n = Math.min(a.length, b.length);
  const within = (t: Uint8Array, at: number) => at < t.length && (t[at] & 0xc0) === 0x80;
  let from = 0;
  while (from < n && a[from] === b[from]) from++;
  while (from > 0 && (within(a, from) || within(b, from))) from--;
  let end = 0;
  while (end < n - from && a[a.length - 1 - end] === b[b.length - 1 - end]) end++;
  while (end > 0 && within(a, a.length - end)) end--;
  return { from, to: a.length - end, insert: decoder.decode(b.subarray(from, b.length - end)) };
}

export function fromBase64(text: string): Uint8Array {
  const s = atob(text);
  const out = new Uint8Array(s.length);
  for (let i = 0; i < s.length; i++) out[i] = s.charCodeAt(i);
  return out;
}
