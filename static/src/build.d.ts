// Names that cmd/build fills in, and modules that it resolves.

/** Address of the core, hashed. */
declare const CORE_URL: string;
/** Address of the core's worker, hashed. */
declare const WORKER_URL: string;
/** Address of the icon sprite, hashed. */
declare const ICONS_URL: string;

/** The Go toolchain's own wasm_exec.js; sets globalThis.Go. */
declare module "wasm_exec";
declare module "*.css";
