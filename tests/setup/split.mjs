// Splits the built program into the file of the first screen and the file behind it; trunk runs this once its own files are
// made (Trunk.toml), and what it made of the whole program gives way to the parts.
//
// Which function lies in which file follows from the code alone: what is reached only through a function marked
// `#[wasm_split(…)]` (src/page/workshop.rs) comes with that part, everything else with the first.

import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const NAME = 'comb-scale';
const { TRUNK_STAGING_DIR: staging, TRUNK_PROFILE: profile } = process.env;

const run = (program, ...args) => execFileSync(program, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] });

function wholeProgram() {
  const { target_directory: target } = JSON.parse(run('cargo', 'metadata', '--format-version=1', '--no-deps', '--offline'));
  return join(target, 'wasm32-unknown-unknown', profile, `${NAME}.wasm`);
}

// The features named are those that rustc's wasm32 target turns on; without them wasm-opt refuses the file. The two options
// after them save 3 kB: nothing lies in the lowest kilobyte of memory, since the linker puts the stack there, which grows
// down and would have run over by then; and functions of up to four instructions are written out. Taken apart first and
// gone over twice, the program loses 2 kB more, and no speed. Functions that do alike things to other types compress better
// side by side, and accesses to memory without what is a mere hint to the engine: 7 kB of what is sent.
const OPTIMISE = [
  '--flatten', '--rereloop', '-Oz', '-Oz', '--enable-bulk-memory', '--enable-nontrapping-float-to-int', '--enable-sign-ext', '--enable-mutable-globals',
  '--enable-multivalue', '--enable-reference-types', '--low-memory-unused', '--always-inline-max-function-size=4',
  '--reorder-functions-by-name', '--dealign',
];

/** The text with every place of `what` replaced; one that is not there is a change in the tools, and must be seen. */
function replaced(text, what, by) {
  if (!text.includes(what)) throw new Error(`“${what}” is not where it is expected`);
  return text.replaceAll(what, by);
}

/**
 * The names by which program and script call each other, with a count in place of the hash that each carries: what tells them
 * apart need not be random, and random digits cannot be compressed (3 kB of the first screen). A count is as long as a hash, so
 * that the program's bytes stay where they are.
 */
function countedNames() {
  const counts = new Map();
  const counted = (all, before, hash) => {
    const key = before + hash;
    if (!counts.has(key)) counts.set(key, counts.size.toString(16).padStart(hash.length, '0'));
    return before + counts.get(key);
  };
  return (text) => text.replace(/(__wbg_\w+?_|__invoke__h)([0-9a-f]{16})(?![0-9a-f])/g, counted);
}

/**
 * Parts load from hosts as well that do not know what a .wasm file is, as the first file does; from the others while they come,
 * since a browser keeps only of such what it compiled.
 */
const loadedAnywhere = (link) => replaced(link, 'WebAssembly.instantiateStreaming(src, imports)', `src.then((file) =>
  file.headers.get('Content-Type')?.startsWith('application/wasm')
    ? WebAssembly.instantiateStreaming(file, imports)
    : file.arrayBuffer().then((bytes) => WebAssembly.instantiate(bytes, imports)))`);

function split(folder) {
  const parts = join(folder, 'parts');
  run('wasm-split-cli', wholeProgram(), parts, '--out-name', NAME);
  run('wasm-bindgen', '--keep-lld-exports', '--target', 'web', '--no-typescript', '--out-dir', folder, '--out-name', NAME, join(parts, `${NAME}.wasm`));
  const texts = {
    [`${NAME}.js`]: readFileSync(join(folder, `${NAME}.js`), 'utf8'),
    '__wasm_split.js': loadedAnywhere(readFileSync(join(parts, '__wasm_split.js'), 'utf8')),
  };
  const programs = { [`${NAME}_bg.wasm`]: join(folder, `${NAME}_bg.wasm`) };
  for (const file of readdirSync(parts)) if (/^(split|chunk)_.*\.wasm$/.test(file)) programs[file] = join(parts, file);
  for (const file of Object.values(programs)) if (profile === 'release') run('wasm-opt', ...OPTIMISE, file, '-o', file);
  const counted = countedNames();
  for (const name of Object.keys(texts)) texts[name] = counted(texts[name]);
  for (const file of Object.values(programs)) writeFileSync(file, Buffer.from(counted(readFileSync(file, 'latin1')), 'latin1'));
  return { texts, programs };
}

/** Addresses of the parts in a script: where it imports and fetches. What the program itself calls a module stays. */
const pointed = (text, names) => text.replace(/(from |URL\()(["'])\.\/([\w.-]+)\2/g, (all, before, quote, name) =>
  names[name] ? `${before}${quote}./${names[name]}${quote}` : all);

/** Asks for the smaller script beside the larger one, and for the file behind the first screen where an address wants it. */
const sentForEarly = (names) => `<link rel="modulepreload" href="./${names['__wasm_split.js']}">
<script>
if (location.hash.length > 1) document.head.append(Object.assign(document.createElement('link'),
  { rel: 'preload', as: 'fetch', crossOrigin: 'anonymous', href: './${names['split_workshop.wasm']}' }));
</script>
`;

/** Puts the parts into the page under names that change with what is in them, all of them at once, since they fit only together. */
function place({ texts, programs }) {
  const hash = createHash('sha256');
  for (const text of Object.values(texts)) hash.update(text);
  const bytes = Object.fromEntries(Object.entries(programs).map(([name, file]) => [name, readFileSync(file)]));
  for (const program of Object.values(bytes)) hash.update(program);
  const mark = hash.digest('hex').slice(0, 16);
  const names = {
    [`${NAME}.js`]: `${NAME}-${mark}.js`,
    [`${NAME}_bg.wasm`]: `${NAME}-${mark}_bg.wasm`,
    '__wasm_split.js': `parts-${mark}.js`,
  };
  for (const name of Object.keys(bytes)) names[name] ??= `${name.replace(/^split_|\.wasm$/g, '')}-${mark}.wasm`;

  const [old] = readdirSync(staging).map((name) => name.match(/^(comb-scale-[0-9a-f]+)\.js$/)?.[1]).filter(Boolean);
  for (const name of [`${old}.js`, `${old}_bg.wasm`]) rmSync(join(staging, name));
  const page = join(staging, 'index.html');
  const html = replaced(readFileSync(page, 'utf8'), old, `${NAME}-${mark}`);
  writeFileSync(page, replaced(html, '</head>', `${sentForEarly(names)}</head>`));
  for (const [name, text] of Object.entries(texts)) {
    writeFileSync(join(staging, names[name]), pointed(text, names));
  }
  for (const [name, program] of Object.entries(bytes)) writeFileSync(join(staging, names[name]), program);
}

const folder = mkdtempSync(join(tmpdir(), 'parts-'));
try {
  place(split(folder));
} finally {
  rmSync(folder, { recursive: true });
}
