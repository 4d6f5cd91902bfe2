// The core's home: loads the Go core once and answers one request after the
// other. It knows nothing about books.
import "wasm_exec";

interface GoRuntime {
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}

// Workers have it; TypeScript's library of the page does not know it.
declare class FileReaderSync {
  readAsArrayBuffer(blob: Blob): ArrayBuffer;
}

/** A file that the core reads piece by piece. */
interface Stretches {
  size: number;
  read(from: number, to: number): Uint8Array;
}

interface CoreGlobals {
  Go: new () => GoRuntime;
  plumblineCall(fn: string, arg: string, lines: string, file: Stretches | null): string;
  plumblineReady(): void;
}

const globals = globalThis as unknown as CoreGlobals;

async function instance(imports: WebAssembly.Imports): Promise<WebAssembly.Instance> {
  const answer = await fetch(CORE_URL);
  if (!answer.ok) throw new Error(`core: ${answer.status}`);
  if (answer.headers.get("Content-Type") === "application/wasm") {
    return (await WebAssembly.instantiateStreaming(answer, imports)).instance;
  }
  return (await WebAssembly.instantiate(await answer.arrayBuffer(), imports)).instance;
}

async function start(): Promise<void> {
  const go = new globals.Go();
  globals.plumblineReady = () => postMessage({ ready: true });
  await go.run(await instance(go.importObject));
  throw new Error("the core ended");
}

// A worker may wait for a file, as a page may not, and the core cannot but.
function stretches(file: Blob): Stretches {
  const reader = new FileReaderSync();
  return { size: file.size, read: (from, to) => new Uint8Array(reader.readAsArrayBuffer(file.slice(from, to))) };
}

onmessage = (e: MessageEvent<{ id: number; fn: string; arg: string; lines: string; file?: Blob }>) => {
  const { id, fn, arg, lines, file } = e.data;
  try {
    postMessage({ id, answer: globals.plumblineCall(fn, arg, lines, file ? stretches(file) : null) });
  } catch (err) {
    postMessage({ id, answer: JSON.stringify({ bug: `${fn}: ${String(err)}` }) });
    postMessage({ died: String(err) });
  }
};

start().catch((err: unknown) => postMessage({ died: String(err) }));
