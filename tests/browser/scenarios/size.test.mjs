// A test as large as one may be: it opens, takes a weight, and shows every fold of its results. How long each task of the page
// took is told, not asserted: a busy machine can stand still for many seconds.

import assert from 'node:assert/strict';
import { scenario } from '../lib/scenario.mjs';
import { store } from '../lib/kept.mjs';
import { record } from '../../bench/page/records.mjs';

const [CANDIDATES, PANELS, VISITS] = [24, 120, 24];

/** The record with as many candidates as a test holds, its panels dealt out among them. */
function large() {
  const test = record('large', PANELS, VISITS);
  const [like] = test.candidates;
  test.candidates = Array.from({ length: CANDIDATES }, (_, i) => ({ ...like, id: `c${i}`, stamp: `${2000 + i}@abcdefg`, label: `Primer ${i + 1}` }));
  test.panels.forEach((panel, i) => { panel.candidate = `c${i % CANDIDATES}`; });
  return JSON.stringify(test);
}

/** The longest task of the page since it was last asked, ms. */
const longest = (page) => page.evaluate(() => {
  const worst = Math.max(0, ...globalThis.tasks.splice(0));
  return Math.round(worst);
});

/** Opens what is folded, so many at a time, until `most` are open or none is shut; gives how many were opened. */
const unfold = (page, most, atOnce) => page.evaluate(async ([most, atOnce]) => {
  let opened = 0;
  for (let some; opened < most && (some = [...document.querySelectorAll('main details:not([open]) > summary')].slice(0, atOnce)).length > 0;) {
    some.forEach((summary) => summary.click());
    opened += some.length;
    await new Promise((drawn) => requestAnimationFrame(drawn));
  }
  return opened;
}, [most, atOnce]);

scenario('works with the largest test there may be', async (hands) => {
  const { page } = hands;
  await store(page, { 'comb-scale/test/large': large() });
  const told = [];
  const after = async (what) => told.push(`${what} ${await longest(page)}`);
  await page.goto('about:blank');
  await hands.open('#/large/weigh');
  await after('opened');
  await hands.tap(/^Begin a round/);
  await hands.workedOut();
  await after('round begun');
  const weight = page.locator('input.number').filter({ visible: true }).first();
  await weight.fill('561.4');
  await weight.press('Enter');
  await hands.workedOut();
  await after('blank weighed');
  await hands.tap('Results');
  await hands.said();
  await page.getByRole('heading', { name: 'Side by side' }).waitFor();
  await after('results');
  await after(`${await unfold(page, 100, 1)} folds`);
  // Each draws the whole long page anew: the rest in a few strokes.
  await after(`${await unfold(page, Infinity, CANDIDATES)} more, ${CANDIDATES} at a time`);
  assert.equal(await page.locator('.row .row-name').count(), 13);
  assert.ok(await page.locator('.row .worked').count() >= 13 * CANDIDATES, 'each candidate has its working in each row');
  await hands.tap('Plan');
  await page.getByRole('heading', { name: 'What this plan can tell apart' }).waitFor();
  await after('plan');
  // Full is full, in a sentence: of candidates, and of the panels that would come with one.
  await hands.tap(/^Add a candidate/);
  await page.getByText(/Not added: a test holds at most (24 candidates|120 panels)/).waitFor();
  console.log(`longest task of the page, ms: ${told.join(', ')}`);
}, {
  setUp: (page) => page.addInitScript(() => {
    globalThis.tasks = [];
    new PerformanceObserver((list) => globalThis.tasks.push(...list.getEntries().map((task) => task.duration))).observe({ type: 'longtask', buffered: true });
  }),
});
