// Where the page begins: finds the engine, opens the layout, starts the views.

import { enter } from "./http";
import { start } from "./page";
import { Session } from "./session";

async function begin(root: HTMLElement) {
  const session = new Session(await enter());
  await session.open();
  session.listen();
  start(session, root);
}

const root = document.getElementById("bench")!;
begin(root).catch((e) => {
  const p = document.createElement("p");
  p.setAttribute("role", "alert");
  p.textContent = e instanceof Error ? e.message : String(e);
  root.replaceChildren(p);
});
