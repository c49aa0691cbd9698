// What a person does with the page, by what they can see: visible labels, never class names or ids.

import assert from 'node:assert/strict';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { audit } from './audit.mjs';
import { ENGINE } from './engines.mjs';
import { parseFigure } from './figure.mjs';
import { inkOf } from './ink.mjs';

/**
 * What is pressed next is meant, and no finger bouncing: as after half a second, which no test waits for. A key of another
 * kind says the same to src/offline/presses.js. `scenario` has it said before every tap and click.
 */
export const unhurried = (page) => page.evaluate(() => dispatchEvent(new KeyboardEvent('keydown', { key: 'Unidentified' })));

/** Runs in every page from its start: notes the address that a press on a link asks for, and the last one the page has heard of. */
export function noteAddress() {
  const asked = ({ target }) => { globalThis.addressAsked = target.closest?.('a[href^="#"]')?.hash; };
  for (const press of ['touchstart', 'mousedown']) addEventListener(press, asked, true);
  globalThis.addressHeard = location.hash;
  addEventListener('hashchange', () => {
    globalThis.addressHeard = location.hash;
    globalThis.addressAsked = undefined;
  });
}

/**
 * Waits until the page has followed its address. A press comes back when it is done; what the old address named stands until
 * the browser has told the page of the new one, and whoever looks at once or goes on sees the place that was left.
 */
export const arrived = (page) => page.waitForFunction(() => {
  const { addressAsked = location.hash, addressHeard = location.hash } = globalThis;
  return addressAsked === location.hash && addressHeard === location.hash;
});

const PRESSABLE = ['button', 'link', 'tab', 'radio', 'checkbox', 'switch', 'option', 'menuitem'];

export class Hands {
  constructor(page, { url, host, watch, pictures, touch }) {
    Object.assign(this, { page, url, host, watch, pictures, touch });
  }

  /** Opens the page and waits until the program in it has started. */
  async open(path = '') {
    await this.page.goto(this.url + path);
    await this.started();
  }

  async reload() {
    await this.page.reload();
    await this.started();
  }

  /** The program has started once more is there than the top of the start screen, and nothing more is on its way. */
  async started() {
    const whole = () => document.querySelector('main') && !document.body.innerText.includes('The rest of the page is on its way');
    await this.page.waitForFunction(whole);
    await this.workedOut();
  }

  /** Goes back in the history of the browser, to an address of this page. */
  async back() {
    await this.page.goBack();
    await arrived(this.page);
  }

  /** Waits until no panel is being worked out any more. */
  async workedOut() {
    await this.page.waitForFunction(() => !/Working \d+ panels? out|Comparing the candidates/.test(document.body.innerText));
  }

  /** What the test says, once it is worked out. */
  async said() {
    await this.workedOut();
    return this.part('What the test says').innerText();
  }

  /** Something to press, by its visible name (a string: the whole name; or a pattern), within `inside` if given. */
  pressable(name, inside = this.page) {
    const exact = typeof name === 'string';
    const found = PRESSABLE.map((role) => inside.getByRole(role, { name, exact }));
    return found.reduce((all, next) => all.or(next)).filter({ visible: true });
  }

  /** Taps it with a finger where there is touch, clicks it otherwise. Two things of one name are a fault of the page. */
  async tap(name, inside) {
    const target = this.pressable(name, inside);
    await (this.touch ? target.tap() : target.click());
  }

  /** The field with this visible label. */
  field(label, inside = this.page) {
    return inside.getByLabel(label, { exact: typeof label === 'string' }).filter({ visible: true });
  }

  /** Types into the field as a person does, key by key, and leaves it. */
  async fill(label, text, inside) {
    const field = this.field(label, inside);
    await field.fill('');
    await field.pressSequentially(text);
    await field.blur();
  }

  /** Types a weight into the open round, turning to the panel or blank in the rack unless it is up already. */
  async weigh(label, text) {
    if ((await this.field(label).count()) === 0) await this.tap(new RegExp(`^${label}\\s`), this.part('This round'));
    await this.fill(label, text);
  }

  /** Waits until the number of this label is due: its field is up and being typed in. */
  async due(label) {
    await this.page.waitForFunction((label) => {
      const up = document.activeElement;
      return up?.tagName === 'INPUT' && document.querySelector(`label[for=${up.id}]`)?.innerText.trim() === label;
    }, label);
  }

  /** Types what is due and presses enter, as a thumb does: no field is looked for. */
  async key(text) {
    await this.page.keyboard.type(text);
    await this.page.keyboard.press('Enter');
  }

  /** What stands under the field of the panel or blank that is up, or what is odd about its weight. */
  async judgement() {
    const round = this.part('This round');
    const lines = round.locator('.hint, [role=alert]').filter({ visible: true, hasText: /\S/ });
    return (await lines.allInnerTexts()).join(' ');
  }

  /** Opens the list of everything entered on spray day, where weights and dabs are corrected. */
  async openEntries() {
    await this.unfold('Every weight and dab, to correct');
  }

  /** Opens the fold of this name, unless it is open already. */
  async unfold(name, inside = this.page) {
    const summary = inside.locator('summary').filter({ hasText: name, visible: true }).first();
    if (await summary.evaluate((it) => it.parentElement.open)) return;
    await (this.touch ? summary.tap() : summary.click());
    await inside.locator('details[open] > summary').filter({ hasText: name, visible: true }).first().waitFor();
  }

  /** Chooses from a list by the visible text of the choice. */
  async choose(label, choice, inside) {
    await this.field(label, inside).selectOption({ label: choice });
  }

  /** Waits until this text is to be seen. */
  async see(text, inside = this.page) {
    await inside.getByText(text).filter({ visible: true }).first().waitFor();
  }

  /** The part of the page under this heading or label: a `section`, `article`, `fieldset`, list item or row of that name. */
  part(name, inside = this.page) {
    const exact = typeof name === 'string';
    const roles = ['region', 'article', 'group', 'listitem', 'row', 'table', 'dialog', 'tabpanel'];
    return roles.map((role) => inside.getByRole(role, { name, exact })).reduce((all, next) => all.or(next)).first();
  }

  /**
   * The text that stands as the value of a label: the `dd` after its `dt`, the first cell of the row it heads, or the
   * element labelled by it (`output`, `meter`, a field).
   */
  async value(label, inside = this.page) {
    const text = typeof label === 'string' ? new RegExp(`^\\s*${label.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}\\s*$`) : label;
    const shown = { visible: true };
    const term = inside.locator('dt').filter({ hasText: text, ...shown }).locator('xpath=following-sibling::dd[1]');
    const row = inside.locator('th[scope=row]').filter({ hasText: text, ...shown }).locator('xpath=following-sibling::td[1]');
    const labelled = inside.getByLabel(label, { exact: typeof label === 'string' }).filter(shown);
    const found = term.or(row).or(labelled).first();
    await found.waitFor();
    return (await found.evaluate((it) => it.value ?? it.innerText)).trim();
  }

  /** A cell of a table by the visible names of its row and its column. */
  async cell(row, column, inside = this.page) {
    const headers = await inside.locator('thead th, thead td').allInnerTexts();
    const at = headers.findIndex((text) => (typeof column === 'string' ? text.trim() === column : column.test(text)));
    assert.ok(at >= 0, `no column '${column}' among ${JSON.stringify(headers)}`);
    const line = inside.getByRole('row', { name: row }).first();
    return (await line.locator('th, td').nth(at).innerText()).trim();
  }

  /** The value of a label as `{ value, unit, low, high }`; see figure.mjs. */
  async figure(label, inside) {
    return parseFigure(await this.value(label, inside));
  }

  /** A picture of the whole page in target/screenshots, for people to look at. */
  async shot(name, { whole = true } = {}) {
    mkdirSync(this.pictures, { recursive: true });
    const { width, height } = this.page.viewportSize();
    const engine = ENGINE === 'chromium' ? '' : `-${ENGINE}`;
    const file = `${name.toLowerCase().replace(/[^a-z0-9]+/g, '-')}-${width}x${height}${engine}.png`;
    await this.page.screenshot({ path: join(this.pictures, file), fullPage: whole });
  }

  /** What is drawn on a canvas, by default the first one in sight: see ink.mjs. */
  async ink(canvas = this.page.locator('canvas').filter({ visible: true }).first()) {
    return inkOf(canvas);
  }

  /** Opens a panel of Results, and its candidate where several are folded under one, and gives it. */
  async panel(label) {
    const panel = this.part(label);
    const folded = this.page.locator('details:not([open]) > summary').filter({ hasText: new RegExp(`[:,] ${label}(,|$)`), visible: true });
    await panel.or(folded).first().waitFor();
    if (await folded.count()) {
      await unhurried(this.page);
      await (this.touch ? folded.tap() : folded.click());
      await panel.waitFor();
    }
    const summary = panel.locator('summary').first();
    if (!(await summary.locator('..').getAttribute('open').then((open) => open !== null))) {
      await unhurried(this.page);
      await (this.touch ? summary.tap() : summary.click());
    }
    await panel.locator('dt').first().waitFor();
    return panel;
  }

  /** Every canvas in sight, or the one given, carries a drawing that spans it, at the resolution of the screen. */
  async assertDrawn(canvas) {
    if (!canvas) {
      const all = this.page.locator('canvas').filter({ visible: true });
      await all.first().waitFor();
      for (const each of (await all.all()).slice(1)) await this.assertDrawn(each);
    }
    const ink = await this.ink(canvas);
    assert.ok(ink.share > 0.002 && ink.colours >= 2, `the canvas is blank: ${JSON.stringify(ink)}`);
    assert.ok(ink.across > 0.5 && ink.down > 0.3, `the drawing fills only a corner: ${JSON.stringify(ink)}`);
    assert.ok(ink.sharpness >= 0.95, `the canvas is drawn too coarse for this screen: ${JSON.stringify(ink)}`);
    return ink;
  }

  /** Nothing sticks out sideways. */
  async assertFits() {
    const { page, screen } = await this.page.evaluate(() => ({
      page: document.documentElement.scrollWidth,
      screen: document.documentElement.clientWidth,
    }));
    assert.ok(page <= screen, `the page is ${page} px wide on a screen of ${screen} px`);
  }

  /** Everything to press is at least `least` CSS px high and wide, links within a sentence aside. */
  async assertTargets(least = 48) {
    const small = await this.page.evaluate((least) => {
      const all = document.querySelectorAll('button, a[href], input:not([type=hidden]), select, textarea, summary, [role=button], [role=tab]');
      const boxOf = (it) => {
        // A radio or a tick box is pressed by its label.
        const label = /^(radio|checkbox)$/.test(it.type) && it.closest('label');
        return (label || it).getBoundingClientRect();
      };
      return [...all]
        .filter((it) => it.checkVisibility({ visibilityProperty: true }) && getComputedStyle(it).display !== 'inline')
        .map((it) => ({ it, box: boxOf(it) }))
        .filter(({ box }) => box.width > 0 && (box.width < least - 0.5 || box.height < least - 0.5))
        .map(({ it, box }) => `${it.innerText || it.ariaLabel || it.name || it.tagName}: ${Math.round(box.width)} × ${Math.round(box.height)}`);
    }, least);
    assert.deepEqual(small, [], `targets under ${least} px`);
  }

  /** An accessibility audit of what is on screen now, by axe-core: WCAG 2.2 A and AA, and text contrast of 7:1. */
  async assertAccessible() {
    const found = (await audit(this.page, 'here')).filter((line) => !line.startsWith('here: undecided'));
    assert.deepEqual(found, [], 'accessibility');
  }

  /** Slows the processor `times` times; 1 is full speed again. */
  async slow(times) {
    this.debugger ??= await this.page.context().newCDPSession(this.page);
    await this.debugger.send('Emulation.setCPUThrottlingRate', { rate: times });
  }

  /** Cuts the network off, or restores it. */
  async offline(off = true) {
    await this.page.context().setOffline(off);
  }
}
