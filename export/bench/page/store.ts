// What a page without a server keeps in the browser: a draft of each job. Every page that
// is opened from a folder shares this store, so names carry the job, and what is read back
// is checked like a stranger's file.

export interface Kept {
  text: string;
  /** As the engine gave it: the text with all that can be taken back. */
  data: string;
  disk: string;
  /** Files that were dropped on the page, base64, by name. */
  files?: Record<string, string>;
}

const STORE = "drafts";

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const r = indexedDB.open("maskloft-bench", 1);
    r.onupgradeneeded = () => r.result.createObjectStore(STORE);
    r.onsuccess = () => resolve(r.result);
    r.onerror = () => reject(r.error);
  });
}

async function within<T>(mode: IDBTransactionMode, f: (s: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const db = await open();
  try {
    return await new Promise<T>((resolve, reject) => {
      const r = f(db.transaction(STORE, mode).objectStore(STORE));
      r.onsuccess = () => resolve(r.result);
      r.onerror = () => reject(r.error);
    });
  } finally {
    db.close();
  }
}

/** The draft of a job; null where there is none, or the browser keeps nothing. */
export async function readDraft(job: string): Promise<Kept | null> {
  try {
    const k = (await within("readonly", (s) => s.get(job))) as Partial<Kept> | undefined;
    return k && typeof k.text === "string" && typeof k.data === "string" && typeof k.disk === "string" && k.text.length < 4 << 20 ? (k as Kept) : null;
  } catch {
    return null;
  }
}

/** Keeps a draft; false where the browser keeps nothing. */
export async function keepDraft(job: string, k: Kept): Promise<boolean> {
  try {
    await within("readwrite", (s) => s.put(k, job));
    return true;
  } catch {
    return false;
  }
}

/** Forgets a job here. */
export async function forget(job: string): Promise<void> {
  try {
    await within("readwrite", (s) => s.delete(job));
  } catch {
    // nothing was kept
  }
}

export interface Lock {
  /** This tab may change the job. */
  held: boolean;
  /** Makes this tab the one that may. */
  takeOver(): Promise<void>;
}

/** One tab changes a job at a time; `lost` is called when another one takes over. */
export async function lock(job: string, lost: () => void): Promise<Lock> {
  const name = "maskloft-bench-" + job;
  if (!navigator.locks) return { held: true, takeOver: async () => {} };
  const take = (options: LockOptions) =>
    new Promise<boolean>((resolve) => {
      navigator.locks
        .request(name, options, (got) => {
          resolve(got !== null);
          return got === null ? undefined : new Promise<void>(() => {}); // until the page ends
        })
        .catch(() => lost());
    });
  const l: Lock = {
    held: await take({ ifAvailable: true }),
    takeOver: async () => {
      l.held = await take({ steal: true });
    },
  };
  return l;
}

/** Offers bytes as a file to keep. */
export function download(name: string, bytes: Uint8Array | string, type = "application/octet-stream") {
  const url = URL.createObjectURL(new Blob([bytes as BlobPart], { type }));
  const a = document.createElement("a");
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
