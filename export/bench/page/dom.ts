// Nodes from functions: a panel is drawn anew from the state, and what differs is put in.

type Child = Node | string | number | null | undefined | false | Child[];
type Handler = (event: any) => void;
export interface Props { on?: Record<string, Handler>; [name: string]: unknown }

const handlersOf = new WeakMap<Element, Record<string, Handler>>();
const heard = new WeakMap<Element, Set<string>>();
const drawing = 'http://www.w3.org/2000/svg';

/** An element. Attributes that are null, undefined or false are left out; `on` holds listeners. */
export const h = <K extends keyof HTMLElementTagNameMap>(tag: K, props: Props = {}, ...children: Child[]): HTMLElementTagNameMap[K] =>
  fill(document.createElement(tag), props, children);

/** An element of a drawing. */
export const s = (tag: string, props: Props = {}, ...children: Child[]): SVGElement =>
  fill(document.createElementNS(drawing, tag) as SVGElement, props, children);

function fill<E extends Element>(e: E, props: Props, children: Child[]): E {
  for (const [name, value] of Object.entries(props)) {
    if (name === 'on') listen(e, value as Record<string, Handler>);
    else if (value !== null && value !== undefined && value !== false) e.setAttribute(name, value === true ? '' : String(value));
  }
  append(e, children);
  if ('value' in props && e instanceof HTMLSelectElement) e.value = String(props.value);
  return e;
}

function append(e: Element, children: Child[]): void {
  for (const c of children) {
    if (Array.isArray(c)) append(e, c);
    else if (c !== null && c !== undefined && c !== false) e.append(c instanceof Node ? c : String(c));
  }
}

/** Listeners are looked up when an event comes, so that a patch only exchanges the table. */
function listen(e: Element, handlers: Record<string, Handler>): void {
  handlersOf.set(e, handlers);
  const known = heard.get(e) ?? new Set();
  heard.set(e, known);
  for (const name of Object.keys(handlers)) {
    if (known.has(name)) continue;
    known.add(name);
    e.addEventListener(name, event => handlersOf.get(e)?.[name]?.(event));
  }
}

/**
 * Makes the children of `into` those of the list, keeping every node that can stay, with
 * its focus and what is being typed. A node with `data-keep` is left alone once it is there.
 */
export function patch(into: Element, next: Child[]): void {
  const list: Node[] = [];
  const gather = (children: Child[]) => {
    for (const c of children) {
      if (Array.isArray(c)) gather(c);
      else if (c !== null && c !== undefined && c !== false) list.push(c instanceof Node ? c : document.createTextNode(String(c)));
    }
  };
  gather(next);
  patchNodes(into, list);
}

function patchNodes(into: Element, next: Node[]): void {
  const wanted = new Set(next.map(keyOf).filter(Boolean));
  let at = into.firstChild;
  next.forEach((node, i) => {
    let old = at, away = 0, ahead = 1;
    while (old && !alike(old, node)) { old = old.nextSibling; away++; }
    if (at && old && away) {
      // either what lies between is gone, so that the old node stays where it is with its
      // focus; or this node is new, or moved here by its name, and the one here is of a later
      while (i + ahead < next.length && !alike(at, next[i + ahead])) ahead++;
      if (away <= ahead || i + ahead === next.length) {
        let stays: ChildNode = old;
        for (let n = old.previousSibling, last = false; n && !last;) {
          const before: ChildNode | null = n.previousSibling;
          last = n === at;
          if (wanted.has(keyOf(n))) stays = n; else n.remove();
          n = before;
        }
        at = stays;
      } else if (!keyOf(node)) old = null;
    }
    if (!old) { into.insertBefore(node, at); return; }
    if (old === at) at = at.nextSibling; else into.insertBefore(old, at);
    same(old, node);
  });
  while (at) { const gone: ChildNode = at; at = at.nextSibling; gone.remove(); }
}

const keyOf = (n: Node): string => n instanceof Element ? n.getAttribute('data-key') ?? '' : '';

function alike(a: Node, b: Node): boolean {
  if (a.nodeType !== b.nodeType || a.nodeName !== b.nodeName) return false;
  return keyOf(a) === keyOf(b);
}

function same(old: Node, next: Node): void {
  if (old === next) return;
  if (!(old instanceof Element) || !(next instanceof Element)) {
    if (old.nodeValue !== next.nodeValue) old.nodeValue = next.nodeValue;
    return;
  }
  const keep = old.hasAttribute('data-keep');
  for (const a of [...old.attributes]) if (!next.hasAttribute(a.name) && a.name !== 'open') old.removeAttribute(a.name);
  for (const a of [...next.attributes]) if (old.getAttribute(a.name) !== a.value) old.setAttribute(a.name, a.value);
  const handlers = handlersOf.get(next);
  if (handlers) listen(old, handlers); else handlersOf.delete(old);
  if (keep) return;
  patchNodes(old, [...next.childNodes]);
  if (old instanceof HTMLInputElement && next instanceof HTMLInputElement) {
    if (old.type === 'checkbox' || old.type === 'radio') old.checked = next.hasAttribute('checked');
    else if (old.type !== 'file' && !typed.has(old)) settle(old, next.getAttribute('value') ?? '');
  }
  if (old instanceof HTMLTextAreaElement && next instanceof HTMLTextAreaElement && !typed.has(old) && old.value !== next.value) old.value = next.value;
  if (old instanceof HTMLSelectElement && next instanceof HTMLSelectElement) {
    const value = next.getAttribute('value') ?? next.value;
    if (old.value !== value) old.value = value;
  }
}

// A field is the typist's from the first key until it is left, taken by Enter, or given up
// by Escape: until then no answer of the engine is written into it.
const typed = new WeakSet<EventTarget>();
if (typeof document !== 'undefined') {
  document.addEventListener('input', e => { if (e.target) typed.add(e.target); }, true);
  document.addEventListener('focusout', e => { if (e.target) typed.delete(e.target); }, true);
  document.addEventListener('keydown', e => { if (e.target && (e.key === 'Enter' || e.key === 'Escape')) typed.delete(e.target); }, true);
}

/** Writes into a field what is no longer typed. Where all of it was selected, all of it is again. */
export function settle(input: HTMLInputElement, text: string): void {
  typed.delete(input);
  if (input.value === text) return;
  const all = document.activeElement === input && input.value !== '' && input.selectionStart === 0 && input.selectionEnd === input.value.length;
  input.value = text;
  if (all) input.select();
}
