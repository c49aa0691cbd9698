// WebKitGTK behind the names that playwright gives to a browser, its contexts and pages, as far as scenarios use them. What runs
// in a page before anything else (`addInitScript`, a set clock, `watch`) comes with the page, as a script that the host of the
// scenario puts first: WebDriver has no way of its own. For the same reason the service worker, which would serve the page
// without it, is kept away unless a scenario asks for it (`serviceWorkers: 'allow'`).

import { writeFile } from 'node:fs/promises';
import { EventEmitter } from 'node:events';
import { nextFile } from '../downloads.mjs';
import { Driver, openScreen } from './driver.mjs';
import { find } from './find.mjs';
import { PageFinder } from './locator.mjs';

const KEYS = { Enter: '\uE007', Tab: '\uE004', Shift: '\uE008', Escape: '\uE00C', Space: ' ', Backspace: '\uE003', ArrowLeft: '\uE012', ArrowUp: '\uE013', ArrowRight: '\uE014', ArrowDown: '\uE015', Home: '\uE011', End: '\uE010', Delete: '\uE017' };
const FIRST = 'before-anything.js';
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';

const pause = (ms) => new Promise((later) => { setTimeout(later, ms); });

export async function launchWebKit() {
  return new Browser(await openScreen());
}

class Browser {
  contexts = [];

  constructor(screen) {
    this.screen = screen;
  }

  /** The host of what is opened next: it puts the first script in, and hears what pages tell. */
  servedBy(host) {
    this.host = host;
    host.first = (request, response) => this.answer(request, response);
  }

  async newContext(options = {}) {
    const agent = `WebKitGTK context/${this.contexts.length}`;
    const { deviceScaleFactor: scale, timezoneId: zone, colorScheme } = options;
    const driver = await Driver.start({ display: this.screen.name, agent, scale, zone, dark: colorScheme === 'dark' });
    const context = new Context(this, driver, options);
    context.spare = await context.call('GET', '/window');
    this.contexts.push(context);
    return context;
  }

  /** Answers what the host does not: gives whether it did. */
  async answer(request, response) {
    const [, nth] = /context\/(\d+)/.exec(request.headers['user-agent'] ?? '') ?? [];
    return Boolean(this.contexts[nth]) && this.contexts[nth].answer(request, response);
  }

  async close() {
    await Promise.all(this.contexts.map((context) => context.close()));
    this.screen.close();
  }
}

class Context extends EventEmitter {
  scripts = [];
  routes = [];
  patience = 30_000;
  pages = 0;
  /** One request at a time: a session has one window that it speaks to. */
  turn = Promise.resolve();

  constructor(parent, driver, options) {
    super();
    Object.assign(this, { parent, driver, options });
    this.addInitScript(watch);
    if (options.locale) this.addInitScript(speak, options.locale);
    if (options.serviceWorkers !== 'allow') this.addInitScript(() => { navigator.serviceWorker.register = () => new Promise(() => {}); });
  }

  browser() {
    return this.parent;
  }

  setDefaultTimeout(ms) {
    this.patience = ms;
  }

  async addInitScript(script, given) {
    this.scripts.push(`(${script})(${JSON.stringify(given)});`);
  }

  async newPage() {
    const handle = this.spare ?? await this.newWindow();
    this.spare = undefined;
    this.pages += 1;
    const page = new Page(this, handle);
    if (this.options.viewport) await page.setViewportSize(this.options.viewport);
    return page;
  }

  async newWindow() {
    return (await this.call('POST', '/window/new', { type: 'window' })).handle;
  }

  /** A session ends with its last window, so a spare one takes its place. */
  async closeWindow(handle) {
    this.pages -= 1;
    if (this.pages === 0) this.spare = await this.newWindow();
    await this.call('DELETE', '/window', undefined, handle);
  }

  /** The network is off when the scenario has closed its host; WebKitGTK cannot be told that it is. */
  async setOffline() {}

  call(method, path, body, handle = this.current) {
    const asked = this.turn.then(async () => {
      if (handle !== this.current) {
        await this.driver.call('POST', '/window', { handle });
        this.current = handle;
      }
      return this.driver.call(method, path, body);
    });
    this.turn = asked.catch(() => {});
    return asked;
  }

  async answer(request, response) {
    const path = request.url.split(/[?#]/)[0];
    const send = (status, type, body) => {
      response.writeHead(status, { 'Content-Type': type, 'Cache-Control': 'no-store' });
      response.end(body);
      return true;
    };
    if (path.endsWith(`/${FIRST}`)) {
      if (request.method === 'GET') return send(200, 'text/javascript', this.scripts.join('\n'));
      for await (const line of request) this.emit('told', String(line));
      return send(204, 'text/plain');
    }
    const route = this.routes.findLast(({ fits }) => fits(`http://${request.headers.host}${request.url}`));
    if (route) {
      await route.take({ fulfill: ({ status = 200, contentType = 'text/plain', body = '' }) => send(status, contentType, body) });
      return true;
    }
    if (!request.headers.accept?.includes('text/html')) return false;
    const plain = await fetch(`http://${request.headers.host}${request.url}`);
    const html = (await plain.text()).replace(/<head[^>]*>/, `$&<script src="${FIRST}"></script>`);
    for (const [name, value] of plain.headers) if (!/^(content-(encoding|length)|connection|keep-alive|transfer-encoding|date|vary)$/.test(name)) response.setHeader(name, value);
    response.writeHead(plain.status);
    response.end(html);
    return true;
  }

  async close() {
    if (this.closed) return;
    this.closed = true;
    await this.driver.close();
  }
}

/** Runs first in every page: tells the host of errors, and of what the policy stopped. */
function watch() {
  const address = document.currentScript?.src;
  const tell = (line) => fetch(address, { method: 'POST', body: line, keepalive: true }).catch(() => {});
  addEventListener('error', ({ error, target, message }) => {
    if (target === window) tell(`uncaught: ${message} ${error?.stack ?? ''}`);
    else tell(`request failed: ${target.src ?? target.href}`);
  }, true);
  addEventListener('unhandledrejection', ({ reason }) => tell(`uncaught: ${reason} ${reason?.stack ?? ''}`));
  document.addEventListener('securitypolicyviolation', ({ blockedURI, effectiveDirective }) => {
    tell(`console: Content Security Policy: ${effectiveDirective} ${blockedURI}`);
    if (/^https?:/.test(blockedURI) && new URL(blockedURI).origin !== location.origin) tell(`another origin: ${blockedURI}`);
  });
  const { error } = console;
  console.error = (...said) => { tell(`console: ${said.join(' ')}`); error.apply(console, said); };
}

/** The language that the page is told of. Debian has no locale installed by which WebKitGTK would be told. */
function speak(locale) {
  Object.defineProperty(navigator, 'language', { value: locale });
  Object.defineProperty(navigator, 'languages', { value: [locale] });
}

/** The page's clock stands still at this time; what waits goes on. */
function stopClock(time) {
  const Real = globalThis.RealDate ?? Date;
  globalThis.RealDate = Real;
  globalThis.Date = new Proxy(Real, {
    construct: (_, given) => (given.length ? new Real(...given) : new Real(time)),
    apply: () => String(new Real(time)),
    get: (_, name) => (name === 'now' ? () => time : Real[name]),
  });
}

class Page extends PageFinder {
  constructor(tab, handle) {
    super();
    Object.assign(this, { tab, handle, address: 'about:blank' });
    this.keyboard = {
      type: (text) => this.keys([...text]),
      press: (keys) => this.keys([keys.split('+').map((key) => KEYS[key] ?? key)].map((chord) => (chord.length > 1 ? chord : chord[0]))),
    };
    this.clock = {
      setFixedTime: async (time) => {
        await tab.addInitScript(stopClock, Number(new Date(time)));
        await this.evaluate(stopClock, Number(new Date(time)));
      },
    };
  }

  context() {
    return this.tab;
  }

  url() {
    return this.address;
  }

  viewportSize() {
    return this.viewport;
  }

  call(method, path, body) {
    return this.tab.call(method, path, body, this.handle);
  }

  /** Runs the text of a function body in the page; what it gives may be a promise, and goes by JSON. */
  async run(body) {
    const script = `const done = arguments[arguments.length - 1];
      const told = (answer) => done(JSON.stringify({ ...answer, address: location.href }));
      (async () => { ${body} })().then((value) => told({ value }), (error) => told({ error: String(error?.message ?? error) }));`;
    const answer = await this.call('POST', '/execute/async', { script, args: [] });
    if (answer === null) throw Object.assign(new Error('the page has gone'), { code: 'gone' });
    const { value, error, address } = JSON.parse(answer);
    this.address = address;
    if (error !== undefined) throw new Error(error);
    return value;
  }

  evaluate(look, given) {
    const argument = given === undefined ? 'undefined' : JSON.stringify(given);
    // A text is a script, as it stands.
    return this.run(typeof look === 'function' ? `return (${look})(${argument});` : look);
  }

  /** `look` at the elements that the steps of a locator lead to. */
  evaluateOn(steps, look, given) {
    return this.run(`${find}\nreturn (${look})(find(${JSON.stringify(steps)}), ${JSON.stringify(given) ?? 'undefined'});`);
  }

  /** Asks until the answer is something; a page that is just going answers nothing. */
  async until(ask, what, polling = 30) {
    const end = Date.now() + this.tab.patience;
    for (;;) {
      const answer = await ask().catch((error) => {
        if (error.code === undefined) throw error;
        if (Date.now() > end) throw error;
      });
      if (answer) return answer;
      if (Date.now() > end) throw new Error(`waited in vain for ${what}`);
      await pause(polling);
    }
  }

  waitForFunction(look, given, { polling } = {}) {
    return this.until(() => this.evaluate(look, given), String(look), polling);
  }

  waitForURL(pattern) {
    return this.until(async () => pattern.test(await this.evaluate(() => location.href)), String(pattern));
  }

  waitForTimeout(ms) {
    return pause(ms);
  }

  async goto(url) {
    await this.call('POST', '/url', { url });
    this.address = url;
  }

  async reload() {
    await this.call('POST', '/refresh', {});
  }

  /** By the page's own hand: the button of the browser passes over places that no finger led to, which WebKit takes for a trap. */
  goBack() {
    return this.travel(-1);
  }

  goForward() {
    return this.travel(1);
  }

  async travel(by) {
    const before = await this.evaluate(() => location.href);
    await this.evaluate((by) => { history.go(by); }, by);
    await this.until(async () => (await this.evaluate(() => location.href)) !== before, 'another address');
  }

  title() {
    return this.evaluate(() => document.title);
  }

  /** `download`: a file that comes from now on; `load`: another document. */
  async waitForEvent(name) {
    if (name === 'download') return nextFile(this.tab.driver.downloads);
    await this.evaluate(() => { globalThis.isOld = true; });
    return this.until(() => this.evaluate(() => !globalThis.isOld && document.readyState === 'complete'), 'another document');
  }

  addInitScript(script, given) {
    return this.tab.addInitScript(script, given);
  }

  async route(pattern, take) {
    const glob = (text) => new RegExp(`^${text.replace(/[.+^${}()|[\]\\?]/g, '\\$&').replaceAll('**', '.*')}$`);
    const wanted = pattern instanceof RegExp ? pattern : glob(pattern);
    this.tab.routes.push({ pattern, take, fits: (url) => wanted.test(url) });
  }

  async unroute(pattern) {
    this.tab.routes = this.tab.routes.filter((route) => String(route.pattern) !== String(pattern));
  }

  async setViewportSize({ width, height }) {
    this.viewport = { width, height };
    await this.call('POST', '/window/rect', { x: 0, y: 0, width, height });
    // What the browser needs around the page is known once the window is there.
    const [beside, above] = await this.evaluate(() => [outerWidth - innerWidth, outerHeight - innerHeight]);
    await this.call('POST', '/window/rect', { x: 0, y: 0, width: width + beside, height: height + above });
    await this.waitForFunction(([width, height]) => innerWidth === width && innerHeight === height, [width, height]);
  }

  async press([x, y]) {
    const actions = [{ type: 'pointerMove', x: Math.round(x), y: Math.round(y) }, { type: 'pointerDown', button: 0 }, { type: 'pointerUp', button: 0 }];
    await this.call('POST', '/actions', { actions: [{ type: 'pointer', id: 'finger', actions }] });
  }

  /** Presses keys one after another; a chord is a list of them. */
  async keys(keys) {
    const actions = keys.map((key) => [key].flat()).flatMap((chord) => [
      ...chord.map((value) => ({ type: 'keyDown', value })), ...chord.toReversed().map((value) => ({ type: 'keyUp', value })),
    ]);
    await this.call('POST', '/actions', { actions: [{ type: 'key', id: 'keys', actions }] });
  }

  async sendKeys(steps, text) {
    const script = `${find}\nreturn find(arguments[0])[0];`;
    const element = await this.until(() => this.call('POST', '/execute/sync', { script, args: [steps] }), JSON.stringify(steps));
    await this.call('POST', `/element/${element[ELEMENT]}/value`, { text });
  }

  /** What is in sight: there is no picture of more. */
  async screenshot({ path }) {
    await writeFile(path, await this.call('GET', '/screenshot'), 'base64');
  }

  async close() {
    await this.tab.closeWindow(this.handle);
  }
}
