// Where the page begins: finds the engine, opens the layout, starts the views.

import { enter } from "./http";
import { lockedBar } from "./lockedbar";
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
  (session) => {
    Object.assign(globalThis, { maskloftSession: session }); // for the console, and for tests
    start(session, root);
    lockedBar(session, root);
  },
  (e) => {
    const p = document.createElement("p");
    p.setAttribute("role", "alert");
    p.textContent = e instanceof Error ? e.message : String(e);
    root.replaceChildren(p);
  },
);
