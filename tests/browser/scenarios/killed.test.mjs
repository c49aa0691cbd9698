// The page is killed between any two calls to storage: nothing that was acknowledged is lost.

import assert from 'node:assert/strict';
import { scenario } from '../lib/scenario.mjs';
import { enter, press, quietTab, store, stored, theTest } from '../lib/kept.mjs';

/** From the `last`th call on, nothing reaches storage any more: the page might as well be gone. */
const dieAfter = (last) => {
  globalThis.calls = [];
  for (const name of ['setItem', 'removeItem']) {
    const call = Storage.prototype[name];
    Storage.prototype[name] = function (...given) {
      globalThis.dead ||= globalThis.calls.length >= last;
      if (globalThis.dead) return undefined;
      globalThis.calls.push(`${name} ${given[0]}`);
      return call.apply(this, given);
    };
  }
};

const opened = async (page) => {
  await page.getByText('Every weight and dab, to correct').tap();
  await page.getByLabel('A1 bare', { exact: true }).waitFor();
};

/** What a person does, and what stands there once it is acknowledged. */
const STEPS = [
  ['begin', async (page) => { await press(page, 'New spray test'); await page.getByText('Plan').first().waitFor(); }, { test: 'shelf' }],
  ['weigh A1', async (page) => { await press(page, 'Spray'); await opened(page); await enter(page, 'A1 bare', '412.5'); }, { 'A1 bare': '412.5' }],
  ['weigh A2', (page) => enter(page, 'A2 bare', '413.5'), { 'A2 bare': '413.5' }],
  ['correct A1', (page) => enter(page, 'A1 bare', '412.6'), { 'A1 bare': '412.6' }],
  ['undo', (page) => press(page, 'Undo'), { 'A1 bare': '412.5' }],
  ['redo', (page) => press(page, 'Redo'), { 'A1 bare': '412.6' }],
  ['weigh B1', (page) => enter(page, 'B1 bare', '501.5'), { 'B1 bare': '501.5' }],
  ['bin', async (page) => { await press(page, 'All tests'); await press(page, 'Remove …'); await press(page, 'Put it into the bin'); }, { test: 'bin' }],
  ['put back', (page) => press(page, 'Put it back'), { test: 'shelf' }],
];

/** What a page that opens anew shows. */
async function shown(page) {
  await page.getByRole('heading', { name: 'Tests on this phone' }).waitFor();
  const found = {};
  if (await page.locator('article.shelved').count()) {
    found.test = 'shelf';
    await page.locator('article.shelved a').tap();
    await press(page, 'Spray');
    await opened(page);
    for (const label of ['A1 bare', 'A2 bare', 'B1 bare']) {
      const value = await page.getByLabel(label, { exact: true }).inputValue();
      if (value) found[label] = value;
    }
  } else if (await page.getByText('In the bin').count()) {
    found.test = 'bin';
  }
  return found;
}

/** A tab that is killed after its `last`th call; gives what was acknowledged and what was being done. */
async function killedAfter(hands, last, before) {
  const page = await hands.page.context().newPage();
  await before?.(page);
  await page.addInitScript(dieAfter, last);
  const dead = () => page.evaluate(() => globalThis.dead);
  await page.goto(hands.url);
  const died = page.waitForFunction(() => globalThis.dead, undefined, { polling: 20, timeout: 0 }).catch(() => {});
  let acknowledged = {};
  for (const [, act, changes] of STEPS) {
    if (await dead()) break;
    const next = { ...acknowledged, ...changes };
    // A page that writes into the void comes to a stop somewhere: once it is dead, nobody waits for what it was doing.
    const acting = act(page);
    acting.catch(() => {});
    await Promise.race([acting, died]);
    if (await dead()) {
      await page.close();
      return { acknowledged, next };
    }
    acknowledged = next;
  }
  const calls = await page.evaluate(() => (globalThis.dead ? undefined : globalThis.calls));
  await page.close();
  return { acknowledged, next: acknowledged, calls };
}

async function everyKill(hands, what, before) {
  const quiet = await quietTab(hands);
  await hands.page.close();
  const clear = () => quiet.evaluate(() => localStorage.clear());
  await clear();
  const { calls } = await killedAfter(hands, 1e9, before);
  assert.ok(calls.length > 12, `storage is called: ${calls.join(', ')}`);
  for (let last = 0; last < calls.length; last += 1) {
    await clear();
    const { acknowledged, next } = await killedAfter(hands, last, before);
    const page = await hands.page.context().newPage();
    await page.goto(hands.url);
    const found = await shown(page);
    // What was being done may stand there or not; a test in the bin is not opened, so its readings are not looked at.
    const one = found.test === 'bin' ? { test: acknowledged.test } : acknowledged;
    const other = found.test === 'bin' ? { test: next.test } : next;
    const fits = [one, other, { ...one, test: other.test }].some((state) => JSON.stringify(sorted(state)) === JSON.stringify(sorted(found)));
    assert.ok(fits, `killed after call ${last} (${calls[last]}): ${JSON.stringify({ acknowledged, next, found })}`);
    await page.close();
  }
  console.log(`kill points tried, ${what}: ${calls.length}; readings lost: 0`);
}

const sorted = (state) => Object.fromEntries(Object.entries(state).sort(([a], [b]) => (a < b ? -1 : 1)));

scenario('loses nothing when it is killed between any two calls to storage', (hands) => everyKill(hands, 'one tab'));

scenario('loses nothing when it is killed where there are no turns between tabs', (hands) => everyKill(hands, 'without turns', (page) => page.addInitScript(() => {
  Object.defineProperty(Navigator.prototype, 'locks', { get: () => undefined });
})));

const BARE = { 'A1 bare': '411.1', 'A2 bare': '411.2', 'A3 bare': '411.3' };

scenario('loses nothing when the tab that takes over what others wrote is killed', async (hands) => {
  const { page } = hands;
  await hands.tap('New spray test');
  await hands.tap('Spray');
  const address = page.url();
  const { key, id, text: base } = await theTest(page);
  const quiet = await quietTab(hands);
  await page.close();
  const open = async (last) => {
    const tab = await page.context().newPage();
    if (last !== undefined) await tab.addInitScript(dieAfter, last);
    await tab.goto(address);
    await opened(tab);
    return tab;
  };
  const clear = () => quiet.evaluate(() => localStorage.clear());

  // Three tabs that did not know of each other, each with its own reading.
  const texts = [];
  for (const [label, value] of Object.entries(BARE)) {
    await clear();
    await store(quiet, { [key]: base });
    const tab = await open();
    await enter(tab, label, value);
    await tab.waitForFunction(([key, value]) => localStorage.getItem(key).includes(value), [key, value]);
    texts.push((await stored(quiet))[key]);
    await tab.close();
  }
  let last = 0;
  for (let died = true; died; last += 1) {
    await clear();
    await store(quiet, { [key]: texts[0], [`comb-scale/slip/other/${id}`]: texts[1], [`comb-scale/slip/third/${id}`]: texts[2] });
    const dying = await open(last);
    const done = (id) => globalThis.dead || Object.keys(localStorage).filter((key) => key.endsWith(id)).length === 1;
    await dying.waitForFunction(done, id);
    // What else it has to write then, if it lives.
    await dying.waitForTimeout(200);
    died = await dying.evaluate(() => Boolean(globalThis.dead));
    await dying.close();
    const after = await open();
    for (const [label, value] of Object.entries(BARE)) {
      assert.equal(await after.getByLabel(label, { exact: true }).inputValue(), value, `${label}, killed after call ${last}`);
    }
    await after.waitForFunction((id) => Object.keys(localStorage).filter((key) => key.endsWith(id)).length === 1, id);
    await after.close();
  }
  assert.ok(last > 4, `${last} calls`);
  console.log(`kill points tried, taking over what two other tabs wrote: ${last}; readings lost: 0`);
});

scenario('loses nothing when the process of the page crashes', async (hands) => {
  const { page } = hands;
  await hands.tap('New spray test');
  await hands.tap('Spray');
  const address = page.url();
  let tab = page;
  const CRASHES = 12;
  for (let nth = 0; nth < CRASHES; nth += 1) {
    await opened(tab);
    const value = `${400 + nth}.5`;
    await enter(tab, 'A1 bare', value);
    const crashed = tab.waitForEvent('crash');
    const debug = await tab.context().newCDPSession(tab);
    // Never answered: nobody is left to answer.
    debug.send('Page.crash').catch(() => {});
    await crashed;
    await tab.close();
    tab = await page.context().newPage();
    await tab.goto(address);
    await opened(tab);
    assert.equal(await tab.getByLabel('A1 bare', { exact: true }).inputValue(), value);
    await tab.reload();
  }
  console.log(`crashes of the page's process: ${CRASHES}; readings lost: 0`);
});

scenario('mends a shelf that is missing, old or broken', async (hands) => {
  const { page } = hands;
  await hands.tap('New spray test');
  await hands.tap('Plan');
  const quiet = await quietTab(hands);
  await page.close();
  const whole = (await stored(quiet))['comb-scale/shelf'];
  const stale = JSON.stringify(JSON.parse(whole).map((summary) => ({ ...summary, title: 'An earlier name', size: 7 })));
  for (const shelf of [null, stale, '[]', '{}', '[1, "x"]', whole.slice(0, 20), '']) {
    await store(quiet, { 'comb-scale/shelf': shelf });
    const tab = await page.context().newPage();
    await tab.goto(hands.url);
    await tab.getByRole('link', { name: /^Spray test of/ }).waitFor();
    assert.equal(await tab.getByText('An earlier name').count(), 0);
    await tab.close();
  }
  await quiet.close();
  hands.page = await page.context().newPage();
  await hands.open();
  await hands.see(/Set aside: text kept here that could not be read/);
  await hands.assertAccessible();
});
