// The worker: unpacks the engine, starts it, and passes messages on.

declare const Go: new () => { argv: string[]; importObject: WebAssembly.Imports; run(i: WebAssembly.Instance): Promise<void> };

interface Engine {
  maskloftAsk(text: string): void;
  maskloftCancel(id: number): void;
  maskloftFile(name: string, bytes: Uint8Array): void;
  maskloftReady(): void;
  maskloftAnswer(text: string): void;
  maskloftTurn(call: () => void): void;
}

const engine = globalThis as unknown as Engine;
const port = self as unknown as { postMessage(m: unknown): void; onmessage: ((e: MessageEvent) => void) | null };

// a message of a channel, not a timer, which browsers stretch to 4 ms and more
const turns = new MessageChannel();
const calls: (() => void)[] = [];
turns.port1.onmessage = () => calls.shift()?.();
engine.maskloftTurn = (call) => {
  calls.push(call);
  turns.port2.postMessage(0);
};
engine.maskloftAnswer = (text) => port.postMessage({ answer: text });
engine.maskloftReady = () => port.postMessage({ ready: true });

port.onmessage = (e) => {
  const m = e.data;
  if (m.engine) void start(m.engine as Uint8Array);
  else if (m.file) engine.maskloftFile(m.file, m.bytes);
  else if (m.cancel !== undefined) engine.maskloftCancel(m.cancel);
  else engine.maskloftAsk(m.ask);
};

async function start(packed: Uint8Array) {
  try {
    const bytes = new Blob([packed as BlobPart]).stream().pipeThrough(new DecompressionStream("gzip"));
    const go = new Go();
    go.argv = ["maskloft", "bench"];
    const response = new Response(bytes, { headers: { "Content-Type": "application/wasm" } });
    const { instance } = await WebAssembly.instantiateStreaming(response, go.importObject);
    await go.run(instance);
    port.postMessage({ gone: "the engine ended" });
  } catch (error) {
    port.postMessage({ gone: error instanceof Error ? error.message : String(error) });
  }
}
