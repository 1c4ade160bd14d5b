// Sentences for a screen reader: polite, or at once for what stops the work.

let polite: HTMLElement | null = null, assertive: HTMLElement | null = null;

/** The two regions, to be put into the page once. */
export function liveRegions(): HTMLElement[] {
  const make = (how: string) => {
    const e = document.createElement('div');
    e.className = 'unseen';
    e.setAttribute('aria-live', how);
    e.setAttribute('role', how === 'assertive' ? 'alert' : 'status');
    return e;
  };
  polite = make('polite');
  assertive = make('assertive');
  return [polite, assertive];
}

/** Says a sentence; the same one again is said again. */
export function announce(sentence: string, now = false): void {
  const at = now ? assertive : polite;
  if (!at || !sentence) return;
  const p = document.createElement('p');
  p.textContent = sentence;
  at.append(p);
  while (at.children.length > 6) at.firstChild?.remove();
}
