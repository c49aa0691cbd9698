// Forecasts in WASM under node, as ratios to the native build and to scipy's double exponential on the same panels
// (bounded, and unbounded by Levenberg-Marquardt: scipy_fit.py), all in the same run:
//
//   cd tests/bench/wasm
//   cargo build --release
//   cargo build --release --lib --target wasm32-unknown-unknown
//   PYTHON=venv/bin/python node ../wasm.mjs
//
// (`cargo +comb-scale-wasm` for the second build where rustup cannot supply the target.) CARGO_TARGET_DIR is honoured. Without a Python that has scipy the last two ratios are left out.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const target = process.env.CARGO_TARGET_DIR ?? fileURLToPath(new URL("wasm/target", import.meta.url));
const native = execFileSync(`${target}/release/forecast-bench`, { encoding: "utf8" });
const cases = native.trim().split("\n").map((line) => JSON.parse(line));

const bytes = readFileSync(`${target}/wasm32-unknown-unknown/release/forecast_bench.wasm`);
// The drawing library brings imports from the browser along; no forecast calls them.
const module = await WebAssembly.compile(bytes);
const imports = {};
for (const { module: from, name } of WebAssembly.Module.imports(module)) {
  (imports[from] ??= {})[name] = () => {
    throw new Error(`${name} called`);
  };
}
const instance = await WebAssembly.instantiate(module, imports);
const { prepare, run } = instance.exports;

let scipy = null;
try {
  const script = fileURLToPath(new URL("scipy_fit.py", import.meta.url));
  scipy = JSON.parse(execFileSync(process.env.PYTHON ?? "python3", [script], { input: native, encoding: "utf8" }));
} catch (error) {
  console.log(`scipy: not available (${String(error.message).split("\n")[0]})`);
}

cases.forEach((c, i) => {
  const n = prepare(c.t.length, c.moved, 0);
  if (n !== c.t.length) throw new Error("not the same panel");
  const mass = run(200, c.instant);
  // The last bit of exp and ln differs between builds.
  if (!(Math.abs(mass - c.mass) < 1e-4)) throw new Error(`WASM says ${mass} g, native ${c.mass} g`);
  let best = Infinity;
  for (let k = 0; k < 60; k++) {
    const start = performance.now();
    run(5, c.instant);
    best = Math.min(best, (performance.now() - start) / 5);
  }
  const name = `${c.moved ? "after" : "before"} a move, ${c.instant ? "instant" : "shown"}`;
  const of = (kind) => `${(best / scipy[i][kind]).toFixed(2)} of scipy's ${kind} fit (${scipy[i][kind].toFixed(2)} ms)`;
  const ratio = scipy ? `, ${of("bounded")}, ${of("unbounded")}` : "";
  console.log(`${name}: WASM ${best.toFixed(2)} ms, ${(best / c.ms).toFixed(2)} of native (${c.ms.toFixed(2)} ms)${ratio}`);
});
