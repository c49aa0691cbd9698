// Keeps the focus from getting lost. What was pressed often makes way for something else, or another place comes up; a
// browser then begins again at the top of the page, which is a long way for whoever has no finger on the screen. The focus
// goes to what took the place of the thing pressed, or to the heading of what is new.

{
  // What takes something away is never offered by itself: a second enter would do it.
  const PRESSABLE = 'a[href], button:enabled:not(.destroys), input:enabled, select:enabled, textarea:enabled, summary';
  /** The field that enter was pressed in, and what stood in it. */
  let left = null;
  /** What had the focus last: itself, the elements around it, its place in each, and what the heading said that it stood under. */
  let last = null;

  const headingOf = (part) => part.closest('section, main, body')?.querySelector('h1, h2, h3');

  function note({ target }) {
    const around = [];
    // Short of the body: where all that stood in it gave way, another place has come up, and its heading is the beginning.
    for (let at = target; at.parentElement && at.parentElement !== document.body; at = at.parentElement) {
      around.push({ part: at.parentElement, place: [...at.parentElement.children].indexOf(at) });
    }
    last = { target, around, heading: headingOf(target)?.innerText };
  }

  const inSight = (it) => it.checkVisibility?.({ visibilityProperty: true }) ?? it.offsetParent !== null;

  /** Gives the focus to a heading, which takes it only from here. */
  function toHeading(heading) {
    heading.tabIndex = -1;
    heading.focus();
  }

  /** The first thing to press at this place of a part or after it, else the last before it. */
  function near({ part, place }) {
    const inside = [...part.querySelectorAll(PRESSABLE)].filter(inSight);
    const behind = (it) => [...part.children].findIndex((child) => child.contains(it)) >= place;
    return inside.find(behind) ?? inside.at(-1);
  }

  /** The next thing to press behind this one. */
  function after(it) {
    const all = [...document.querySelectorAll(PRESSABLE)].filter(inSight);
    return all.find((other) => it.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING) ?? it;
  }

  function mend() {
    if (!last || document.activeElement !== document.body) return;
    const { target, around, heading } = last;
    if (target.isConnected && !target.disabled) return void after(target)?.focus();
    const there = around.filter(({ part }) => part.isConnected);
    // Another heading over the part it stood in says what is up now.
    const fresh = there[0] && headingOf(there[0].part);
    if (fresh && fresh.innerText !== heading) return void toHeading(fresh);
    for (const level of there) {
      const next = near(level);
      if (next) return void next.focus();
    }
    const top = document.querySelector('h1');
    if (top) toHeading(top);
  }

  /**
   * Whether the field that enter was pressed in keeps the focus: what was typed is refused and to be mended, or it has emptied
   * itself for the next number.
   */
  function stays() {
    const { field, typed } = left ?? {};
    left = null;
    const again = field?.isConnected && (field.getAttribute('aria-invalid') === 'true' || Boolean(typed) && !field.value);
    if (again) field.focus();
    return again;
  }

  /** After another place has come up: its heading, unless a field has opened by itself. */
  function arrive() {
    const { activeElement } = document;
    const top = document.querySelector('h1');
    if (top && !activeElement.closest?.('main')) toHeading(top);
  }

  // After everything that is to follow the press has run, and the browser has noticed what is gone.
  const soon = (then) => requestAnimationFrame(() => setTimeout(then));
  document.addEventListener('focusin', note);
  new MutationObserver(() => {
    if (last && !(last.target.isConnected && !last.target.disabled)) soon(mend);
  }).observe(document.documentElement, { childList: true, subtree: true, attributes: true, attributeFilter: ['disabled'] });
  // A number that was left by enter may have brought up what to do about it; and what a key has brought up must not push
  // what was pressed off the screen.
  document.addEventListener('keydown', ({ key, target, repeat }) => {
    if (!repeat) left = key === 'Enter' && target.matches('input') ? { field: target, typed: target.value } : null;
  }, true);
  document.addEventListener('keyup', ({ key }) => {
    if (key !== 'Enter' && key !== ' ') return;
    soon(() => {
      if (!stays()) mend();
      if (document.activeElement !== document.body) document.activeElement.scrollIntoView({ block: 'nearest' });
    });
  });
  addEventListener('hashchange', () => soon(arrive));
}
