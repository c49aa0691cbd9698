// Forecasts in WASM under node, as ratios to the native build and to scipy's double exponential on the same panels
// (bounded, and unbounded by Levenberg-Marquardt: scipy_fit.py), all in the same run; and how they grow with readings and
// panels. `make bench` builds what this times. PYTHON names a Python that has scipy; without one those ratios are left out.

import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const TARGET = process.env.CARGO_TARGET_DIR ?? fileURLToPath(new URL('wasm/target', import.meta.url));
const SCIPY = fileURLToPath(new URL('scipy_fit.py', import.meta.url));
const SHOWN = 0;

/** The module's functions. The drawing library brings imports from the browser along; no forecast calls them. */
async function load() {
  const module = await WebAssembly.compile(readFileSync(`${TARGET}/wasm32-unknown-unknown/release/forecast_bench.wasm`));
  const imports = {};
  for (const { module: from, name } of WebAssembly.Module.imports(module)) {
    (imports[from] ??= {})[name] = () => {
      throw new Error(`${name} called`);
    };
  }
  return (await WebAssembly.instantiate(module, imports)).exports;
}

/** The best of `rounds` rounds of `times` calls each, ms a call: what a busy machine disturbs least. */
function best(call, rounds, times) {
  let least = Infinity;
  for (let round = 0; round < rounds; round += 1) {
    const start = performance.now();
    for (let k = 0; k < times; k += 1) call();
    least = Math.min(least, (performance.now() - start) / times);
  }
  return least;
}

/** scipy's fits on the same panels, ms; `undefined` and a word where there is no scipy. */
function scipy(native) {
  try {
    return JSON.parse(execFileSync(process.env.PYTHON ?? 'python3', [SCIPY], { input: native, encoding: 'utf8', stdio: ['pipe', 'pipe', 'pipe'] }));
  } catch (error) {
    console.log(`scipy is not available, so no ratio to it: ${String(error.stderr || error.message).trim().split('\n').pop()}`);
    return undefined;
  }
}

/** `[{ name, ms, native, bounded, unbounded }]` for one panel of 20 weigh-ins; the last two by scipy, where there is one. */
export async function forecasts() {
  const { prepare, run } = await load();
  const native = execFileSync(`${TARGET}/release/forecast-bench`, { encoding: 'utf8' });
  const fits = scipy(native);
  return native.trim().split('\n').map((line, i) => {
    const { t, moved, instant, mass, ms } = JSON.parse(line);
    if (prepare(t.length, moved, 0) !== t.length) throw new Error('not the same panel');
    const same = run(200, instant);
    // The last bit of exp and ln differs between builds.
    if (!(Math.abs(same - mass) < 1e-4)) throw new Error(`WASM says ${same} g, native ${mass} g`);
    const name = `${moved ? 'after' : 'before'} a move, ${instant ? 'instant' : 'shown'}`;
    return { name, ms: best(() => run(5, instant), 60, 1) / 5, native: ms, ...fits?.[i] };
  });
}

/** How the shown forecast grows: `{ readings, slips, panels }`, each `[[count, ms]]`. */
export async function growth() {
  const { prepare, run, slip } = await load();
  const timed = (n) => best(() => run(1, SHOWN), 20, 2);
  const readings = [10, 20, 50, 100, 200].map((n) => [n, (prepare(n, 0, 0), run(20, SHOWN), timed(n))]);
  const slips = [25, 50, 100, 200].map((n) => [n, (prepare(n, 1, 0), slip(), run(5, SHOWN), timed(n))]);
  const all = (count) => {
    let sum = 0;
    for (let variant = 0; variant < count; variant += 1) {
      prepare(20, 1, variant);
      sum += best(() => run(1, SHOWN), 10, 1);
    }
    return sum;
  };
  return { readings, slips, panels: [1, 10, 30].map((count) => [count, all(count)]) };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const { name, ms, native, bounded, unbounded } of await forecasts()) {
    const of = (kind, by) => (by ? `, ${(ms / by).toFixed(2)} of scipy's ${kind} fit (${by.toFixed(2)} ms)` : '');
    console.log(`${name}: WASM ${ms.toFixed(2)} ms, ${(ms / native).toFixed(2)} of native (${native.toFixed(2)} ms)${of('bounded', bounded)}${of('unbounded', unbounded)}`);
  }
  console.log(await growth());
}
