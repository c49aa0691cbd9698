// What stands in browser storage, and what happens to it, for the scenarios that need it.

/** Everything this page keeps: key to text. */
export const stored = (page) => page.evaluate(() => ({ ...localStorage }));

/** Writes texts into storage; `null` takes a key away. */
export const store = (page, texts) => page.evaluate((texts) => {
  for (const [key, text] of Object.entries(texts)) {
    if (text === null) localStorage.removeItem(key);
    else localStorage.setItem(key, text);
  }
}, texts);

/** The one test in storage: `{ key, id, text }`. */
export async function theTest(page) {
  const [[key, text]] = Object.entries(await stored(page)).filter(([key]) => key.startsWith('comb-scale/test/'));
  return { key, id: key.slice('comb-scale/test/'.length), text };
}

/** A tab without the program in it, on the page's own origin: storage can be looked at and changed in peace. */
export async function quietTab(hands) {
  const tab = await hands.page.context().newPage();
  await tab.route('**/quiet', (route) => route.fulfill({ contentType: 'text/html', body: '<title>quiet</title><link rel="icon" href="data:,">' }));
  await tab.goto(`${hands.url}quiet`);
  return tab;
}

/** A field by its label, filled and left, without the seconds that a finger takes. */
export const enter = (page, label, text) => page.waitForFunction(([label, text]) => {
  const named = [...document.querySelectorAll('label')].filter((it) => it.innerText === label);
  const field = document.getElementById(named[0]?.htmlFor);
  // A fold's fields are made when it is first opened.
  if (!field) return false;
  field.value = text;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  field.dispatchEvent(new Event('change', { bubbles: true }));
  return true;
}, [label, text]);

/** Presses a button or a link by its name, as soon as it is there. */
export const press = (page, name) => page.waitForFunction((name) => {
  const button = [...document.querySelectorAll('button, a')].find((it) => it.innerText.trim() === name && it.checkVisibility());
  button?.click();
  return Boolean(button);
}, name, { polling: 20 });

/** Numbers that look random and are the same every time: mulberry32 (public domain). */
export function chance(seed) {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
