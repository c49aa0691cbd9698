// One test in two tabs, any interleaving: no reading is lost, and both show the same within a second.

import assert from 'node:assert/strict';
import { scenario } from '../lib/scenario.mjs';
import { chance, stored } from '../lib/kept.mjs';

const ACTIONS = 1000;

/** Does some of what a person does in Gauge, at once: tries the gauge on a shim. Each reading is a number of its own. */
const doAtOnce = (page, acts) => page.evaluate(async (acts) => {
  const label = () => [...document.querySelectorAll('label')].find((it) => it.innerText === 'The gauge reads');
  for (const act of acts) {
    if (act.spot) {
      const field = document.getElementById(label().htmlFor);
      field.value = String(act.spot);
      field.dispatchEvent(new Event('input', { bubbles: true }));
      field.dispatchEvent(new Event('change', { bubbles: true }));
    } else {
      [...document.querySelectorAll('button')].find((it) => it.innerText === act.press).click();
    }
    // Buttons come to life a moment after the act before.
    await new Promise((later) => setTimeout(later));
  }
}, acts);

/** The readings on screen, sorted. */
const spots = (page) => page.evaluate(() => (document.body.innerText.match(/: read \d+/g) ?? []).map((it) => it.replace(/\D/g, '')).sort());

const spotsIn = (text) => JSON.parse(text).verifications.filter((of) => !of.deleted).map((of) => String(of.reading_um)).sort();

/** Unfolds the part of Gauge about the gauge itself, and types a shim. */
async function ready(page) {
  await page.getByRole('heading', { level: 1, name: 'Gauge' }).waitFor();
  await page.locator('summary').filter({ hasText: 'The gauge: bare metal' }).click();
  await page.getByLabel('Shim', { exact: true }).fill('75');
  await page.getByLabel('Shim', { exact: true }).blur();
}

/** What a tab did, as its own Undo and Redo see it. */
class Person {
  constructor() {
    Object.assign(this, { made: [], undone: [] });
  }

  next(random, fresh) {
    const kind = random();
    if (kind < 0.75 || (kind < 0.9 ? this.made : this.undone).length === 0) {
      const spot = fresh();
      this.made.push(spot);
      this.undone = [];
      return { spot };
    }
    const [from, to, press] = kind < 0.9 ? [this.made, this.undone, 'Undo'] : [this.undone, this.made, 'Redo'];
    to.push(from.pop());
    return { press };
  }
}

async function interleave(hands, seed, withoutTurns) {
  const random = chance(seed);
  const context = hands.page.context();
  if (withoutTurns) {
    await context.addInitScript(() => Object.defineProperty(Navigator.prototype, 'locks', { get: () => undefined }));
    await hands.reload();
  }
  await hands.tap('New spray test');
  await hands.tap('Gauge');
  const url = hands.page.url();
  await ready(hands.page);
  const open = async () => {
    const page = await context.newPage();
    await page.goto(url);
    await ready(page);
    return page;
  };
  const tabs = [hands.page, await open()];
  const people = [new Person(), new Person()];
  // Readings of tabs that were closed: nobody can undo them any more.
  const settled = [];
  let last = 100;
  let slowest = 0;
  let reopened = 0;
  for (let done = 0; done < ACTIONS;) {
    // Both tabs act at the same time, some acts each.
    const batches = people.map((person) => Array.from({ length: Math.floor(random() * 4) }, () => person.next(random, () => (last += 1))));
    await Promise.all(tabs.map((tab, i) => doAtOnce(tab, batches[i])));
    done += batches.flat().length;
    if (random() < 0.03) {
      // One of them is closed in the middle of it all, without having heard of the other.
      const who = Math.floor(random() * 2);
      await tabs[who].close();
      settled.push(...people[who].made);
      people[who] = new Person();
      tabs[who] = await open();
      reopened += 1;
    }
    if (random() < 0.05) {
      const expected = [...settled, ...people.flatMap((person) => person.made)].map(String).sort();
      const began = Date.now();
      for (const tab of tabs) {
        await tab.waitForFunction((expected) => {
          const now = (document.body.innerText.match(/: read \d+/g) ?? []).map((it) => it.replace(/\D/g, '')).sort();
          return JSON.stringify(now) === expected;
        }, JSON.stringify(expected), { polling: 20 }).catch(async () => {
          assert.deepEqual(await spots(tab), expected, `after ${done} actions`);
        });
      }
      slowest = Math.max(slowest, Date.now() - began);
    }
  }
  const expected = [...settled, ...people.flatMap((person) => person.made)].map(String).sort();
  for (const tab of tabs) await tab.close();
  const fresh = await open();
  assert.deepEqual(await spots(fresh), expected);
  await fresh.getByText('All tests').tap();
  const texts = Object.entries(await stored(fresh)).filter(([key]) => /^comb-scale\/(test|slip)\//.test(key));
  if (!withoutTurns) assert.equal(texts.length, 1, 'one text is left');
  assert.ok(texts.some(([, text]) => JSON.stringify(spotsIn(text)) === JSON.stringify(expected)), 'one text has it all');
  console.log(`interleavings tried${withoutTurns ? ', without turns' : ''}: ${ACTIONS} actions in two tabs, ${reopened} times a tab was closed and opened; readings lost: 0 of ${expected.length}; both the same after ${slowest} ms at the most`);
  return slowest;
}

scenario('loses no reading in a thousand interleaved actions of two tabs', async (hands) => {
  await interleave(hands, 20260302, false);
});

scenario('loses none where there are no turns between tabs', async (hands) => {
  await interleave(hands, 20260303, true);
});

scenario('shows in each tab what the other noted, without a touch', async (hands) => {
  await hands.tap('New spray test');
  await hands.tap('Gauge');
  const other = await hands.page.context().newPage();
  await other.goto(hands.page.url());
  await ready(other);
  await ready(hands.page);
  for (const [from, to, spot] of [[hands.page, other, 101], [other, hands.page, 102]]) {
    await doAtOnce(from, [{ spot }]);
    await to.getByText(`: read ${spot},`).first().waitFor();
  }
});

scenario('has the turn of the test that is open, and of no other', async (hands) => {
  const { page } = hands;
  const held = () => page.evaluate(async () => (await navigator.locks.query()).held.map((lock) => lock.name.replace('comb-scale/', '')));
  const turnsTo = async (expected) => {
    for (let wait = 0; wait < 3000 && JSON.stringify(await held()) !== JSON.stringify(expected); wait += 1) await page.waitForTimeout(20);
    assert.deepEqual(await held(), expected);
  };
  const ids = [];
  for (let nth = 0; nth < 2; nth += 1) {
    await hands.tap('New spray test');
    await page.waitForURL(/#\/\w+\/plan/);
    ids.push(/#\/(\w+)\//.exec(page.url())[1]);
    await turnsTo([ids[nth]]);
    await hands.tap('All tests');
    await turnsTo([]);
  }
  for (const id of [ids[0], ids[1], ids[0]]) {
    await page.evaluate((id) => { location.hash = `#/${id}/weigh`; }, id);
    await turnsTo([id]);
  }
});
