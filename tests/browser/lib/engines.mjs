// The three engines that phones have. Scenarios see one interface, playwright's: it drives Chromium by its own protocol and
// Debian's Firefox by WebDriver BiDi; WebKitGTK, which it cannot drive, is behind the same names in webkit/.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, firefox } from 'playwright-core';
import { nextFile } from './downloads.mjs';
import { launchWebKit } from './webkit/index.mjs';

/** ENGINE=firefox or ENGINE=webkit; Chromium where nothing is said. */
export const ENGINE = process.env.ENGINE ?? 'chromium';

const CHROMIUM_FLAGS = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  // Belt and braces: no name but this machine's resolves, so nothing can leave it even unseen.
  '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost',
];

/** A proxy that is not there, for every host but this machine: as the resolver rule above. */
const FIREFOX_PREFERENCES = {
  'network.proxy.type': 1,
  'network.proxy.http': '127.0.0.1',
  'network.proxy.http_port': 1,
  'network.proxy.ssl': '127.0.0.1',
  'network.proxy.ssl_port': 1,
  'network.proxy.no_proxies_on': '127.0.0.1, localhost',
};

/** What an engine cannot be asked for here, and why: a scenario that `needs` it is left out there. README has this table. */
const MISSING = {
  webkit: {
    'fresh scripts': 'a script that is changed under its old name, as none of a build is, was not fetched anew by a page loaded again',
    theme: 'the theme of the desktop is read when WebKitGTK starts, and cannot change under an open page',
  },
  firefox: {
    'files handed over': 'not tried to the end yet',
    'focus in sight': 'it scrolls a button that is reached by tab to 10 px under the bar of places: seen once, not mended yet',
    'own reload': 'the load of a page that loads itself again is not told to the one who drives it',
    theme: 'WebDriver BiDi of this Firefox sets no color scheme',
  },
};

/** Why a scenario with these needs is left out on this engine, or false. */
export function missing(needs) {
  const reasons = needs.map((need) => MISSING[ENGINE]?.[need]).filter(Boolean);
  return reasons.length > 0 && reasons.join('; ');
}

const headless = !process.env.HEADED;

const LAUNCHES = {
  chromium: () => chromium.launch({
    executablePath: process.env.CHROME ?? '/usr/bin/chromium',
    headless,
    // No sandbox (playwright's default): it cannot start as root or in many containers, and only our own page is loaded.
    args: CHROMIUM_FLAGS,
  }),
  firefox: launchFirefox,
  webkit: () => launchWebKit(),
};

export const ENGINES = Object.keys(LAUNCHES);

async function launchFirefox() {
  const downloadsPath = mkdtempSync(join(tmpdir(), 'comb-scale-firefox-'));
  const browser = await firefox.launch({
    channel: 'moz-firefox', executablePath: process.env.FIREFOX ?? '/usr/bin/firefox-esr', headless, downloadsPath, firefoxUserPrefs: FIREFOX_PREFERENCES,
  });
  // It tells of downloads without the number that playwright looks for, so their folder is watched.
  const follow = (page) => {
    const { waitForEvent } = page;
    page.waitForEvent = (name, ...given) => (name === 'download' ? nextFile(downloadsPath) : waitForEvent.call(page, name, ...given));
  };
  browser.on('context', (context) => context.on('page', follow));
  browser.on('disconnected', () => rmSync(downloadsPath, { recursive: true, force: true }));
  return browser;
}

/** Starts the engine; `close` of what it gives ends it. */
export function launch() {
  if (!(ENGINE in LAUNCHES)) throw new Error(`ENGINE is ${ENGINES.join(', ')}, not '${ENGINE}'`);
  return LAUNCHES[ENGINE]();
}
