// The scale jumps by 5 g between two rounds: a look at the blank settles it, and no panel is called odd for it. Weights are
// those of the invented law in lib/law.mjs.

import assert from 'node:assert/strict';
import { PANELS, RACK, at, gross, put, record } from '../lib/law.mjs';
import { scenario } from '../lib/scenario.mjs';

const JUMP = 5;
const jumped = (panel, age) => (Number(gross(panel, age)) + JUMP).toFixed(1);

scenario('takes a jump of the scale off once the blank is vouched for, and calls no panel odd', async (hands) => {
  const { page } = hands;
  await hands.open('#/jump/weigh');
  await hands.tap('Begin a round');
  await hands.due('Blank');
  await hands.key('566.4');
  await hands.see(/^\+5\.0 g since the last: nothing left the blank, so the scale has jumped\. Zero it and weigh the blank again\.$/);
  await hands.shot('jump-blank');
  await hands.assertAccessible();
  await hands.assertTargets();
  // Zeroed and weighed again, it is the same.
  await hands.tap('It is right: the scale jumped');
  for (const panel of RACK) {
    await hands.due(panel.label);
    await hands.key(jumped(panel, 120));
    if (panel === RACK.at(-1)) continue;
    await hands.see(new RegExp(`^${panel.label} ${jumped(panel, 120)} g\\. .* with the scale's jump taken off`));
    if (panel === RACK[0]) await hands.shot('jump-panel');
  }
  await hands.see('Done: all 10 weighed.');
  await hands.shot('jump-done');
  const rack = await hands.part('This round').innerText();
  assert.doesNotMatch(rack, /look again/, 'no weight is called odd');

  await page.clock.setFixedTime(at(168));
  await hands.tap('Begin a round');
  await hands.due('Blank');
  await hands.key('566.4');
  for (const panel of RACK) {
    await hands.due(panel.label);
    await hands.key(jumped(panel, 168));
  }
  await hands.see('Done: all 10 weighed.');

  // What was lost is what the law says, as if the scale had stood still.
  await hands.tap('Results', page.getByRole('navigation'));
  for (const panel of PANELS) {
    const card = await hands.panel(panel.label);
    await hands.see(/The scale jumped by \+5\.0 g between 4 d and 5 d, as the blank shows\. That is taken off\./, card);
    const shown = (await hands.figure('Lost so far', card)).value;
    const truth = Number(gross(panel, 0)) - Number(gross(panel, 168));
    assert.ok(Math.abs(shown - truth) < 0.151, `${panel.label} lost ${shown}, the law says ${truth}`);
  }
  await hands.shot('jump-results');
}, { setUp: async (page) => { await put(page, record('jump', [4, 24, 48, 72, 96])); await page.clock.setFixedTime(at(120)); } });
