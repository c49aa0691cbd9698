// The last step of a build: `node seal.mjs FOLDER`, or `seal(folder)` from the tests.
//
// Puts the content-security policy into the page, with the hash of every script and style that stands in it by then, and writes
// the service worker with the list of the folder's files and their hashes, and `_headers`: what a host should send with every
// file, in the form that many static hosts read. Comments are for those who read the source, and
// are taken out, of what wasm-bindgen writes as well: a kilobyte of the first load. Doing it again changes nothing.

import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

const HERE = dirname(fileURLToPath(import.meta.url));
const WORKER = join(HERE, '..', '..', 'src', 'offline', 'worker.js');
const REPORT_STYLE = join(HERE, '..', '..', 'src', 'share', 'report', 'report.css');

const sha256 = (bytes) => createHash('sha256').update(bytes).digest('base64');
/** As much of a hash as tells files apart: 144 bits. */
const short = (hash) => hash.slice(0, 24);

/** What stands in the page itself between a tag and its end: scripts without an address, and styles. */
const INLINE = /(<(script|style)(?![^>]*\ssrc=)[^>]*>)([\s\S]*?)(<\/\2>)/g;

/** Hashes, as a policy names them, of the scripts or the styles (`tag`) that stand in the page itself. */
export function inline(html, tag) {
  return [...html.matchAll(INLINE)].filter(([, , of]) => of === tag).map(([, , , text]) => `'sha256-${sha256(text)}'`);
}

/** The policy in force: nothing but what came with the page, and nobody else to talk to. */
export function policyOf(html) {
  return [
    "default-src 'none'",
    // Without 'wasm-unsafe-eval' no WebAssembly may be compiled; it allows no other evaluation.
    ["script-src 'self' 'wasm-unsafe-eval'", ...inline(html, 'script')].join(' '),
    // The report on its way to the printer brings a style of its own, into a frame that has this policy too.
    [`style-src 'sha256-${sha256(`\n${readFileSync(REPORT_STYLE, 'utf8')}`)}'`, ...inline(html, 'style')].join(' '),
    "img-src 'self' data:",
    "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

/** What tells the host which headers to send. It is no file of the page: nobody fetches it, and many hosts do not serve it. */
export const HEADERS = '_headers';

/** The headers that should go with every file: the page's policy, with what a meta element cannot forbid, and the rest. */
export function headersOf(html) {
  return {
    'Content-Security-Policy': `${policyOf(html)}; frame-ancestors 'none'`,
    // The same for browsers that do not know frame-ancestors.
    'X-Frame-Options': 'DENY',
    'X-Content-Type-Options': 'nosniff',
    'Referrer-Policy': 'no-referrer',
    'Permissions-Policy': 'camera=(), geolocation=(), microphone=(), payment=(), usb=()',
    'Cross-Origin-Opener-Policy': 'same-origin',
    'Cross-Origin-Resource-Policy': 'same-origin',
    'Cache-Control': 'no-cache',
  };
}

/** The headers that a text of that form names for every file. */
export const headersIn = (text) => Object.fromEntries([...text.matchAll(/^ +([\w-]+): (.*)$/gm)].map(([, name, value]) => [name, value]));

const META = /\n? *<meta http-equiv="Content-Security-Policy"[^>]*>/;

function sealPage(file) {
  const html = readFileSync(file, 'utf8')
    .replace(META, '')
    .replace(/\s*<!--[\s\S]*?-->/g, '')
    // Styles one behind the other are one: each would have a hash of its own in the policy.
    .replace(/<\/style>\s*<style[^>]*>/g, '\n')
    .replace(INLINE, (all, begin, tag, text, end) => begin + lean(text) + end);
  const [charset] = html.match(/<meta charset="?utf-8"?\s*\/?>/i) ?? [];
  if (!charset) throw new Error(`${file} has no <meta charset> to put the policy behind`);
  const meta = `\n    <meta http-equiv="Content-Security-Policy" content="${policyOf(html)}">`;
  // A function, so that no $ in the text means anything.
  writeFileSync(file, html.replace(charset, () => charset + meta));
}

/** Every file of the page with the beginning of its hash; dot-files, the headers and the worker itself are no part of it. */
function filesOf(folder) {
  const files = {};
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath ?? entry.path, entry.name);
    const name = relative(folder, path).split(sep).join('/');
    if (entry.isFile() && !name.startsWith('.') && ![HEADERS, 'worker.js'].includes(name)) files[name] = short(sha256(readFileSync(path)));
  }
  return Object.fromEntries(Object.entries(files).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** A script or style without its comments, which stand on lines of their own, and without what sets its lines in. */
const lean = (text) => text.replace(/^\s*\/\*[\s\S]*?\*\/\s*\n/gm, '').replace(/^\s*\/\/.*\n/gm, '').replace(/^\s+/gm, '');

/** Seals the page in `folder`; gives its version. */
export function seal(folder) {
  for (const name of readdirSync(folder).filter((name) => /\.(js|css)$/.test(name))) {
    writeFileSync(join(folder, name), lean(readFileSync(join(folder, name), 'utf8')));
  }
  sealPage(join(folder, 'index.html'));
  const headers = Object.entries(headersOf(readFileSync(join(folder, 'index.html'), 'utf8')));
  writeFileSync(join(folder, HEADERS), `/*\n${headers.map(([name, value]) => `  ${name}: ${value}\n`).join('')}`);
  const files = filesOf(folder);
  const version = createHash('sha256').update(JSON.stringify(files)).digest('hex').slice(0, 12);
  const list = `const VERSION = '${version}', FILES = ${JSON.stringify(files)};\n`;
  writeFileSync(join(folder, 'worker.js'), list + lean(readFileSync(WORKER, 'utf8')));
  return version;
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  const [folder = 'dist'] = process.argv.slice(2);
  console.log(`sealed ${folder}: version ${seal(folder)}`);
}
