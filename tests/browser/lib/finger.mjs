// A finger and a key that bounce. The browser is told when each press happened, so that a busy machine bounces as fast as an
// idle one, and what the first press set going has come up by the time of the second.

export class Finger {
  constructor(page) {
    this.page = page;
    this.now = Date.now() / 1000;
  }

  async begin() {
    this.debugger ??= await this.page.context().newCDPSession(this.page);
    // Long after whatever was pressed before.
    this.now += 60;
  }

  /** Presses this point of the screen, so many ms after `begin`. */
  async press({ x, y }, ms = 0) {
    for (const type of ['mousePressed', 'mouseReleased']) {
      await this.debugger.send('Input.dispatchMouseEvent', { type, x, y, button: 'left', clickCount: 1, timestamp: this.now + ms / 1000 });
    }
    await settled(this.page);
  }

  /** Presses Enter or Space, wherever the focus is, so many ms after `begin`. */
  async key(key, ms = 0) {
    const [code, text] = key === 'Enter' ? ['Enter', '\r'] : ['Space', ' '];
    const about = { key: key === 'Enter' ? 'Enter' : ' ', code, windowsVirtualKeyCode: text.charCodeAt(0), timestamp: this.now + ms / 1000 };
    await this.debugger.send('Input.dispatchKeyEvent', { type: 'keyDown', text, ...about });
    await this.debugger.send('Input.dispatchKeyEvent', { type: 'keyUp', ...about });
    await settled(this.page);
  }
}

/** What a press set going has happened, and the focus has come to rest. */
export const settled = (page) => page.evaluate(() => new Promise((done) => {
  requestAnimationFrame(() => setTimeout(() => requestAnimationFrame(() => setTimeout(done, 5))));
}));
