// Ten rounds over three weeks by touch, with what goes wrong in them: a drifted scale, a slip of the decimal point, a
// swapped pair, days in the sun. Weights are those of the invented law in lib/law.mjs;
// nothing is expected of the page that the law does not say.

import assert from 'node:assert/strict';
import { PANELS, RACK, at, gross, put as putRecord, record } from '../lib/law.mjs';
import { scenario } from '../lib/scenario.mjs';

const put = (page) => putRecord(page, record('three-weeks'));

scenario('ten rounds over three weeks, with a drifted scale, a slip, a swap and days in the sun', async (hands) => {
  const { page } = hands;
  await hands.open('#/three-weeks/weigh');
  const round = () => hands.part('This round');
  const stands = (label, grams) => hands.pressable(new RegExp(`^${label} ${grams} g$`), round()).waitFor();
  let sun = 0;

  const walk = async (age, { odd = {} } = {}) => {
    await page.clock.setFixedTime(at(age));
    await hands.tap('Begin a round');
    for (const stop of [{ label: 'Blank' }, ...RACK]) {
      await hands.due(stop.label);
      if (odd[stop.label]) await odd[stop.label](stop, age);
      else await hands.key(stop.label === 'Blank' ? '561.4' : gross(stop, age, sun));
    }
  };

  await walk(4.5);
  await hands.see('Done: all 10 weighed.');
  await hands.shot('rounds-first');
  await walk(24);
  // The scale has drifted by half a gram: said at the blank, before any panel is weighed.
  await walk(48, { odd: { Blank: async () => {
    await hands.key('561.9');
    await hands.see(/^\+0\.5 g since the last: nothing left the blank, so the scale has drifted\. Zero it and weigh the blank again\.$/);
    await hands.shot('rounds-drift');
    await hands.fill('Blank', '561.4');
    await hands.see(/^Blank 561\.4 g\. 0\.0 g since the last: the scale holds\.$/);
  } } });
  // A slip of the decimal point: the number stays up, and the right one is typed over it.
  await walk(72, { odd: { B2: async (stop, age) => {
    await hands.key((Number(gross(stop, age, sun)) * 10).toFixed(0));
    await hands.see(/heavier than before|off what the other weights say/, round());
    await hands.shot('rounds-slip');
    await hands.fill('B2', gross(stop, age, sun));
  } } });
  // One below the bare weight is not even stored.
  await walk(96, { odd: { C1: async (stop, age) => {
    await hands.key((Number(gross(stop, age, sun)) / 10).toFixed(2));
    await hands.see(/below the bare weight/);
    await hands.fill('C1', gross(stop, age, sun));
  } } });

  // Into the sun by day: out at nine, back at five; the days after are one press.
  await page.clock.setFixedTime(at(97));
  await hands.tap('All panels → Sun, now');
  await page.clock.setFixedTime(at(105));
  await hands.tap('All panels → Shop, now');
  await page.clock.setFixedTime(at(154));
  await hands.reload();
  await hands.see(/^All panels went into the sun at 09:00 and back at 17:00 on 6 Mar\. The same on 7 Mar to 8 Mar\?$/);
  await hands.shot('rounds-habit');
  await hands.tap('Yes, note these 2 days');
  await hands.see(/^All panels so far: Shop 5 d 10 h, Sun 1 d\.$/);
  await hands.see('6 moves noted');
  sun = 24;

  // Two panels change places on the scale: said at the second of them, and exchanged with one press.
  const [one, other] = RACK.filter(({ label }) => ['A1', 'A2'].includes(label));
  await walk(168, { odd: {
    [one.label]: async (_, age) => {
      await hands.key(gross(other, age, sun));
      await hands.see(new RegExp(`That is what ${other.label} should weigh|off what the other weights say|heavier than before`), round());
      await hands.tap('Next', round());
    },
    [other.label]: async (_, age) => {
      await hands.key(gross(one, age, sun));
      await hands.see(new RegExp(`This weight and that of ${one.label} fit the other way round: were they swapped on the scale\\?`), round());
      await hands.shot('rounds-swap');
      await hands.tap('They were swapped: exchange them');
    },
  } });
  await hands.see('Done: all 10 weighed.');
  for (const panel of [one, other]) await stands(panel.label, gross(panel, 168, sun));

  // Interrupted in the middle, resumed after a reload where it was left.
  await page.clock.setFixedTime(at(240));
  await hands.tap('Begin a round');
  await hands.due('Blank');
  await hands.key('561.4');
  await hands.due(RACK[0].label);
  await hands.key(gross(RACK[0], 240, sun));
  await hands.due(RACK[1].label);
  await page.clock.setFixedTime(at(240.5));
  await hands.reload();
  await hands.due(RACK[1].label);
  for (const panel of RACK.slice(1)) {
    await hands.due(panel.label);
    await hands.key(gross(panel, 240, sun));
  }
  await hands.see('Done: all 10 weighed.');
  await walk(336);

  // One round was weighed on paper two days ago: entered with its own time.
  await page.clock.setFixedTime(at(456));
  await hands.reload();
  await page.getByText('Enter a round of earlier').tap();
  await hands.field('It was weighed at').fill('2026-03-19T08:00');
  for (const stop of [{ label: 'Blank' }, ...RACK]) {
    await hands.due(stop.label);
    await hands.key(stop.label === 'Blank' ? '561.4' : gross(stop, 408, sun));
  }
  await hands.see(/Round 9 · Thu 19 Mar 08:00/);
  await walk(504);

  // A weight set aside with its reason, and taken in again.
  await hands.tap(/^A2\s/, round());
  await hands.tap('Set it aside …', round());
  await hands.tap('damp, dust or a touch', round());
  await hands.see(/Set aside: damp, dust or a touch\.$/, round());
  await hands.tap('It is right: take it in', round());
  await stands('A2', gross(RACK.find(({ label }) => label === 'A2'), 504, sun));

  await hands.assertAccessible();
  await hands.assertTargets();
  await hands.assertFits();
  await hands.shot('rounds-last');

  // What was lost is what the law says, panel by panel.
  await hands.tap('Results', page.getByRole('navigation'));
  for (const panel of PANELS) {
    const card = await hands.panel(panel.label);
    const shown = (await hands.figure('Lost so far', card)).value;
    const truth = Number(gross(panel, 0)) - Number(gross(panel, 504, sun));
    assert.ok(Math.abs(shown - truth) < 0.101, `${panel.label} lost ${shown}, the law says ${truth}`);
  }
}, { setUp: async (page) => { await put(page); await page.clock.setFixedTime(at(4)); } });

scenario('a round of nine panels is ten numbers and one tap', async (hands) => {
  const { page } = hands;
  await hands.open('#/three-weeks/weigh');
  await page.evaluate(() => { globalThis.taps = 0; addEventListener('click', () => { globalThis.taps += 1; }, true); });
  const begun = performance.now();
  await hands.tap('Begin a round');
  for (const stop of [{ label: 'Blank' }, ...RACK]) {
    await hands.due(stop.label);
    await hands.key(stop.label === 'Blank' ? '561.4' : gross(stop, 24));
  }
  await hands.see('Done: all 10 weighed.');
  const taps = await page.evaluate(() => globalThis.taps);
  const seconds = ((performance.now() - begun) / 1000).toFixed(1);
  const digits = RACK.reduce((sum, panel) => sum + gross(panel, 24).length, 5);
  console.log(`a round of nine panels and the blank: ${taps} tap, ${digits} keys and 10 times enter; the page itself took ${seconds} s`);
  assert.equal(taps, 1);
}, { setUp: async (page) => { await put(page); await page.clock.setFixedTime(at(24)); } });
