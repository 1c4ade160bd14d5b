// Writing into a file of the visitor's choice, where the browser lets a page do so.

/** What a browser gives for a file that was chosen; see the File System standard of the WHATWG. */
interface Handle {
  name: string;
  getFile(): Promise<Blob>;
  createWritable(): Promise<{ write(data: Uint8Array): Promise<void>; close(): Promise<void>; abort(): Promise<void> }>;
}
type Picker = (o: { suggestedName: string; types: { description: string; accept: Record<string, string[]> }[] }) => Promise<Handle>;

export type Written = 'written' | 'cancelled' | 'changed' | 'none';

/** One file that is written again and again, once it was chosen. */
export class ChosenFile {
  private handle: Handle | null = null;
  private last: string | null = null; // what was written last

  get name(): string { return this.handle?.name ?? ''; }

  /**
   * Writes; the first time the browser asks where. `changed`: another program wrote there
   * since, and nothing was done. `none`: pages may not write here.
   */
  async write(name: string, bytes: Uint8Array): Promise<Written> {
    const pick = (globalThis as unknown as { showSaveFilePicker?: Picker }).showSaveFilePicker;
    if (!pick) return 'none';
    try {
      this.handle ??= await pick({ suggestedName: name, types: [{ description: 'Layout', accept: { 'application/yaml': ['.yaml', '.yml'] } }] });
    } catch (e) {
      return (e as Error).name === 'AbortError' ? 'cancelled' : 'none';
    }
    if (this.last !== null && (await this.read()) !== this.last) return 'changed';
    const out = await this.handle.createWritable();
    try {
      await out.write(bytes);
      await out.close();
    } catch (e) {
      await out.abort().catch(() => {});
      throw e;
    }
    this.last = new TextDecoder().decode(bytes);
    return 'written';
  }

  /** What stands there now; null where it is gone. */
  private async read(): Promise<string | null> {
    try { return await (await this.handle!.getFile()).text(); } catch { return null; }
  }

  /** Lets go of the file: the next time the browser asks anew. */
  forget(): void { this.handle = null; this.last = null; }
}
