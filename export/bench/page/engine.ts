// What the page asks of the engine, and what it makes of a refusal.
import type { Change as Bare, Session } from './session.ts';

export type Engine = Session;
export type Change = Bare;

/** An error as the engine sends it. */
export interface Refusal { code: string; message: string; hint?: string; at?: { file: string; line: number; column: number } }

/** What an ask was refused with, in words. */
export function refusal(e: unknown): Refusal {
  const inner = (e as { error?: Refusal } | null)?.error;
  return inner?.message ? inner : { code: 'fault', message: e instanceof Error ? e.message : String(e) };
}
