// Lighthouse on the built page, mobile profile, served by the project's own server, which compresses as static hosts do:
// `node tests/bench/lighthouse.mjs`, after `npm ci` in this folder, or `make bench`.
//
// Environment: CHROME names the browser; PAGE another folder than dist/.

import { mkdtempSync, rmSync } from 'node:fs';
import { spawn } from 'node:child_process';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import lighthouse from 'lighthouse';
import { serve } from '../setup/serve.mjs';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const PAGE = process.env.PAGE ?? join(ROOT, 'dist');
const PAGES = { 'start screen': '', 'worked example, results': '#/worked-example/results' };

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

const host = await serve(PAGE);
try {
  for (const [name, address] of Object.entries(PAGES)) await measure(name, host.url + address);
} finally {
  await host.close();
}
