// What playwright's Locator does, as far as scenarios use it, for WebKit. Each waits until there is one element to do it to.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

const textual = (text, exact = false) => (text instanceof RegExp ? { source: text.source, flags: text.flags } : { text, exact });

/** Where things can be looked for: a page, or a part of it. */
class Finder {
  locator(selector) {
    if (selector === '..') return this.narrowed('xpath', '..');
    return selector.startsWith('xpath=') ? this.narrowed('xpath', selector.slice('xpath='.length)) : this.narrowed('css', selector);
  }

  getByRole(role, { name, exact, level } = {}) {
    return this.narrowed('role', { role, level, name: name === undefined ? undefined : textual(name, exact) });
  }

  getByLabel(text, { exact } = {}) {
    return this.narrowed('label', textual(text, exact));
  }

  getByText(text, { exact } = {}) {
    return this.narrowed('text', textual(text, exact));
  }
}

export class PageFinder extends Finder {
  narrowed(way, what) {
    return new Locator(this, [[way, what]]);
  }
}

class Locator extends Finder {
  constructor(owner, steps) {
    super();
    Object.assign(this, { owner, steps });
  }

  page() {
    return this.owner;
  }

  narrowed(way, what) {
    return new Locator(this.owner, [...this.steps, [way, what]]);
  }

  filter({ visible, hasText, hasNotText, has }) {
    const text = (given) => (given === undefined ? undefined : textual(given));
    return this.narrowed('filter', { visible, hasText: text(hasText), hasNotText: text(hasNotText), has: has?.steps });
  }

  or(other) {
    return this.narrowed('or', other.steps);
  }

  nth(nth) {
    return this.narrowed('nth', nth);
  }

  first() {
    return this.nth(0);
  }

  last() {
    return this.nth(-1);
  }

  async all() {
    return Array.from({ length: await this.count() }, (_, nth) => this.nth(nth));
  }

  evaluateAll(look, given) {
    return this.owner.evaluateOn(this.steps, look, given);
  }

  count() {
    return this.evaluateAll((all) => all.length);
  }

  allInnerTexts() {
    return this.evaluateAll((all) => all.map((it) => it.innerText));
  }

  /** `look(all, given)` once it gives something; it gives nothing where it has to wait. */
  async patiently(look, given) {
    const { value } = await this.owner.until(() => this.evaluateAll(look, given), `${JSON.stringify(this.steps)}`);
    return value;
  }

  /** What `look(it, given)` gives of the one element there is; two are a fault. */
  evaluate(look, given) {
    return this.patiently(`(all, given) => {
      if (all.length > 1) throw new Error('more than one: ' + all.map((it) => it.outerHTML.slice(0, 80)).join(' | '));
      return all[0] && Promise.resolve((${look})(all[0], given)).then((value) => ({ value }));
    }`, given);
  }

  waitFor({ state = 'visible' } = {}) {
    return this.patiently((all, state) => {
      const isSeen = (it) => it.checkVisibility({ visibilityProperty: true }) && it.getBoundingClientRect().height > 0;
      const holds = { attached: all.length > 0, detached: all.length === 0, visible: all.some(isSeen), hidden: !all.some(isSeen) };
      return holds[state] && {};
    }, state);
  }

  innerText() {
    return this.evaluate((it) => it.innerText);
  }

  textContent() {
    return this.evaluate((it) => it.textContent);
  }

  inputValue() {
    return this.evaluate((it) => it.value);
  }

  getAttribute(name) {
    return this.evaluate((it, name) => it.getAttribute(name), name);
  }

  boundingBox() {
    return this.evaluate((it) => it.getBoundingClientRect().toJSON());
  }

  scrollIntoViewIfNeeded() {
    return this.evaluate((it) => {
      const { top, bottom } = it.getBoundingClientRect();
      if (top < 0 || bottom > innerHeight) it.scrollIntoView({ block: 'center', behavior: 'instant' });
    });
  }

  focus() {
    return this.evaluate((it) => it.focus());
  }

  blur() {
    return this.evaluate((it) => it.blur());
  }

  dispatchEvent(name) {
    return this.evaluate((it, name) => { it.dispatchEvent(new Event(name, { bubbles: true })); }, name);
  }

  /** Presses its middle, or a `position` in it, once it stands still and nothing lies over it. */
  async click({ position } = {}) {
    const point = await this.evaluate(async (it, position) => {
      const still = () => new Promise((drawn) => { requestAnimationFrame(() => drawn(it.getBoundingClientRect())); });
      for (let tries = 0; tries < 200; tries += 1) {
        const before = await still();
        const { left, top, width, height } = await still();
        const [x, y] = position ? [left + position.x, top + position.y] : [left + width / 2, top + height / 2];
        if (left === before.left && top === before.top && width > 0 && !it.disabled) {
          const over = document.elementFromPoint(x, y);
          if (over && (it.contains(over) || over.closest('label')?.control === it || over.contains(it))) return [x, y];
          it.scrollIntoView({ block: ['center', 'start', 'end'][tries % 3], behavior: 'instant' });
        }
        await new Promise((later) => { setTimeout(later, 30); });
      }
      throw new Error(`cannot be pressed: ${it.outerHTML.slice(0, 120)}`);
    }, position);
    await this.owner.press(point);
  }

  async fill(text) {
    await this.evaluate((it, text) => {
      it.focus();
      it.select?.();
      // As typed or pasted, so that leaving the field is a change.
      if (!document.execCommand(text === '' ? 'delete' : 'insertText', false, text) && it.value !== text) {
        it.value = text;
        for (const name of ['input', 'change']) it.dispatchEvent(new Event(name, { bubbles: true }));
      }
    }, text);
  }

  async pressSequentially(text) {
    await this.focus();
    await this.owner.keyboard.type(text);
  }

  async press(key) {
    await this.focus();
    await this.owner.keyboard.press(key);
  }

  selectOption({ label }) {
    return this.evaluate((it, label) => {
      it.focus();
      it.value = [...it.options].find((option) => option.label.trim() === label).value;
      for (const name of ['input', 'change']) it.dispatchEvent(new Event(name, { bubbles: true }));
    }, label);
  }

  async setInputFiles(files) {
    const paths = [files].flat().map(({ name, buffer }) => {
      const path = join(this.owner.context().driver.home, name);
      writeFileSync(path, buffer);
      return path;
    });
    await this.owner.sendKeys(this.steps, paths.join('\n'));
  }
}
