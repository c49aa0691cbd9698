// A small static server for the built page: `node serve.mjs FOLDER [HOST [PORT]]`, or `serve(...)` from the tests.
// Only what a static host does: files by name, the right type, the headers that the build asks for (`_headers`), compressed for
// those who take it, nothing cached. A
// browser that was here before keeps the page, and offers a rebuild as a newer version.

import { createServer } from 'node:http';
import { readFile, stat } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { networkInterfaces } from 'node:os';
import { extname, join, normalize, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { brotliCompress, constants, gzip } from 'node:zlib';
import { HEADERS, headersIn } from './seal.mjs';

const TYPES = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
};

/** What hosts compress as they go (5), not what they may have lying compressed (11): nobody waits for it here. */
const QUALITY = 5;

/** Compressed before anything else asks for it again; by file, state of the file, and way. */
const compressed = new Map();
const ways = {
  br: (body, quality) => promisify(brotliCompress)(body, { params: { [constants.BROTLI_PARAM_QUALITY]: quality, [constants.BROTLI_PARAM_SIZE_HINT]: body.length } }),
  gzip: (body) => promisify(gzip)(body),
};

/** The file as it goes over the wire: `{ body, encoding }`, without an encoding where none is taken or none helps. */
async function packed(file, accepted, quality) {
  const body = await readFile(file);
  const encoding = Object.keys(ways).find((way) => new RegExp(`\\b${way}\\b`).test(accepted));
  if (!encoding || body.length < 500 || ['.png', '.woff2', '.ico'].includes(extname(file))) return { body };
  const { mtimeMs, size } = await stat(file);
  const key = [file, mtimeMs, size, encoding, quality].join('\n');
  if (!compressed.has(key)) compressed.set(key, ways[encoding](body, quality));
  return { body: await compressed.get(key), encoding };
}

/**
 * Serves `folder`. `port` 0 takes a free one; `base` puts the page in a subfolder, as a static host may; `quality` is that
 * of brotli; `first(request, response)` may answer instead, and gives whether it did.
 * Resolves to `{ url, close }` once it answers.
 */
export async function serve(folder, { host = '127.0.0.1', port = 0, base = '/', quality = QUALITY, first = () => false } = {}) {
  const root = resolve(folder);
  const server = createServer(async (request, response) => {
    if (await first(request, response)) return;
    // Read each time: a test may seal the folder anew while it is served.
    const asked = headersIn(await readFile(join(root, HEADERS), 'utf8').catch(() => ''));
    const answer = (status, headers, body) => {
      response.writeHead(status, { 'Cache-Control': 'no-cache', 'X-Content-Type-Options': 'nosniff', ...asked, ...headers });
      response.end(request.method === 'HEAD' ? undefined : body);
    };
    if (request.method !== 'GET' && request.method !== 'HEAD') return answer(405, { Allow: 'GET, HEAD' }, '');
    try {
      const path = decodeURIComponent(request.url.split(/[?#]/)[0]);
      if (!path.startsWith(base)) return answer(404, { 'Content-Type': TYPES['.txt'] }, 'no such file');
      const file = normalize(join(root, path.slice(base.length) || 'index.html'));
      if (!file.startsWith(root + sep) || file === join(root, HEADERS)) return answer(404, { 'Content-Type': TYPES['.txt'] }, 'no such file');
      const { body, encoding } = await packed(file, request.headers['accept-encoding'] ?? '', quality);
      const coded = encoding ? { 'Content-Encoding': encoding, Vary: 'Accept-Encoding' } : {};
      answer(200, { 'Content-Type': TYPES[extname(file)] ?? 'application/octet-stream', ...coded }, body);
    } catch {
      answer(404, { 'Content-Type': TYPES['.txt'] }, 'no such file');
    }
  });
  await new Promise((ready, failed) => {
    server.once('error', failed);
    server.listen(port, host, ready);
  });
  const close = () =>
    new Promise((closed) => {
      server.close(closed);
      server.closeAllConnections();
    });
  return { url: `http://${host}:${server.address().port}${base}`, close };
}

async function main([folder = 'dist', host = '127.0.0.1', port = '8080']) {
  if (!existsSync(join(folder, 'index.html'))) throw new Error(`no page in ${folder}: build it first`);
  const everywhere = host === '0.0.0.0' || host === '::';
  const { url } = await serve(folder, { host, port: Number(port) });
  console.log(`Comb & Scale is at ${everywhere ? `http://127.0.0.1:${port}/` : url}`);
  if (everywhere) {
    const outside = Object.values(networkInterfaces())
      .flat()
      .filter((address) => address.family === 'IPv4' && !address.internal);
    for (const { address } of outside) console.log(`  from a phone on the same network: http://${address}:${port}/`);
  }
  if (everywhere || !['127.0.0.1', 'localhost', '::1'].includes(host)) {
    console.log('  Over the network this is plain http, and there the browser leaves out offline use, sharing and wake');
    console.log('  lock: they need https, or localhost. The page says what is off.');
  }
  console.log('Ctrl-C stops it.');
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  main(process.argv.slice(2)).catch((error) => {
    const port = process.argv[4] ?? '8080';
    console.error(
      error.code === 'EADDRINUSE'
        ? `Port ${port} is in use. Stop what uses it, or choose another: make run PORT=8081`
        : `The page cannot be served: ${error.message}`,
    );
    process.exit(1);
  });
}
