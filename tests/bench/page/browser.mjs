// A browser for the timings: the built page on a phone's screen, slowed down as a phone is.

import { createRequire } from 'node:module';
import { serve } from '../../setup/serve.mjs';

const { chromium } = createRequire(new URL('../../browser/package.json', import.meta.url))('playwright-core');
const PHONE = { viewport: { width: 360, height: 640 }, deviceScaleFactor: 3, hasTouch: true, isMobile: true };
const FLAGS = ['--disable-gpu', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];

/** "Fast 4G" as Chrome's developer tools have it: 9 Mbit/s down and 1.5 up, 60 ms, each as it comes out of the air. */
const FAST_4G = {
  offline: false,
  downloadThroughput: ((9 * 1_000_000) / 8) * 0.9,
  uploadThroughput: ((1.5 * 1_000_000) / 8) * 0.9,
  latency: 60 * 2.75,
};

/** Serves the page in `folder` with the server's `options`, and starts a browser. */
export async function begin(folder, options = {}) {
  const host = await serve(folder, options);
  const browser = await chromium.launch({ executablePath: process.env.CHROME ?? '/usr/bin/chromium', args: FLAGS });
  const close = async () => {
    await browser.close();
    await host.close();
  };
  /** A phone of its own, with nothing kept and nothing cached. */
  const phone = () => browser.newContext({ locale: 'en-GB', timezoneId: 'Europe/Berlin', ...PHONE });
  return { url: host.url, version: browser.version(), phone, close };
}

/** A tab of a phone with its debugger. */
export async function open(phone) {
  const page = await phone.newPage();
  return { page, debug: await phone.newCDPSession(page) };
}

/** Slows the processor so many times. */
export const slow = (debug, rate) => debug.send('Emulation.setCPUThrottlingRate', { rate });

/** Puts the tab on fast 4G. */
export async function on4G(debug) {
  await debug.send('Network.enable');
  await debug.send('Network.emulateNetworkConditions', FAST_4G);
}

/** Puts texts into the storage of the page's origin, without the program. */
export async function put(phone, url, texts) {
  const page = await phone.newPage();
  await page.route('**/quiet', (route) => route.fulfill({ contentType: 'text/html', body: '<title>quiet</title><link rel="icon" href="data:,">' }));
  await page.goto(`${url}quiet`);
  await page.evaluate((texts) => {
    for (const [key, text] of Object.entries(texts)) localStorage.setItem(key, text);
  }, texts);
  await page.close();
}

export const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
