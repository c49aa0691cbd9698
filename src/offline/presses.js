// One press is one deed. A finger that bounces, or that presses again because nothing seemed to happen, would otherwise meet
// what has come to lie under it: the button that confirms, the next one of a list, another place's. A first press of anything
// else counts at once, however soon it comes. Every press that does not count is said.

{
  const PRESSABLE = 'button, a[href], summary, input[type=checkbox], input[type=radio]';
  /** So soon after a press, one in the same place is the same, ms and px. */
  const SOON_MS = 500;
  const NEAR_PX = 24;
  /** How long it is said that a press did not count, ms. */
  const SAID_MS = 5000;
  /** The press before, whether it counted or not: what was pressed, when, and where; by a key it is everywhere. */
  let before = null;

  const said = document.createElement('p');
  said.className = 'refused';
  said.setAttribute('role', 'status');
  addEventListener('DOMContentLoaded', () => document.body.append(said));
  let silence;
  function refuse() {
    said.textContent = 'Pressed twice, counted once. Press again if you meant it.';
    clearTimeout(silence);
    silence = setTimeout(() => { said.textContent = ''; }, SAID_MS);
  }
  globalThis.combScale.refuse = refuse;

  const near = (press) => press.part === before.part || press.key === before.key
    && (press.key || Math.hypot(press.x - before.x, press.y - before.y) < NEAR_PX);

  /** Notes a press, and gives whether it is the one before once more. */
  function bounces(press) {
    const again = before && press.at - before.at < SOON_MS && near(press);
    before = press;
    return again;
  }

  addEventListener('click', (event) => {
    const { target, timeStamp: at, clientX: x, clientY: y, detail, isTrusted } = event;
    const part = target.closest?.(PRESSABLE);
    // What may be pressed quickly again and again says so. A press made by a program is nobody's finger.
    if (!isTrusted || !part || part.closest('[data-again]')) return;
    if (bounces({ part, at, x, y, key: detail === 0 })) {
      event.preventDefault();
      event.stopImmediatePropagation();
      refuse();
    }
  }, true);

  addEventListener('keydown', (event) => {
    const { key, repeat, target, timeStamp: at } = event;
    const presses = key === 'Enter' || key === ' ';
    // Another key in between: the hand has gone on, and means what it presses.
    if (!presses) before = null;
    else if (repeat && target.closest?.(PRESSABLE)) event.preventDefault();
    // Enter in a field hands the focus on, perhaps to a button.
    else if (key === 'Enter' && target.matches?.('input')) before = { part: target, at, key: true };
  }, true);
}
