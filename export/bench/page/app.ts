// Where the page begins: finds the engine, opens the layout, starts the views.

import { enter } from "./http";
import { begin as carried, carries } from "./onefile";
import { start } from "./page";
import { Session } from "./session";

async function served(): Promise<Session> {
  const session = new Session(await enter());
  await session.open();
  session.listen();
  return session;
}

const root = document.getElementById("bench")!;
(carries() ? carried() : served()).then(
  (session) => start(session, root),
  (e) => {
    const p = document.createElement("p");
    p.setAttribute("role", "alert");
    p.textContent = e instanceof Error ? e.message : String(e);
    root.replaceChildren(p);
  },
);
