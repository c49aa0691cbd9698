// Every button that can be reached, pressed twice: by a finger 60 and 250 ms later, by Enter and by Space. One press is one
// deed, what does not count is said, and nothing that takes something away is offered by itself.

import assert from 'node:assert/strict';
import { isDeepStrictEqual } from 'node:util';
import { Finger, settled } from '../lib/finger.mjs';
import { DESK, PHONE, scenario } from '../lib/scenario.mjs';
import { prepare, to, walk } from '../lib/states.mjs';

/** Names of buttons that take something away; those that end in … ask first. */
const DESTROYS = /^(Remove|Erase it|Throw|Put it into the bin|This was not done)[^…]*$/;

/** States with buttons of their own, those last that are come to through others: of each place every button there is, once. */
const STATES = [
  'plan: bare', 'plan: full, folds open', 'spray: full, folds open', 'weigh: full, folds open', 'gauge: full, folds open',
  ['weigh: a round', 'weigh: an odd weight'], ['weigh: a round', 'weigh: an odd weight', 'weigh: set aside, why'],
  'spray: bare', 'spray: mix', 'spray: flash', 'spray: past pot life', 'spray: comb', 'spray: wet', 'spray: a dab tapped',
  'spray: a step to be left out', 'results: full',
  // Last, since what it chooses holds for all.
  'start: tests, bin, set aside',
];

const escaped = (name) => name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** Comes to a state, by the names of those on the way to it, with everything that is kept as it was. */
async function arrive(hands, state) {
  // A space that went into a field is left with the field; what an address takes from under the fingers is another attack.
  await hands.page.evaluate(() => document.activeElement.blur());
  // Through another place: what is drawn is then drawn anew.
  await to(hands, '/missing/plan');
  await walk(hands, async () => {}, new RegExp(`^(${[state].flat().map(escaped).join('|')})$`));
  await hands.page.waitForFunction(hasTurn);
}

/** The open test, if any, is this tab's to write: before, each write goes to a slip, and once more when the turn comes. */
async function hasTurn() {
  const id = decodeURIComponent(location.hash.split('/')[1] ?? '');
  const { held, pending } = await navigator.locks.query();
  return id === '' || pending.length === 0 && held.some((lock) => lock.name === `comb-scale/${id}`);
}

/** Everything to press: where among all it is, its name, and its kind, which those have in common that differ by a number. */
const buttonsOf = (page) => page.evaluate(() => {
  const all = [...document.querySelectorAll('main button:enabled, header button:enabled')].filter((it) => it.checkVisibility());
  return all.flatMap((it, place) => {
    const name = it.innerText.trim().replace(/\s+/g, ' ');
    return it.closest('[data-again]') ? [] : [{ place, name, kind: name.replace(/\d+/g, '#') }];
  });
});

/** Brings the button of this place up, gives where it is, and counts from here on what is written. */
const aim = (page, place) => page.evaluate((place) => {
  const all = [...document.querySelectorAll('main button:enabled, header button:enabled')].filter((it) => it.checkVisibility());
  all[place].scrollIntoView({ block: 'center' });
  globalThis.writes = [];
  const { left, top, width, height } = all[place].getBoundingClientRect();
  all[place].focus();
  return { x: left + width / 2, y: top + height / 2 };
}, place);

/** What was written since, where the page is, whether a press was refused, and whether all that is kept is as when last looked. */
const looked = (page) => page.evaluate(() => {
  const kept = JSON.stringify(Object.entries(localStorage).sort());
  const same = kept === globalThis.keptBefore;
  globalThis.keptBefore = kept;
  return { writes: globalThis.writes.length, hash: location.hash, refused: document.querySelector('.refused').innerText !== '', same };
});

async function prepared(page) {
  await prepare(page);
  await page.addInitScript(() => {
    globalThis.writes = [];
    for (const name of ['setItem', 'removeItem']) {
      const done = Storage.prototype[name];
      Storage.prototype[name] = function counted(...given) {
        globalThis.writes.push(given[0]);
        return done.apply(this, given);
      };
    }
  });
}

const WAYS = {
  finger: (finger, point, ms) => finger.press(point, ms),
  Enter: (finger, _, ms) => finger.key('Enter', ms),
  Space: (finger, _, ms) => finger.key(' ', ms),
};

for (const [way, press] of Object.entries(WAYS)) {
  scenario(`pressed twice by ${way}, every button does its deed once`, async (hands) => {
    const { page } = hands;
    const finger = new Finger(page);
    const broken = [];
    let tried = 0;
    // Those alike once a place: a list of a hundred teeth or panels is one row of attacks.
    const pressed = new Set();
    for (const state of STATES) {
      const at = [state].flat().at(-1);
      await arrive(hands, state);
      const there = await buttonsOf(page);
      const buttons = there.filter(({ name, kind }) => {
        const row = `${at.split(':')[0]}: ${kind}`;
        // By keys those that ask, or take something away: what a finger does with the others a key does no worse.
        const counts = !pressed.has(row) && (way === 'finger' || DESTROYS.test(name) || name.endsWith('…'));
        if (counts) pressed.add(row);
        return counts;
      });
      let asItWas = true;
      for (const { place, name } of buttons) {
        if (!asItWas) await arrive(hands, state);
        const point = await aim(page, place);
        await finger.begin();
        await press(finger, point, 0);
        const once = await looked(page);
        for (const ms of [60, 250]) {
          tried += 1;
          await press(finger, point, ms);
          const twice = await looked(page);
          const trouble = [
            twice.writes !== once.writes && `written ${once.writes} and then ${twice.writes} times`,
            !twice.same && 'something else is kept',
            twice.hash !== once.hash && `at ${twice.hash}, not ${once.hash}`,
          ].filter(Boolean);
          if (trouble.length > 0) broken.push(`${at}: ${name}, ${ms} ms: ${trouble.join(', ')}`);
        }
        asItWas = (await looked(page)).writes === 0 && isDeepStrictEqual(await buttonsOf(page), there);
      }
    }
    console.log(`# attacks: presses by ${way}: ${tried} tried, ${tried - broken.length} survived`);
    assert.deepEqual(broken, []);
    assert.ok(tried >= (way === 'finger' ? 100 : 20), `${tried} tried`);
  }, { size: { ...PHONE, hasTouch: false, isMobile: false }, setUp: prepared });
}

scenario('no focus that moves by itself comes to lie on what takes something away', async (hands) => {
  const { page } = hands;
  const found = [];
  let tried = 0;
  await walk(hands, async (state) => {
    const here = await page.evaluate(async (pattern) => {
      const named = new RegExp(pattern);
      const after = () => new Promise((done) => { requestAnimationFrame(() => setTimeout(() => setTimeout(done))); });
      const nameOf = (it) => it.innerText.trim();
      const all = [...document.querySelectorAll('a[href], button:enabled, input:enabled, select, textarea, summary')].filter((it) => it.checkVisibility());
      const destroys = (it) => it.tagName === 'BUTTON' && named.test(nameOf(it));
      const trouble = [];
      let tried = 0;
      for (const [i, it] of all.entries()) {
        if (!destroys(it)) continue;
        if (!it.classList.contains('destroys')) trouble.push(`${nameOf(it)}: not marked`);
        // What stands before it vanishes, or a field before it is left by enter; and so for itself.
        for (const from of [all[i - 1], it].filter(Boolean)) {
          for (const leave of ['vanish', 'enter']) {
            tried += 1;
            from.focus();
            if (leave === 'vanish') from.disabled = true;
            else from.blur();
            document.dispatchEvent(new KeyboardEvent('keyup', { key: 'Enter', bubbles: true }));
            await after();
            const { activeElement } = document;
            if (activeElement !== from && destroys(activeElement)) trouble.push(`${nameOf(activeElement)} after ${nameOf(from) || from.tagName}: ${leave}`);
            if (leave === 'vanish') from.disabled = false;
          }
        }
      }
      return { trouble, tried };
    }, DESTROYS.source);
    tried += here.tried;
    found.push(...here.trouble.map((line) => `${state}: ${line}`));
  }, process.env.ONLY ? new RegExp(process.env.ONLY) : /./);
  console.log(`# attacks: focus by itself: ${tried} tried, ${tried - found.length} survived`);
  assert.deepEqual(found, []);
  assert.ok(tried >= 40, `${tried} tried`);
}, { size: DESK, setUp: prepare });

scenario('a finger that bounces from one place to the next stays in the next', async (hands) => {
  const { page } = hands;
  const finger = new Finger(page);
  const broken = [];
  const rows = [
    ['start: tests, bin, set aside', 'See a worked example'], ['start: tests, bin, set aside', 'New spray test'],
    ['plan: full', 'Next: spray'], ['spray: full', 'Next: weigh as it dries'],
    ...['Plan', 'Spray', 'Weigh', 'Gauge', 'Results', 'All tests'].map((name) => ['plan: half', name]),
  ];
  let tried = 0;
  for (const [state, name] of rows) {
    for (const ms of [60, 250]) {
      await arrive(hands, state);
      const target = page.getByRole('link', { name, exact: true }).or(page.getByRole('button', { name, exact: true })).first();
      if ((await target.count()) === 0) continue;
      await target.scrollIntoViewIfNeeded();
      const box = await target.boundingBox();
      const point = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      await finger.begin();
      await finger.press(point, 0);
      await hands.workedOut();
      await settled(page);
      await page.evaluate(() => { globalThis.writes = []; });
      const once = await looked(page);
      await finger.press(point, ms);
      const twice = await looked(page);
      tried += 1;
      if (twice.writes !== 0 || twice.hash !== once.hash) broken.push(`${state}: ${name}, ${ms} ms: ${JSON.stringify([once, twice])}`);
    }
  }
  console.log(`# attacks: bounces between places: ${tried} tried, ${tried - broken.length} survived`);
  assert.deepEqual(broken, []);
  assert.ok(tried >= 12, `${tried} tried`);
}, { size: { ...PHONE, hasTouch: false, isMobile: false }, setUp: prepared });

scenario('a first press of anything else counts at once, and what does not count is said', async (hands) => {
  const { page } = hands;
  const finger = new Finger(page);
  const middle = async (name, inside = page) => {
    const target = inside.getByRole('button', { name, exact: true }).first();
    await target.evaluate((it) => it.scrollIntoView({ block: 'center' }));
    const { x, y, width, height } = await target.boundingBox();
    return { x: x + width / 2, y: y + height / 2 };
  };
  const dabs = () => page.evaluate(() => Object.values(localStorage).filter((text) => text.includes('"Day: comb"'))
    .flatMap((text) => JSON.parse(text).panels ?? []).flatMap((panel) => panel.dabs ?? []).filter((dab) => !dab.deleted));
  await arrive(hands, 'spray: comb');
  await finger.begin();
  await finger.press(await middle('200'), 0);
  // Another tooth, a moment later: a correction, and not a bounce.
  await finger.press(await middle('250'), 200);
  assert.deepEqual((await dabs()).map((dab) => dab.wetted_um), [250]);
  assert.equal((await looked(page)).refused, false);
  await finger.press(await middle('250'), 260);
  assert.equal((await looked(page)).refused, true);
  await hands.see('Pressed twice, counted once.');
}, { size: { ...PHONE, hasTouch: false, isMobile: false }, setUp: prepared });
