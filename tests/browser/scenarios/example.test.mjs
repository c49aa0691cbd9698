// The worked example, from one tap: every place of it at both sizes.

import assert from 'node:assert/strict';
import { fileURLToPath } from 'node:url';
import { DESK, PHONE, scenario } from '../lib/scenario.mjs';

/** Screens that Results takes with its folds as they first stand. */
const MOST_SCREENS = 6;
const TWO_WEEKS_ON = new Date('2026-03-16T10:00:00+01:00');

for (const [where, size] of Object.entries({ phone: PHONE, desk: DESK })) {
  scenario(`shows the worked example on a ${where}`, async (hands) => {
    await hands.tap('See a worked example');
    await hands.see('A worked example: everything in it is invented.');
    await hands.see(/^After day 3, /);
    await hands.assertDrawn();
    await hands.see('Report and files');
    const screens = await hands.page.evaluate(() => document.documentElement.scrollHeight / innerHeight);
    console.log(`# Results of the worked example: ${screens.toFixed(1)} screens of a ${where}`);
    assert.ok(screens <= MOST_SCREENS, `${screens} screens of a ${where}`);
    await hands.assertFits();
    await hands.assertTargets();
    await hands.shot('results');
    await hands.assertAccessible();
    for (const place of ['Plan', 'Spray', 'Weigh', 'Gauge']) {
      await hands.tap(place);
      await hands.page.getByRole('heading', { level: 1, name: place }).waitFor();
      await hands.assertFits();
      await hands.assertTargets();
      await hands.shot(place);
      await hands.assertAccessible();
    }
  }, { size, everywhere: true, setUp: (page) => page.clock.setFixedTime(TWO_WEEKS_ON) });
}

// The README's pictures: `PICTURES=1 node tests/browser/run.mjs example` makes them anew.
if (process.env.PICTURES) {
  scenario('makes the pictures of the README', async (hands) => {
    const { page } = hands;
    const picture = async (name) => {
      // The tint of the last tap fades first.
      await page.waitForTimeout(500);
      await page.screenshot({ path: fileURLToPath(new URL(`../pictures/${name}.png`, import.meta.url)) });
    };
    await hands.tap('See a worked example');
    await hands.see(/^After day 3, /);
    await hands.assertDrawn();
    await picture('results');
    await page.getByRole('heading', { name: 'Side by side' }).evaluate((heading) => heading.scrollIntoView());
    await picture('side-by-side');
    await hands.tap('Weigh');
    await hands.tap('Begin a round');
    await page.waitForFunction(() => document.activeElement?.tagName === 'INPUT');
    await picture('weigh');
    await hands.tap('Plan');
    await page.getByRole('heading', { level: 1, name: 'Plan' }).waitFor();
    await picture('plan');
  }, {
    size: { ...PHONE, viewport: { width: 360, height: 760 }, deviceScaleFactor: 2 },
    setUp: (page) => page.clock.setFixedTime(TWO_WEEKS_ON),
  });
}
