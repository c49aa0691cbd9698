// Phones whose clocks disagree, a page left open overnight, and hours that a night does not have or has twice.

import assert from 'node:assert/strict';
import { Hands } from '../lib/hands.mjs';
import { theTest } from '../lib/kept.mjs';
import { RACK, at, gross, put, record } from '../lib/law.mjs';
import { scenario } from '../lib/scenario.mjs';

const MIN = 60_000;
const SPRAY = Date.parse('2026-06-14T10:00:00+02:00');

/** Three panels weighed bare, one coat to come; air, mix and comb left out. */
const SPRAY_DAY = {
  format: 'spray-test', version: 1, id: 'day', title: 'Two phones',
  candidates: [{ id: 'c', label: 'Candidate', sheet: { coats: 1 } }],
  skipped: ['air', 'mix', 'comb'].map((step) => ({ step })),
  panels: ['A1', 'A2', 'A3'].map((label, i) => ({ id: label, label, candidate: 'c', bare: [{ at: '2026-06-14T09:00:00+02:00', gross_g: 400 + i }] })),
};

const weights = async (page) => JSON.parse((await theTest(page)).text).panels
  .map(({ label, weigh_ins = [] }) => `${label} ${weigh_ins.map((it) => it.gross_g).join(' ')}`);

/** Types the three wet weights in a row, each when it is asked for. */
async function inARow(hands) {
  for (const [i, grams] of ['430', '433', '436'].entries()) {
    await hands.due(`A${i + 1}, wet weight`);
    await hands.key(grams);
  }
  await hands.see('All panels are sprayed, read and weighed.');
  assert.deepEqual(await weights(hands.page), ['A1 430', 'A2 433', 'A3 436']);
}

scenario('weights typed in a row land under their panels, though the phone that noted the coat is 3 min ahead', async (mine) => {
  const tab = await mine.page.context().browser().newContext({ viewport: { width: 360, height: 640 }, hasTouch: true, isMobile: true, locale: 'en-GB', timezoneId: 'Europe/Berlin' });
  try {
    const other = await tab.newPage();
    await other.clock.setFixedTime(SPRAY + 3 * MIN);
    await put(other, SPRAY_DAY);
    const ahead = new Hands(other, mine);
    ahead.touch = true;
    await ahead.open('#/day/spray');
    await ahead.tap('Coat 1 of 1 sprayed');
    await ahead.due('A1, wet weight');
    const { text } = await theTest(other);

    await mine.page.clock.setFixedTime(SPRAY + 0.2 * MIN);
    await mine.page.getByLabel('Records or reports, one or several').setInputFiles({ name: 'two.txt', mimeType: 'text/plain', buffer: Buffer.from(text) });
    await mine.tap('Keep it on this phone', mine.part('two.txt'));
    await mine.tap('Spray', mine.page.getByRole('navigation'));
    await mine.see(/a clock is 3 min or more off/);
    await inARow(mine);
  } finally {
    await tab.close();
  }
}, { setUp: (page) => page.clock.setFixedTime(SPRAY) });

scenario('a clock set back an hour after the coat changes nothing but what is said', async (hands) => {
  await hands.open('#/day/spray');
  await hands.tap('Coat 1 of 1 sprayed');
  await hands.page.clock.setFixedTime(SPRAY - 59 * MIN);
  await inARow(hands);
  await hands.page.clock.setFixedTime(SPRAY + 5 * MIN);
  await hands.see(/^A clock was set back by 59 min or more while this was noted\./);
}, { setUp: async (page) => { await put(page, SPRAY_DAY); await page.clock.setFixedTime(SPRAY); } });

scenario('the morning weight in a round left open overnight begins a round of its own', async (hands) => {
  await hands.open('#/night/weigh');
  await hands.tap('Begin a round');
  await hands.due('Blank');
  await hands.key('561.4');
  await hands.due(RACK[0].label);
  await hands.page.clock.setFixedTime(at(23.5));
  await hands.key(gross(RACK[0], 23.5));
  await hands.see('The round of Mon 2 Mar 23:58 was over: this weight begins a new one.');
  await hands.see(/^Round \d · Tue 3 Mar 07:30/);
  const test = JSON.parse((await theTest(hands.page)).text);
  const newest = test.panels.find(({ label }) => label === RACK[0].label).weigh_ins.at(-1);
  assert.equal(test.rounds.find(({ id }) => id === newest.round).at, '2026-03-03T07:30:00+01:00');
  assert.equal(newest.at, '2026-03-03T07:30:00+01:00');
}, { setUp: async (page) => { await put(page, record('night', [4])); await page.clock.setFixedTime(at(15 + 58 / 60)); } });

scenario('what is due follows the clock while the page stays open', async (hands) => {
  for (const address of ['#', '#/due/weigh']) {
    await hands.page.clock.setFixedTime(at(15));
    await hands.open(address);
    await hands.see(/^Due next: Tue 3 Mar 0.:00\.$/);
    await hands.page.clock.setFixedTime(at(24.1));
    await hands.see(/^Due since Tue 3 Mar 0.:00\.$/);
  }
}, { setUp: async (page) => { await put(page, { ...record('due', [4]), schedule: [4, 24, 48].map((due_h) => ({ due_h })) }); await page.clock.setFixedTime(at(15)); } });

scenario('an hour that the clock leaves out is refused, and one that comes twice is told', async (hands) => {
  await hands.open('#/summer/weigh');
  await hands.tap('Begin a round');
  await hands.page.getByText('Time, place and scale of this round').tap();
  await hands.field('Weighed at').fill('2026-03-29T02:30');
  await hands.see(/^That time did not exist: the clock was put forward over it\./);
  await hands.field('Weighed at').fill('2026-10-25T02:30');
  await hands.see(/^The clock showed that time twice that night\./);
  const rounds = JSON.parse((await theTest(hands.page)).text).rounds;
  assert.equal(rounds.at(-1).at, '2026-10-25T02:30:00+02:00');
}, { setUp: async (page) => { await put(page, record('summer')); await page.clock.setFixedTime(Date.parse('2026-11-02T10:00:00+01:00')); } });
