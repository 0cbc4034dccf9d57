/** Where the engine's files are, as `python3 -m tests.engine` left them; it writes this file. */

export const HOME = "/vendor/pyodide-314.0.7/";
export const STDLIB = "/engine/bcd531098527/stdlib.zip";
export const PACKAGES = "/engine/97bcf3d84fb8/packages.zip";
export const INTERPRETER = "/engine/d61c63a51563/pyodide.asm.wasm";
export const SCRIPT = "/engine/110ed541697c/pyodide.mjs"; // the interpreter's own, and Pyodide's loader
/** Pyodide's own list of packages, without any: what is needed is in PACKAGES. */
export const LOCK = {"info": {"abi_version": "2026_0", "arch": "wasm32", "platform": "emscripten_5_0_3", "python": "3.14.2"}, "packages": {}};
