// A round in which things go wrong, each of them met as it is entered: on the worked example, whose figures are invented.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { scenario } from '../lib/scenario.mjs';

const EXAMPLE = JSON.parse(readFileSync(new URL('../../../src/record/example.spraytest.txt', import.meta.url), 'utf8'));
const newest = EXAMPLE.rounds.reduce((a, b) => (new Date(a.at) > new Date(b.at) ? a : b));
const later = new Date(new Date(newest.at).getTime() + 24 * 3_600_000);
const last = Object.fromEntries([...EXAMPLE.blanks, ...EXAMPLE.panels].map(({ label, weigh_ins: list }) =>
  [label, list.find((weigh_in) => weigh_in.round === newest.id).gross_g]));

scenario('meets a drifted scale and a swapped pair as they are entered, and exchanges the pair', async (hands) => {
  await hands.tap('See a worked example');
  await hands.tap('Weigh');
  await hands.tap('Begin a round');
  const blank = EXAMPLE.blanks[0].label;
  await hands.weigh(blank, (last[blank] + 0.8).toFixed(1));
  assert.match(await hands.judgement(), /^\+0\.8 g since the last: .* Zero it and weigh the blank again\./);
  await hands.weigh(blank, last[blank].toFixed(1));
  await hands.see(/the scale holds/);

  const [one, other] = ['G2', 'G3'];
  for (const { label } of EXAMPLE.panels) {
    const weight = label === one ? last[other] : label === other ? last[one] : last[label];
    await hands.weigh(label, weight.toFixed(1));
  }
  await hands.see(/^Look again while they are at hand: G2, G3\.$/);
  await hands.tap(/^G3\s/, hands.part('This round'));
  await hands.see(/fit the other way round: were they swapped on the scale\?/);
  await hands.shot('weigh-swapped');
  await hands.tap('They were swapped: exchange them');
  await hands.page.waitForFunction(() => !document.body.innerText.includes('fit the other way round'));
  for (const label of [one, other]) await hands.pressable(new RegExp(`^${label} ${last[label].toFixed(1)} g$`), hands.part('This round')).waitFor();

  // A slip of the decimal point.
  await hands.tap(/^G1\s/, hands.part('This round'));
  await hands.fill('G1', (last.G1 * 10).toFixed(0));
  assert.match(await hands.judgement(), /off what the other weights say|heavier than before/);
  await hands.assertAccessible();
}, { setUp: (page) => page.clock.setFixedTime(later) });
