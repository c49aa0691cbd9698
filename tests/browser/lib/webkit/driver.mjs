// A session of WebKitGTK: Xvfb for a screen, WebKitWebDriver, and Debian's small browser. The driver speaks W3C WebDriver, which
// is a few requests by http; a package for it would be larger than this file.

import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** It is no program of its own: Debian keeps it with the library, in a folder named by the processor. */
const findBrowser = () => readdirSync('/usr/lib').map((name) => `/usr/lib/${name}/webkit2gtk-4.1/MiniBrowser`).find((path) => existsSync(path));

/** The window is to be as narrow as a phone, so the browser's own bar must be able to shrink to nothing. */
const NO_BAR = '* { min-width: 0; min-height: 0; padding: 0; margin: 0; border: 0; font-size: 1px; }';

/**
 * A screen that nobody sees. The pointer stands in the middle of it and must be within every window: without a window manager
 * that alone gives the focus.
 */
export async function openScreen() {
  if (process.env.HEADED) return { name: process.env.DISPLAY, close() {} };
  const server = spawn('Xvfb', ['-displayfd', '3', '-screen', '0', '340x600x24', '-nolisten', 'tcp'], { stdio: ['ignore', 'ignore', 'ignore', 'pipe'] });
  const number = await new Promise((heard, failed) => {
    server.once('error', failed);
    server.once('exit', () => failed(new Error('Xvfb ended')));
    server.stdio[3].once('data', (data) => heard(String(data).trim()));
  });
  return { name: `:${number}`, close: () => server.kill() };
}

const freePort = () => new Promise((found) => {
  const server = createServer().listen(0, '127.0.0.1', () => {
    const { port } = server.address();
    server.close(() => found(port));
  });
});

export class Driver {
  /**
   * Starts a browser that keeps nothing. `agent` is the name it goes by; `scale` how many pixels of the screen one of CSS has;
   * `dark` whether the desktop is; `zone` a time zone.
   */
  static async start({ display, agent, scale = 1, dark = false, zone }) {
    const home = mkdtempSync(join(tmpdir(), 'comb-scale-webkit-'));
    const [config, downloads] = ['config', 'downloads'].map((name) => join(home, name));
    mkdirSync(join(config, 'gtk-3.0'), { recursive: true });
    mkdirSync(downloads);
    writeFileSync(join(config, 'gtk-3.0', 'gtk.css'), NO_BAR);
    writeFileSync(join(config, 'user-dirs.dirs'), `XDG_DOWNLOAD_DIR="${downloads}"\n`);
    const port = await freePort();
    const env = {
      ...process.env, DISPLAY: display, HOME: home, XDG_CONFIG_HOME: config, XDG_DATA_HOME: join(home, 'data'), XDG_CACHE_HOME: join(home, 'cache'),
      GDK_BACKEND: 'x11', GDK_SCALE: String(scale), GTK_THEME: dark ? 'Adwaita:dark' : 'Adwaita', NO_AT_BRIDGE: '1', MESA_SHADER_CACHE_DISABLE: 'true', LC_ALL: 'C', ...(zone && { TZ: zone }),
    };
    const server = spawn('WebKitWebDriver', [`--port=${port}`], { env, stdio: 'ignore' });
    const driver = new Driver();
    Object.assign(driver, { home, downloads, server, base: `http://127.0.0.1:${port}` });
    const options = { binary: findBrowser(), args: ['--automation', `--user-agent=${agent}`] };
    await driver.ready();
    const { sessionId } = await driver.call('POST', '/session', { capabilities: { alwaysMatch: { 'webkitgtk:browserOptions': options } } });
    driver.base += `/session/${sessionId}`;
    return driver;
  }

  async ready() {
    for (let tries = 0; ; tries += 1) {
      try {
        return await this.call('GET', '/status');
      } catch (error) {
        if (tries === 600) throw error;
        await new Promise((later) => { setTimeout(later, 50); });
      }
    }
  }

  /** One request; gives its value. An error has the `code` that WebDriver gives it. */
  async call(method, path, body) {
    const answer = await fetch(this.base + path, { method, body: body && JSON.stringify(body) });
    const { value } = await answer.json();
    if (!answer.ok) throw Object.assign(new Error(`${method} ${path}: ${value.error} ${value.message}`), { code: value.error });
    return value;
  }

  async close() {
    const ended = new Promise((heard) => { this.server.once('exit', heard); });
    await this.call('DELETE', '').catch(() => {});
    this.server.kill();
    await ended;
    try {
      rmSync(this.home, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
    } catch {
      // A process of the browser is writing still; a few files of the machine's own temporary folder stay.
    }
  }
}
