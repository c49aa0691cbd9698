// A week at the scale in which nearly everything goes wrong that a shop has to offer. Weights are those of the invented law in
// lib/law.mjs; whatever happened, what was lost in the end is what the law says.

import assert from 'node:assert/strict';
import { PANELS, RACK, at, gross, put, record } from '../lib/law.mjs';
import { scenario } from '../lib/scenario.mjs';

const KEY = 'comb-scale/test/mishaps';
const kept = (page) => page.evaluate((key) => JSON.parse(localStorage.getItem(key)), KEY);
const there = (list) => (list ?? []).filter((entry) => !entry.deleted);
const of = (label) => PANELS.find((panel) => panel.label === label);

/** The kept weights of a panel or blank in the newest round, g. */
async function inNewestRound(page, label) {
  const test = await kept(page);
  const round = there(test.rounds).reduce((a, b) => (Date.parse(b.at) > Date.parse(a.at) ? b : a));
  const owner = [...test.panels, ...test.blanks].find((it) => it.label === label);
  return there(owner.weigh_ins).filter((weigh_in) => weigh_in.round === round.id).map((weigh_in) => weigh_in.gross_g);
}

scenario('a week of mishaps ends with the weights that were meant', async (hands) => {
  const { page } = hands;
  const round = () => hands.part('This round');
  const weight = (label, age) => (label === 'Blank' ? '561.4' : gross(of(label), age));
  const begin = async (age) => {
    await page.clock.setFixedTime(at(age));
    await hands.tap('Begin a round');
  };
  const rest = async (age, labels) => {
    for (const label of labels) {
      await hands.due(label);
      await hands.key(weight(label, age));
    }
    await hands.see('Done: all 10 weighed.');
  };
  const rack = RACK.map(({ label }) => label);

  await hands.open('#/mishaps/weigh');

  // Day 1: numbers typed one panel too early, noticed at the third, and taken back one by one.
  await begin(24);
  await hands.key('561.4');
  for (const [i, label] of rack.slice(0, 2).entries()) {
    await hands.due(label);
    await hands.key(weight(rack[i + 1], 24));
    if (!(await hands.field(rack[i + 1]).count())) await hands.tap('Next', round());
  }
  await hands.tap('Undo');
  await hands.tap('Undo');
  for (const label of rack.slice(0, 2)) assert.deepEqual(await inNewestRound(page, label), [], `${label} after two undos`);
  for (const label of rack.slice(0, 2)) await hands.weigh(label, weight(label, 24));
  await rest(24, rack.slice(2));

  // Day 2: the battery dies with half a number typed; the round is gone on with where it stood.
  await begin(48);
  await hands.key('561.4');
  await hands.due(rack[0]);
  await hands.key(weight(rack[0], 48));
  await hands.due(rack[1]);
  await page.keyboard.type('58');
  await hands.reload();
  assert.deepEqual(await inNewestRound(page, rack[1]), [], 'half a number is no weight');
  await hands.weigh(rack[1], weight(rack[1], 48));
  await rest(48, rack.slice(2));

  // Day 3: a candidate is removed by mistake in the middle of a round, and comes back whole.
  await begin(72);
  await hands.key('561.4');
  await hands.due(rack[0]);
  await hands.key(weight(rack[0], 72));
  const before = await kept(page);
  await hands.tap('Plan', page.getByRole('navigation'));
  const first = hands.part('Candidate A');
  await hands.tap('Remove this candidate', first);
  assert.ok(there((await kept(page)).candidates).length < there(before.candidates).length, 'it is gone');
  await hands.tap('Undo');
  await hands.tap('Weigh', page.getByRole('navigation'));
  await rest(72, rack.slice(1));
  assert.equal(there((await kept(page)).candidates).length, there(before.candidates).length);

  // Day 4: the blank's weight under a panel, and the panel's under the blank.
  await begin(96);
  await hands.due('Blank');
  await hands.key(weight(rack[0], 96));
  await hands.see(`That is what ${rack[0]} should weigh: is ${rack[0]} on the scale?`, round());
  await hands.fill('Blank', '561.4');
  await hands.due(rack[0]);
  await hands.key('561.4');
  await hands.see('That is what Blank should weigh: is Blank on the scale?', round());
  await hands.fill(rack[0], weight(rack[0], 96));
  await rest(96, rack.slice(1));

  // Day 5: a weight emptied by a slip of the thumb, taken back.
  await begin(120);
  await hands.key('561.4');
  await hands.due(rack[0]);
  await hands.key(weight(rack[0], 120));
  // The panel before is still on the scale; and a digit is left out.
  await hands.due(rack[1]);
  await hands.key(weight(rack[0], 120));
  await hands.see(/below the bare weight/, round());
  await hands.fill(rack[1], weight(rack[1], 120));
  await hands.due(rack[2]);
  await hands.key(weight(rack[2], 120).slice(1));
  await hands.see(/below the bare weight/);
  await hands.fill(rack[2], weight(rack[2], 120));
  await rest(120, rack.slice(3));
  await hands.tap(new RegExp(`^${rack[3]}\\s`), round());
  await hands.fill(rack[3], '');
  assert.deepEqual(await inNewestRound(page, rack[3]), []);
  await hands.tap('Undo');
  assert.deepEqual((await inNewestRound(page, rack[3])).map(String), [String(Number(weight(rack[3], 120)))]);
  await hands.tap('Next', round());
  await hands.see('Done: all 10 weighed.');

  // Day 6: the panels were never carried out; and a whole round is typed with commas.
  await page.clock.setFixedTime(at(143));
  await hands.tap('All panels → Sun, now');
  await hands.see('1 move noted');
  await hands.tap('Undo');
  await begin(144);
  await hands.key('561,4');
  for (const label of rack) {
    await hands.due(label);
    await hands.key(weight(label, 144).replace('.', ','));
  }
  await hands.see('Done: all 10 weighed.');

  // Day 7: two tabs weigh one round.
  await begin(168);
  await hands.key('561.4');
  const other = await page.context().newPage();
  await other.clock.setFixedTime(at(168.1));
  await other.goto(`${hands.url}#/mishaps/weigh`);
  await other.waitForFunction(() => document.querySelector('main section.round'));
  for (const label of rack.slice(0, 4)) {
    await hands.due(label);
    await hands.key(weight(label, 168));
  }
  const there4 = (label) => other.waitForFunction((label) => document.activeElement?.id
    && document.querySelector(`label[for=${document.activeElement.id}]`)?.innerText.trim() === label, label);
  await other.bringToFront();
  const left = other.locator('.rack button').filter({ hasText: rack[4] });
  await left.first().click();
  for (const label of rack.slice(4)) {
    await there4(label);
    await other.keyboard.type(weight(label, 168));
    await other.keyboard.press('Enter');
  }
  await other.close();
  await page.bringToFront();
  // The field that was up here while the other tab weighed is left as it is: nothing that stands there is taken out.

  await hands.tap('Results', page.getByRole('navigation'));
  for (const panel of PANELS) {
    const card = await hands.panel(panel.label);
    const shown = (await hands.figure('Lost so far', card)).value;
    const truth = Number(gross(panel, 0)) - Number(gross(panel, 168));
    assert.ok(Math.abs(shown - truth) < 0.101, `${panel.label} lost ${shown}, the law says ${truth}`);
  }
}, { setUp: async (page) => { await put(page, record('mishaps', [4])); await page.clock.setFixedTime(at(5)); } });
