// A browser for the timings: the built page, slowed down as a phone is.

import { createRequire } from 'node:module';
import { serve } from '../../setup/serve.mjs';

const { chromium } = createRequire(new URL('../../browser/package.json', import.meta.url))('playwright-core');
const PHONE = { viewport: { width: 360, height: 640 }, deviceScaleFactor: 3, hasTouch: true, isMobile: true };

/** The page in `folder` and a browser to open it in: `{ url, version, tab, close }`. */
export async function begin(folder) {
  const host = await serve(folder);
  const browser = await chromium.launch({ executablePath: process.env.CHROME ?? '/usr/bin/chromium', args: ['--disable-gpu', '--no-first-run', '--disable-background-networking', '--disable-component-update'] });
  /** A phone of its own, with nothing kept and nothing cached; its clock stands at `now`. */
  const phone = async () => {
    const context = await browser.newContext({ locale: 'de-DE', timezoneId: 'Europe/Berlin', ...PHONE });
    return context;
  };
  const close = async () => {
    await browser.close();
    await host.close();
  };
  return { url: host.url, version: browser.version(), phone, close };
}

/** A tab of `context` with its debugger. */
export async function open(context) {
  const page = await context.newPage();
  const debug = await context.newCDPSession(page);
  return { page, debug };
}

/** Slows the processor. */
export const slow = (debug, rate) => debug.send('Emulation.setCPUThrottlingRate', { rate });

/** Puts texts into the storage of the page's origin, without the program. */
export async function put(context, url, texts) {
  const page = await context.newPage();
  await page.route('**/quiet', (route) => route.fulfill({ contentType: 'text/html', body: '<title>quiet</title><link rel="icon" href="data:,">' }));
  await page.goto(`${url}quiet`);
  await page.evaluate((texts) => { for (const [key, text] of Object.entries(texts)) localStorage.setItem(key, text); }, texts);
  await page.close();
}

export const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
