// What a first visit fetches, in kB of brotli (quality 11; 1 kB = 1000 bytes): the files of the first screen, which the
// person waits for, and those that come behind it. `node first-load.mjs [FOLDER]`; exit code 1 where either is over its
// ceiling. A ceiling stands a little above what there is: it is lowered with it, and raised only for something a painter gains by.

import { readdirSync, readFileSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, constants } from 'node:zlib';
import { HEADERS } from './seal.mjs';

const BUDGET = 200;
const CEILINGS = { first: 120, all: 670 };

// Already compressed: a host sends these as they are.
const AS_IS = new Set(['.png', '.jpg', '.jpeg', '.webp', '.woff2', '.gz', '.br']);

/** Bytes on the wire for one file. */
function weigh(file) {
  const bytes = readFileSync(file);
  if (AS_IS.has(extname(file))) return bytes.length;
  const params = {
    [constants.BROTLI_PARAM_QUALITY]: 11,
    [constants.BROTLI_PARAM_LGWIN]: 24,
    [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
  };
  return brotliCompressSync(bytes, { params }).length;
}

/** The page itself, what it names, and what the scripts it names import: all that has to come before anything is there. */
function firstScreen(folder) {
  const found = new Set(['index.html']);
  for (const name of found) {
    if (!/\.(html|js)$/.test(name)) continue;
    const text = readFileSync(join(folder, name), 'utf8');
    const names = name.endsWith('.html') ? /(?:href=|src=|from |module_or_path: )["'](?:\.\/)?([\w.\/-]+)["']/g : /\bfrom\s*["']\.\/([\w.\/-]+)["']/g;
    for (const [, next] of text.matchAll(names)) found.add(next);
  }
  return found;
}

/** Every file of the page, the heaviest first: `{ name, raw, sent, first }`, bytes, and whether the first screen waits for it. */
export function weighed(folder) {
  const first = firstScreen(folder);
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    // What tells the host which headers to send is never fetched.
    .filter((entry) => entry.isFile() && !entry.name.startsWith('.') && entry.name !== HEADERS)
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name))
    .map((file) => ({ name: relative(folder, file).split(sep).join('/'), raw: readFileSync(file).length, sent: weigh(file) }))
    .sort((a, b) => b.sent - a.sent);
  const missing = [...first].filter((name) => !files.some((file) => file.name === name));
  if (missing.length > 0) throw new Error(`the page in ${folder} names files that are not there: ${missing.join(', ')}`);
  return files.map((file) => ({ ...file, first: first.has(file.name) }));
}

/** Bytes of all these files together. */
export const sum = (files) => files.reduce((all, { raw, sent }) => ({ raw: all.raw + raw, sent: all.sent + sent }), { raw: 0, sent: 0 });

function main(folder) {
  const kb = (bytes) => (bytes / 1000).toFixed(1).padStart(9);
  const line = ({ name, raw, sent }) => console.log(`${kb(sent)} ${kb(raw)}  ${name}`);
  const files = weighed(folder);
  const [before, behind] = [files.filter(({ first }) => first), files.filter(({ first }) => !first)];
  console.log('kB:  brotli       raw  the first screen');
  before.forEach(line);
  line({ ...sum(before), name: `in all; the budget is ${BUDGET} kB, the ceiling ${CEILINGS.first} kB` });
  console.log('                       behind it');
  behind.forEach(line);
  line({ ...sum(files), name: `first screen and rest; the ceiling is ${CEILINGS.all} kB` });
  const over = [[before, CEILINGS.first, 'The first screen'], [files, CEILINGS.all, 'The whole page']].filter(([list, most]) => sum(list).sent > most * 1000);
  for (const [, most, what] of over) console.error(`${what} is over ${most} kB.`);
  if (over.length > 0) process.exit(1);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) main(process.argv[2] ?? 'dist');
