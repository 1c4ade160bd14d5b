// What a second tab of a one-file page says: it looks, and can take the job over.

import type { Session } from "./session";

export function lockedBar(session: Session, root: HTMLElement) {
  const bar = document.createElement("div");
  bar.setAttribute("role", "status");
  bar.className = "lockedbar";
  const take = document.createElement("button");
  take.type = "button";
  take.textContent = "Change it here";
  take.onclick = () => void session.takeOver();
  bar.append("This layout is open in another tab, which changes it. ", take);
  const show = () => { bar.hidden = !session.locked; };
  session.on("file", show);
  show();
  root.before(bar);
}
