// What the painter chooses to believe, by touch: how surely a weight is called steady, the data sheet or the weights, and a
// panel weighed again in its round.

import assert from 'node:assert/strict';
import { at, put, record } from '../lib/law.mjs';
import { scenario } from '../lib/scenario.mjs';

const AGES = [4, 24, 48, 72, 144, 240, 336];

/** The three weeks, with sheets that the weights contradict: the coats keep 0.56 to 0.62 of their weight. */
const contradicted = () => {
  const test = record('believed', AGES);
  test.candidates.forEach((candidate) => { candidate.sheet = { solids_by_weight: 0.3 }; });
  test.panels.find((panel) => panel.label === 'A1').weigh_ins.at(-1).repeats_g = [572.9, 573];
  return test;
};

scenario('chooses how sure a steady is, leaves the sheet out and sees a panel weighed again', async (hands) => {
  await hands.open('#/believed/plan');
  await hands.tap('Quick');
  await hands.unfold('What each choice costs');
  await hands.see(/^Quick: 80 % sure\. Calls \d+ of 100 dry panels within three weeks, and [\d.]+ of 100 too early\.$/);
  await hands.assertFits();
  await hands.shot('believed-plan');

  await hands.tap('Results');
  const card = await hands.panel('A1');
  await hands.tap('Leave the sheet out', card);
  await hands.see(/solids are left out of the forecast, as you chose/, card);
  await hands.assertFits();
  await hands.shot('believed-results');
  await hands.tap('Take the sheet in again', card);
  await card.getByText('Leave the sheet out').waitFor();
  assert.equal(await card.getByText(/as you chose/).count(), 0);

  await hands.reload();
  await hands.tap('Plan');
  assert.equal(await hands.page.getByRole('button', { name: 'Quick' }).getAttribute('aria-pressed'), 'true');
}, { setUp: async (page) => { await put(page, contradicted()); await page.clock.setFixedTime(at(340)); } });
