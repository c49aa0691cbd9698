// A person without a finger on the screen: Tab, Shift-Tab, Enter, Space and arrows, and typing. After every key the focus is
// somewhere, in sight, not under the bar, and has a visible outline.

import assert from 'node:assert/strict';
import { unhurried } from './hands.mjs';

/** Looks at what has the focus; runs in the page. */
const look = () => {
  const it = document.activeElement;
  const { innerText, value, id, tagName } = it;
  const label = id && document.querySelector(`label[for="${id}"]`)?.innerText;
  const name = (label || it.ariaLabel || innerText || value || '').trim();
  if (it === document.body) return { name: 'body', trouble: 'nothing has the focus' };
  const box = it.getBoundingClientRect();
  const bar = document.querySelector('.bar');
  const bottom = bar && !bar.contains(it) && getComputedStyle(bar).position === 'sticky' ? bar.getBoundingClientRect().top : innerHeight;
  const { outlineStyle, outlineWidth } = getComputedStyle(it);
  const troubles = [];
  if (box.top < -1 && box.height < innerHeight) troubles.push(`${Math.round(-box.top)} px above the screen`);
  if (box.bottom > bottom + 1 && box.height < bottom) troubles.push(`${Math.round(box.bottom - bottom)} px below the screen or under the bar`);
  if (outlineStyle === 'none' || parseFloat(outlineWidth) < 2) troubles.push('no outline');
  return { name, tag: tagName, trouble: troubles.join(', ') };
};

export class Keys {
  presses = 0;

  constructor(hands) {
    Object.assign(this, { hands, page: hands.page });
  }

  /** What has the focus: `{ name, tag }`; complains where it cannot be seen. */
  async focus() {
    const found = await this.page.evaluate(look);
    assert.equal(found.trouble, '', `after ${this.presses} keys, at '${found.name}' (${found.tag})`);
    return found;
  }

  async press(key) {
    this.presses += 1;
    await unhurried(this.page);
    await this.page.keyboard.press(key);
    // What a key sets going, and the way the focus takes after it.
    await this.page.evaluate(() => new Promise((done) => { requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 5))); }));
    return this.focus();
  }

  /** Goes to the thing of this name by Tab, or by Shift-Tab with `back`; a pattern or the whole name. */
  async reach(name, { back = false, most = 250 } = {}) {
    const fits = (found) => (typeof name === 'string' ? found.name === name : name.test(found.name));
    let found = await this.focus();
    for (let tries = 0; tries < most && !fits(found); tries += 1) found = await this.press(back ? 'Shift+Tab' : 'Tab');
    assert.ok(fits(found), `'${name}' is not reached by ${back ? 'Shift-' : ''}Tab`);
  }

  /** Goes to it and presses it. */
  async use(name, { key = 'Enter', ...way } = {}) {
    await this.reach(name, way);
    return this.press(key);
  }

  /** Goes to a field, types, and leaves it by Enter. */
  async fill(name, text, way) {
    await this.reach(name, way);
    await this.type(text);
  }

  /** Types into the field that is up, and leaves it by Enter. */
  async type(text) {
    await this.page.keyboard.type(text);
    this.presses += text.length;
    return this.press('Enter');
  }
}

/** Everything that can have the focus, and cannot be seen when it has it: one line each. */
export async function unseen(page) {
  await page.evaluate(`globalThis.lookAtFocus = ${look}`);
  return page.evaluate(() => {
    const all = document.querySelectorAll('a[href], button:enabled, input:enabled, select, textarea, summary');
    return [...all].filter((it) => it.checkVisibility()).flatMap((it) => {
      it.focus();
      const { name, tag, trouble } = globalThis.lookAtFocus();
      return trouble ? [`${name} (${tag}): ${trouble}`] : [];
    });
  });
}
