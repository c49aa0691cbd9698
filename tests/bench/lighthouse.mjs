// Lighthouse on the built page, mobile profile, served by the project's own server: `node tests/bench/lighthouse.mjs`, after
// `npm ci` in this folder, or `make bench`. It sends files as they lie (no compression, nothing cached); a static host
// commonly compresses, so each page is measured by brotli as well.
//
// Environment: CHROME names the browser; PAGE another folder than dist/.

import { createServer, request } from 'node:http';
import { mkdtempSync, rmSync } from 'node:fs';
import { spawn } from 'node:child_process';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, constants } from 'node:zlib';
import lighthouse from 'lighthouse';
import { serve } from '../setup/serve.mjs';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const PAGE = process.env.PAGE ?? join(ROOT, 'dist');
const PAGES = { 'start screen': '', 'worked example, results': '#/worked-example/results' };

/** A server before the server that compresses, as a static host does; what was asked for once is kept. */
async function compressing(url) {
  const kept = new Map();
  const server = createServer((asked, answer) => {
    const send = ({ status, headers, body }) => { answer.writeHead(status, headers); answer.end(body); };
    if (kept.has(asked.url)) return send(kept.get(asked.url));
    request(new URL(asked.url, url), (from) => {
      const parts = [];
      from.on('data', (part) => parts.push(part)).on('end', () => {
        const whole = Buffer.concat(parts);
        const packs = !/png/.test(from.headers['content-type'] ?? '');
        const body = packs ? brotliCompressSync(whole, { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } }) : whole;
        const headers = { 'content-type': from.headers['content-type'], ...(packs && { 'content-encoding': 'br' }), 'content-length': body.length };
        kept.set(asked.url, { status: from.statusCode, headers, body });
        send(kept.get(asked.url));
      });
    }).end();
  });
  await new Promise((ready) => { server.listen(0, '127.0.0.1', ready); });
  return { url: `http://127.0.0.1:${server.address().port}/`, close: () => new Promise((closed) => { server.close(closed); server.closeAllConnections(); }) };
}

/** Chromium with a debugging port, and what ends it. */
async function browser() {
  const folder = mkdtempSync(join(tmpdir(), 'comb-scale-lighthouse-'));
  const flags = ['--headless=new', '--no-sandbox', '--disable-gpu', '--remote-debugging-port=0', `--user-data-dir=${folder}`, 'about:blank'];
  const child = spawn(process.env.CHROME ?? '/usr/bin/chromium', flags, { stdio: ['ignore', 'ignore', 'pipe'] });
  const port = await new Promise((found, failed) => {
    let heard = '';
    child.stderr.on('data', (text) => {
      heard += text;
      const said = heard.match(/DevTools listening on ws:\/\/[^:]+:(\d+)/);
      if (said) found(Number(said[1]));
    });
    child.once('exit', () => failed(new Error(`the browser did not start: ${heard.slice(0, 300)}`)));
  });
  const gone = new Promise((ended) => { child.once('exit', ended); });
  return { port, close: async () => { child.kill(); await gone; rmSync(folder, { recursive: true, force: true }); } };
}

const FIGURES = { FCP: 'first-contentful-paint', LCP: 'largest-contentful-paint', TBT: 'total-blocking-time', CLS: 'cumulative-layout-shift' };

async function measure(name, url) {
  const { port, close } = await browser();
  try {
    const { lhr } = await lighthouse(url, { port, output: 'json', logLevel: 'error', onlyCategories: ['performance', 'accessibility', 'best-practices'] });
    const score = (category) => Math.round(100 * lhr.categories[category].score);
    const figures = Object.entries(FIGURES).map(([short, audit]) => `${short} ${lhr.audits[audit].displayValue}`);
    console.log(`${name}: accessibility ${score('accessibility')}, best practices ${score('best-practices')}, performance ${score('performance')}; ${figures.join(', ')}`);
    for (const category of ['accessibility', 'best-practices']) {
      for (const { id, weight } of lhr.categories[category].auditRefs) {
        const audit = lhr.audits[id];
        if (weight > 0 && audit.score !== null && audit.score < 1) console.log(`  ${category}, ${id}: ${audit.title}`);
      }
    }
  } finally {
    await close();
  }
}

const plain = await serve(PAGE);
const packed = await compressing(plain.url);
try {
  for (const [how, url] of [['as the files lie', plain.url], ['by brotli', packed.url]]) {
    for (const [name, address] of Object.entries(PAGES)) await measure(`${name}, ${how}`, url + address);
  }
} finally {
  await packed.close();
  await plain.close();
}
