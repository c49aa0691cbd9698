// A panel leaves the test while the others are weighed on, and comes back.

import assert from 'node:assert/strict';
import { at, gross, PANELS, put, RACK, record } from '../lib/law.mjs';
import { scenario } from '../lib/scenario.mjs';

const AGES = [4, 24, 48, 72];

scenario('a chipped panel leaves the test in the round, a sold one from the rack, and comes back', async (hands) => {
  const { page } = hands;
  const round = () => hands.part('This round');
  const [chipped, sold] = [RACK[0], RACK[1]];
  await hands.open('#/leaving/weigh');
  await hands.tap('Begin a round');
  await hands.weigh('Blank', '561.4');
  // Three grams of paint are on the floor.
  await hands.weigh(chipped.label, (Number(gross(chipped, 96)) - 3).toFixed(1));
  await hands.see(/less than the curve expected|off what the other weights say/, round());
  await hands.assertFits();
  await hands.tap('It leaves the test …', round());
  await hands.assertTargets();
  await hands.shot('leaving-why', { whole: false });
  await hands.tap('it lost a chip', round());
  await hands.due(sold.label);
  await hands.tap('It leaves the test …', round());
  await hands.tap('it was sold or given away', round());
  for (const panel of RACK.slice(2)) {
    await hands.due(panel.label);
    await hands.key(gross(panel, 96));
  }
  await hands.see('Done: all 9 weighed.');
  await page.clock.setFixedTime(at(120));
  await hands.reload();
  await hands.tap('Begin a round');
  assert.equal(await hands.pressable(new RegExp(`^${chipped.label}\\s`), round()).count(), 0, 'no later round asks for it');
  assert.equal(await hands.pressable(new RegExp(`^${sold.label}\\s`), round()).count(), 0);
  await hands.unfold('Left the test: 2');
  await hands.see(new RegExp(`${chipped.label}: Left the test Fri 6 Mar .*: it lost a chip\\.`));
  await hands.assertAccessible();
  await hands.shot('leaving-gone');
  // The earlier weights of both are still in the answer, and the chip is in none.
  await hands.tap('Results', page.getByRole('navigation'));
  const card = await hands.panel(chipped.label);
  const lost = (await hands.figure('Lost so far', card)).value;
  const panel = PANELS.find(({ label }) => label === chipped.label);
  assert.ok(Math.abs(lost - (Number(gross(panel, 0)) - Number(gross(panel, 72)))) < 0.101, `${lost}`);
  await hands.see('Left the test', card);
  await hands.see(/3 panels each/);
  await hands.tap('Weigh', page.getByRole('navigation'));
  await hands.unfold('Left the test: 2');
  await hands.pressable('It is back in the test').last().tap();
  await hands.see('Left the test: 1');
}, { setUp: async (page) => { await put(page, record('leaving', AGES)); await page.clock.setFixedTime(at(96)); } });
