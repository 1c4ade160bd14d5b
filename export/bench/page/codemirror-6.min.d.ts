// What the page uses of the bundled editor.
export interface DocText { readonly length: number; readonly lines: number; toString(): string; line(n: number): { from: number; to: number; number: number }; lineAt(at: number): { from: number; to: number; number: number } }
export interface Update { docChanged: boolean; focusChanged: boolean; transactions: { annotation(a: unknown): unknown; isUserEvent(e: string): boolean }[]; state: EditorState; startState: EditorState; changes: ChangeSet }
export interface ChangeSet { compose(next: ChangeSet): ChangeSet; map(over: ChangeSet, before?: boolean): ChangeSet }
export interface Extension { readonly extension?: unknown }
export class EditorState {
  static create(c: { doc: string; extensions: unknown[] }): EditorState;
  static readOnly: { of(on: boolean): Extension };
  static allowMultipleSelections: { of(on: boolean): Extension };
  static tabSize: { of(n: number): Extension };
  readonly doc: DocText;
  changes(c: { from: number; to: number; insert: string }): ChangeSet;
  update(t: { changes: ChangeSet }): { state: EditorState };
  readonly selection: { main: { head: number; from: number; to: number } };
}
export class EditorView {
  constructor(c: { state: EditorState; parent: Node; root?: Document | ShadowRoot });
  static theme(spec: Record<string, unknown>, o?: { dark?: boolean }): Extension;
  static updateListener: { of(f: (u: Update) => void): Extension };
  static lineWrapping: Extension;
  static contentAttributes: { of(a: Record<string, string>): Extension };
  static domEventHandlers(h: Record<string, (e: any, v: EditorView) => boolean | void>): Extension;
  static scrollIntoView(at: number, o?: { y?: 'start' | 'center' | 'nearest' }): unknown;
  readonly state: EditorState;
  readonly hasFocus: boolean;
  readonly dom: HTMLElement;
  dispatch(...t: unknown[]): void;
  focus(): void;
}
export const Annotation: { define<T>(): { of(v: T): unknown } };
export class Compartment { of(e: unknown): Extension; reconfigure(e: unknown): unknown }
export const keymap: { of(k: unknown[]): Extension };
export const defaultKeymap: unknown[];
export const searchKeymap: unknown[];
export const tags: Record<string, unknown>;
export const indentUnit: { of(s: string): Extension };
export const HighlightStyle: { define(rules: Record<string, unknown>[]): unknown };
export function lineNumbers(): Extension;
export function highlightActiveLine(): Extension;
export function highlightActiveLineGutter(): Extension;
export function drawSelection(): Extension;
export function yaml(): Extension;
export function syntaxHighlighting(s: unknown): Extension;
export function lintGutter(): Extension;
export function search(o?: { top?: boolean }): Extension;
export interface Diagnostic { from: number; to: number; severity: 'error' | 'warning' | 'info'; message: string }
export function setDiagnostics(s: EditorState, d: Diagnostic[]): unknown;
