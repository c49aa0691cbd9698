// One scenario = one test of node's runner in a fresh browser context on the built page:
//
//     scenario('weighs a panel', async (hands) => {
//       await hands.tap('New test');
//       await hands.fill('Wet weight', '438,7');
//       assert.equal((await hands.figure('Lost')).value, 3.2);
//     });
//
// `hands` (hands.mjs) has the page and what a person does with it. After every scenario, whatever it did, the page must
// have logged no error, thrown none, and asked nothing of any other origin. A failed scenario leaves a screenshot.

import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { cpSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { serve } from '../../setup/serve.mjs';
import { ENGINE, launch, missing } from './engines.mjs';
import { Hands, arrived, noteAddress, unhurried } from './hands.mjs';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..', '..', '..');
const PAGE = process.env.PAGE ?? join(ROOT, 'dist');

/** The two sizes every screen is looked at in. */
export const PHONE = { viewport: { width: 360, height: 640 }, deviceScaleFactor: 3, hasTouch: true, isMobile: true };
export const DESK = { viewport: { width: 1280, height: 800 } };

/** Phone emulation is Chromium's alone: elsewhere it is the size, and presses of a mouse. */
export const suited = ({ isMobile, hasTouch, ...size }) => (ENGINE === 'chromium' ? { isMobile, hasTouch, ...size } : size);

/** How long something may take before it counts as never, ms: a busy machine can stand still for many seconds. */
const PATIENCE = 60_000;

let browser;

before(async () => {
  assert.ok(existsSync(join(PAGE, 'index.html')), `there is no page in ${PAGE}: run 'make page' first`);
  browser = await launch();
});

after(() => browser?.close());

/**
 * Every tap and click of a scenario is meant, by whatever it is found, and is over when the page is where it leads; presses that
 * bounce are those of finger.mjs.
 */
let meant = false;
function meanPresses(page) {
  if (meant) return;
  meant = true;
  const found = Object.getPrototypeOf(page.locator('body'));
  const { click, tap } = found;
  for (const [name, press] of Object.entries({ click, tap: ENGINE === 'chromium' ? tap : click })) {
    found[name] = async function unhurriedly(...given) {
      await unhurried(this.page());
      await press.apply(this, given);
      await arrived(this.page());
    };
  }
}

/**
 * Declares a scenario. Options, all with defaults for a phone in a German shop:
 * - `size`: PHONE or DESK; anything else playwright's newContext takes (`colorScheme`, `permissions`, `locale` …)
 * - `base`: the folder of the host that the page sits in
 * - `own`: the page is served from a copy of its own, `hands.host.folder`, that the scenario may change
 * - `setUp(page)`: runs before the page is opened (init scripts, a set clock)
 * - `expectErrors`: patterns of errors this scenario provokes on purpose; each must then occur
 * - `timeout`: ms
 * - `everywhere`: it runs on all engines, not on Chromium alone; `needs`: what of `MISSING` (engines.mjs) it cannot do without
 */
export function scenario(name, body, options = {}) {
  const { size = PHONE, base = '/', own = false, setUp, expectErrors = [], timeout = 600_000, everywhere = false, needs = [], ...context } = options;
  if (!everywhere && ENGINE !== 'chromium') return;
  test(name, { timeout, skip: missing(needs) }, async () => {
    const folder = own ? mkdtempSync(join(tmpdir(), 'comb-scale-')) : PAGE;
    if (own) cpSync(PAGE, folder, { recursive: true });
    const host = new Host(folder, base);
    await host.open();
    browser.servedBy?.(host);
    const tab = await browser.newContext({ locale: 'en-GB', timezoneId: 'Europe/Berlin', ...suited(size), ...context });
    tab.setDefaultTimeout(PATIENCE);
    await tab.addInitScript(noteAddress);
    const watch = watchFor(tab, new URL(host.url).origin);
    try {
      const page = await tab.newPage();
      meanPresses(page);
      const pictures = join(ROOT, 'target', 'screenshots');
      const hands = new Hands(page, { url: host.url, host, watch, pictures, touch: Boolean(suited(size).hasTouch) });
      await setUp?.(page);
      try {
        await hands.open();
        await body(hands);
      } catch (error) {
        await hands.shot(`failed ${name}`).catch(() => {});
        const heard = watch.map((line) => `\n  the page: ${line}`).join('');
        if (error instanceof Error) error.message += heard;
        throw error;
      }
      assertQuiet(watch, expectErrors);
    } finally {
      await tab.close();
      await host.close();
      if (own) rmSync(folder, { recursive: true });
    }
  });
}

/** The host of the page: can go down and come back under the same address. */
class Host {
  constructor(folder, base) {
    Object.assign(this, { folder, base });
  }

  async open() {
    const first = async (request, response) => Boolean(await this.first?.(request, response));
    this.server = await serve(this.folder, { base: this.base, port: this.port, first });
    this.url = this.server.url;
    this.port = Number(new URL(this.url).port);
  }

  async close() {
    await this.server?.close();
    this.server = undefined;
  }
}

/** The hash of `body {}`: playwright tries to put that style into Firefox before it takes a picture, and the policy refuses. */
const DRIVERS_STYLE = 'sha256-YjaKGiklmzC6wjXA513HAMmzus8VE61XCOT+SmwNZWA=';

/** Collects what no scenario should see: errors, and requests to anywhere else. One line each. */
function watchFor(tab, origin) {
  const heard = [];
  // WebKitGTK's pages tell of themselves.
  tab.on('told', (line) => heard.push(line));
  tab.on('console', (message) => {
    if (message.type() === 'error') heard.push(`console: ${message.text()} (${message.location().url})`);
  });
  tab.on('weberror', (event) => {
    const said = event.error().stack ?? String(event.error());
    if (!said.includes(DRIVERS_STYLE)) heard.push(`uncaught: ${said}`);
  });
  tab.on('requestfailed', (request) => {
    // A reload or a closed tab cuts requests short; that is no failure of the page.
    const why = request.failure()?.errorText ?? '';
    if (why !== 'net::ERR_ABORTED') heard.push(`request failed: ${request.url()} ${why}`);
  });
  tab.on('request', (request) => {
    const url = new URL(request.url());
    if (!['data:', 'blob:', 'about:'].includes(url.protocol) && url.origin !== origin) heard.push(`another origin: ${url}`);
  });
  return heard;
}

function assertQuiet(heard, expected) {
  const surprises = heard.filter((line) => !expected.some((pattern) => pattern.test(line)));
  assert.deepEqual(surprises, [], 'the page reported errors, or asked something of another origin');
  // The words are the engine's own, and not every engine says all.
  if (ENGINE !== 'chromium') return;
  for (const pattern of expected) assert.ok(heard.some((line) => pattern.test(line)), `expected an error like ${pattern}`);
}
