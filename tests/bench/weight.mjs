// What the program is made of: kB of code by crate, and of our own crate by room, from the name section of the program as
// the compiler leaves it: `node weight.mjs [FILE]`. Before wasm-opt, which takes the names out and a tenth of the code with
// them: the shares are what counts. A generic function counts for the crate that its name begins with.

import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const BUILT = fileURLToPath(new URL('../../target/wasm32-unknown-unknown/release/comb-scale.wasm', import.meta.url));
const OURS = 'comb_scale';
const [IMPORTS, CODE, DATA] = [2, 10, 11];
/** Least share of a line of its own, kB. */
const LEAST = 3;

/** Reads the numbers and texts of the binary format (WebAssembly core specification, chapter 5). */
class Reader {
  constructor(bytes, at = 0) {
    Object.assign(this, { bytes, at });
  }

  number() {
    let [value, shift, byte] = [0, 0, 0];
    do {
      byte = this.bytes[this.at++];
      value += (byte & 127) * 2 ** shift;
      shift += 7;
    } while (byte & 128);
    return value;
  }

  text() {
    const length = this.number();
    this.at += length;
    return this.bytes.toString('utf8', this.at - length, this.at);
  }
}

/** Sizes of functions by name, and of the data: `{ functions: [[name, bytes]], data }`. */
export function read(bytes) {
  const reader = new Reader(bytes, 8);
  const [sizes, names] = [[], new Map()];
  let [imported, data] = [0, 0];
  while (reader.at < bytes.length) {
    const id = bytes[reader.at++];
    const length = reader.number();
    const end = reader.at + length;
    if (id === IMPORTS) imported = importedFunctions(reader);
    if (id === CODE) {
      for (let count = reader.number(); count > 0; count -= 1) {
        const size = reader.number();
        sizes.push(size);
        reader.at += size;
      }
    }
    if (id === DATA) data = length;
    if (id === 0 && reader.text() === 'name') readNames(reader, end, names);
    reader.at = end;
  }
  return { functions: sizes.map((size, i) => [names.get(imported + i) ?? '', size]), data };
}

function importedFunctions(reader) {
  let functions = 0;
  for (let count = reader.number(); count > 0; count -= 1) {
    reader.text();
    reader.text();
    const kind = reader.bytes[reader.at++];
    if (kind === 0) {
      functions += 1;
      reader.number();
    } else {
      // Tables have a type before their limits, globals one and whether they change; no other kind is imported here.
      if (kind === 1) reader.at += 1;
      if (kind === 3) reader.at += 2;
      else for (let limits = 1 + (reader.bytes[reader.at++] & 1); limits > 0; limits -= 1) reader.number();
    }
  }
  return functions;
}

function readNames(reader, end, names) {
  while (reader.at < end) {
    const part = reader.bytes[reader.at++];
    const after = reader.number() + reader.at;
    if (part === 1) for (let count = reader.number(); count > 0; count -= 1) names.set(reader.number(), reader.text());
    reader.at = after;
  }
}

const SIGNS = { LT: '<', GT: '>', RF: '&', BP: '*', C: ',', LP: '(', RP: ')' };

/** A compiler's name as a path: of its older form all of it, of the newer one the crate. */
export function path(name) {
  const newer = /C(?:s[0-9A-Za-z]*_)?(\d+)_?/.exec(name.startsWith('_R') ? name : '');
  if (newer) return `${name.slice(newer.index + newer[0].length, newer.index + newer[0].length + Number(newer[1]))}::`;
  if (!name.startsWith('_ZN')) return name;
  const parts = [];
  for (let at = 3; at < name.length && name[at] !== 'E'; ) {
    const [digits] = /^\d+/.exec(name.slice(at)) ?? [];
    if (!digits) break;
    parts.push(name.slice(at + digits.length, at + digits.length + Number(digits)));
    at += digits.length + Number(digits);
  }
  const plain = parts.join('::').replaceAll('..', '::').replace(/\$(\w+?)\$/g, (whole, sign) => SIGNS[sign] ?? (/^u[0-9a-f]+$/.test(sign) ? String.fromCodePoint(parseInt(sign.slice(1), 16)) : whole));
  return plain.replace(/^_</, '<');
}

/** The crate a path begins with, and within ours the room: `comb_scale::page::plan`. */
function owner(path) {
  const [, crate = 'without a name'] = /(?<![\w:])([a-z]\w*)::/.exec(path) ?? [];
  if (crate !== OURS) return crate;
  const [, room = '', folder = ''] = /comb_scale::([a-z]\w*)(?:::([a-z]\w*)::)?/.exec(path) ?? [];
  return `${OURS}::${room}${folder && `::${folder}`}`;
}

/** kB by owner, the largest first. */
export function weights({ functions, data }) {
  const sums = new Map([['data (texts and tables)', data]]);
  for (const [name, size] of functions) {
    const of = owner(path(name));
    sums.set(of, (sums.get(of) ?? 0) + size);
  }
  return [...sums].map(([of, bytes]) => [of, bytes / 1000]).sort((a, b) => b[1] - a[1]);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const all = weights(read(readFileSync(process.argv[2] ?? BUILT)));
  const sum = (list) => list.reduce((total, [, kb]) => total + kb, 0);
  const line = (kb, of) => console.log(`${kb.toFixed(1).padStart(9)}  ${of}`);
  const print = (title, list) => {
    console.log(title);
    for (const [of, kb] of list.filter(([, kb]) => kb >= LEAST)) line(kb, of);
    line(sum(list.filter(([, kb]) => kb < LEAST)), `under ${LEAST} kB each`);
    line(sum(list), 'in all');
  };
  const ours = all.filter(([of]) => of.startsWith(OURS));
  print('crates, kB before wasm-opt', [[OURS, sum(ours)], ...all.filter(([of]) => !of.startsWith(OURS))].sort((a, b) => b[1] - a[1]));
  print('our rooms, kB before wasm-opt', ours);
}
