// The views of the page.

import type { Session } from "./session";

/** Shows the layout of a session in root. */
export function start(session: Session, root: HTMLElement) {
  const area = document.createElement("pre");
  const show = () => { area.textContent = session.text.toString(); };
  session.on("text", show);
  show();
  root.append(area);
}
