// What a built page weighs.

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, constants } from 'node:zlib';

/** `{ wasm, sent, all }`: the program raw and by brotli, and every file by brotli, kB. */
export function firstLoad(folder) {
  const sent = (bytes) => brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 24 } }).length / 1000;
  const files = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isFile() && !entry.name.startsWith('.'));
  const read = files.map(({ name }) => ({ name, bytes: readFileSync(join(folder, name)) }));
  const programs = read.filter(({ name }) => name.endsWith('.wasm'));
  const sum = (list, of) => list.reduce((total, { bytes }) => total + of(bytes), 0);
  return { wasm: sum(programs, (bytes) => bytes.length / 1000), sent: sum(programs, sent), all: sum(read, sent) };
}
