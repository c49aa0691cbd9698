// What may be handed over: a copy of a damaged test, two records in one message, a copy joined, taken back and joined again,
// what was taken out brought back, another test under the same id, the example's id. Nothing is lost, nothing stands where
// something else was.

import assert from 'node:assert/strict';
import { at, record } from '../lib/law.mjs';
import { store, stored } from '../lib/kept.mjs';
import { scenario } from '../lib/scenario.mjs';

const KEY = 'comb-scale/test/';
const ID = 'week';

/** Opens the start screen and pastes a text there; gives the cards of what is found in it. */
async function paste(hands, text) {
  await hands.open('#');
  await hands.page.getByText('Paste a record or a message with one in it').tap();
  await hands.field('The text').fill(text);
  await hands.tap('Look at it');
  return hands.page.getByRole('group', { name: /^What was pasted/ });
}

const kept = async (hands, id) => JSON.parse((await stored(hands.page))[KEY + id] ?? 'null');
const standing = (test) => test.panels.filter((panel) => !panel.deleted).flatMap((panel) => panel.weigh_ins.filter((it) => !it.deleted)).length;

/** The test with one weighing more, of A1, as another phone would hand it over. */
function withOneMore() {
  const copy = record(ID, [24]);
  const panel = copy.panels.find(({ label }) => label === 'A1');
  panel.weigh_ins = [...(panel.weigh_ins ?? []), { id: 'theirs-1', stamp: '90@theirs', at: at(48).toISOString(), gross_g: panel.weigh_ins?.[0]?.gross_g ?? 440 }];
  return copy;
}

const mine = () => JSON.stringify(record(ID, [24]));

async function joined(hands, press = 'Join it to the test on this phone') {
  const card = await paste(hands, JSON.stringify(withOneMore()));
  const said = await card.innerText();
  await hands.tap(press, card);
  await hands.page.getByRole('heading', { level: 1, name: 'Results' }).waitFor();
  return said;
}

const ATTACKS = {
  async 'a copy of a test whose text here is damaged'(hands) {
    const damaged = mine().slice(0, 900);
    await store(hands.page, { [KEY + ID]: damaged });
    const card = await paste(hands, mine());
    await hands.see(/its text here is damaged/, card);
    await hands.tap('Keep it on this phone', card);
    await hands.page.getByRole('heading', { level: 1, name: 'Results' }).waitFor();
    const texts = await stored(hands.page);
    assert.equal(JSON.parse(texts[KEY + ID]).id, ID);
    assert.equal(texts[`comb-scale/aside/0/test/${ID}`], damaged, 'the damaged text is set aside');
    await hands.open('#');
    await hands.see(/^Set aside: text kept here that could not be read/);
  },

  async 'a copy joined, taken back, and joined again'(hands) {
    await store(hands.page, { [KEY + ID]: mine() });
    const count = standing(JSON.parse(mine()));
    const first = await joined(hands);
    assert.match(first, /New in it: 1 weigh-in\./);
    assert.equal(standing(await kept(hands, ID)), count + 1);
    await hands.tap('Undo');
    assert.equal(standing(await kept(hands, ID)), count);
    await hands.reload();
    assert.match(await joined(hands), /New in it: 1 weigh-in\./, 'as if it had not been');
    assert.equal(standing(await kept(hands, ID)), count + 1);
  },

  async 'a join taken back while another tab has the test open'(hands) {
    await store(hands.page, { [KEY + ID]: mine() });
    const count = standing(JSON.parse(mine()));
    await joined(hands);
    const other = await hands.page.context().newPage();
    await other.goto(`${hands.url}#/${ID}/weigh`);
    await other.getByRole('heading', { level: 1, name: 'Weigh' }).waitFor();
    await hands.tap('Undo');
    const all = (await hands.page.evaluate(() => Object.keys(localStorage))).length;
    assert.ok(all > 0);
    await other.reload();
    await other.getByRole('heading', { level: 1, name: 'Weigh' }).waitFor();
    await other.close();
    await hands.reload();
    assert.equal(standing(await kept(hands, ID)), count);
    await joined(hands);
    assert.equal(standing(await kept(hands, ID)), count + 1);
  },

  async 'a panel taken out here, weighed on the other phone, and brought back'(hands) {
    const out = JSON.parse(mine());
    Object.assign(out.panels.find(({ label }) => label === 'A1'), { deleted: true, edited: { deleted: '80@mine' } });
    await store(hands.page, { [KEY + ID]: JSON.stringify(out) });
    const said = await joined(hands, 'Join it and bring back panel A1');
    assert.match(said, /Panel A1 stays taken out/);
    const panel = (await kept(hands, ID)).panels.find(({ label }) => label === 'A1');
    assert.ok(!panel.deleted && panel.weigh_ins.some(({ id }) => id === 'theirs-1'));
  },

  async 'two records in one message'(hands) {
    const [one, two] = [{ ...record('one'), title: 'Gates' }, { ...record('two'), title: 'Doors' }];
    const cards = await paste(hands, `Both: ${JSON.stringify(one)}\nand ${JSON.stringify(two)}. Bye`);
    assert.equal(await cards.count(), 2);
    await hands.see('What was pasted: 1 of 2');
    await hands.tap('Keep it on this phone', cards.nth(1));
    await hands.page.getByRole('heading', { level: 1, name: 'Results' }).waitFor();
    assert.equal((await kept(hands, 'two')).title, 'Doors');
    assert.equal(await kept(hands, 'one'), null);
  },

  async 'another test under the id of one that is here'(hands) {
    await store(hands.page, { [KEY + ID]: mine() });
    const other = { ...record(ID), title: 'Another', created: '2026-01-01T08:00:00Z' };
    const card = await paste(hands, JSON.stringify(other));
    await hands.see('It looks like another test, not a copy of this one.', card);
    await hands.tap('Keep it as a test of its own', card);
    await hands.page.getByRole('heading', { level: 1, name: 'Results' }).waitFor();
    assert.deepEqual(await kept(hands, ID), JSON.parse(mine()), 'the one that was here is as it was');
    const titles = Object.entries(await stored(hands.page)).filter(([key]) => key.startsWith(KEY)).map(([, text]) => JSON.parse(text).title);
    assert.ok(titles.includes('Another'));
  },

  async 'a file with the id of the worked example'(hands) {
    const card = await paste(hands, JSON.stringify({ ...record('worked-example'), title: 'My own' }));
    await hands.tap('Keep it on this phone', card);
    await hands.page.getByRole('heading', { level: 1, name: 'Results' }).waitFor();
    await hands.open('#');
    await hands.tap('See a worked example');
    await hands.see('A worked example: everything in it is invented.');
  },

  async 'a weighing of tomorrow'(hands) {
    await store(hands.page, { [KEY + ID]: mine() });
    await hands.page.clock.setFixedTime(at(25));
    const card = await paste(hands, JSON.stringify(withOneMore()));
    await hands.see(/^Its newest reading is of Wed 4 Mar/, card);
    await hands.page.clock.setFixedTime(at(60));
  },

  async 'weights of a round that was removed on another phone'(hands) {
    const test = record(ID, [24]);
    const [round] = test.rounds;
    Object.assign(round, { deleted: true, edited: { deleted: '80@other' } });
    await store(hands.page, { [KEY + ID]: JSON.stringify(test) });
    await hands.open(`#/${ID}/weigh`);
    await hands.see(/weights count that belong to the removed round of/);
    await hands.tap('Bring the round back');
    await hands.page.waitForFunction(() => !document.body.innerText.includes('belong to the removed round'));
    assert.ok(!(await kept(hands, ID)).rounds.find(({ id }) => id === round.id).deleted);
  },
};

scenario('what is handed over costs nothing that is here', async (hands) => {
  const broken = [];
  for (const [name, attack] of Object.entries(ATTACKS)) {
    await hands.open('#');
    await hands.page.evaluate(() => localStorage.clear());
    await hands.reload();
    try {
      await attack(hands);
    } catch (error) {
      broken.push(`${name}: ${error.message}`);
    }
  }
  const tried = Object.keys(ATTACKS).length;
  console.log(`attacks: record in the browser: ${tried} tried, ${tried - broken.length} survived`);
  assert.deepEqual(broken, []);
}, { setUp: (page) => page.clock.setFixedTime(at(60)) });
