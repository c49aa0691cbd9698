// Whatever stands in storage: the page comes up, the other tests open, and what cannot be read is kept and can be saved.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { scenario } from '../lib/scenario.mjs';
import { chance, enter, quietTab, store, stored, theTest } from '../lib/kept.mjs';

const TEST = 'comb-scale/test/';
/** So many damaged texts lie on the shelf at a time. */
const AT_ONCE = 150;

/** A test with readings in it, and a quiet tab; the page itself is closed. */
async function begun(hands) {
  await hands.tap('New spray test');
  await hands.tap('Spray');
  await hands.openEntries();
  await enter(hands.page, 'A1 bare', '412.5');
  await hands.page.waitForFunction(() => Object.values(localStorage).some((text) => text.includes('412.5')));
  const test = await theTest(hands.page);
  const quiet = await quietTab(hands);
  await hands.page.close();
  return { quiet, ...test };
}

const titles = (page) => page.locator('article.shelved strong').allInnerTexts();

/** Puts damaged texts beside a whole test, opens the page, and looks at what it makes of them. */
async function tryAll(hands, { quiet, key, text }, damaged) {
  let opened = 0;
  for (let from = 0; from < damaged.length; from += AT_ONCE) {
    const some = damaged.slice(from, from + AT_ONCE);
    await quiet.evaluate(() => localStorage.clear());
    await store(quiet, { [key]: text });
    await quiet.evaluate(([prefix, some]) => some.forEach((text, i) => localStorage.setItem(`${prefix}damaged ${i}`, text)), [TEST, some]);
    const page = await hands.page.context().newPage();
    await page.goto(hands.url);
    await page.locator('article.shelved').nth(some.length).waitFor();
    const shown = await titles(page);
    assert.equal(shown.length, some.length + 1);
    const broken = await page.locator('article.shelved').filter({ hasText: 'Its record is damaged' }).count();
    opened += some.length - broken;
    // The whole one opens, with its reading.
    await page.locator('article.shelved').filter({ hasText: 'Spray test of' }).filter({ hasNotText: 'damaged' }).first().waitFor();
    await page.goto(`${hands.url}#/${key.slice(TEST.length)}/spray`);
    await page.getByText('Every weight and dab, to correct').tap();
    assert.equal(await page.getByLabel('A1 bare', { exact: true }).inputValue(), '412.5');
    // A damaged one can be saved as it stands; nothing in storage was changed.
    const last = some.length - 1;
    await page.goto(`${hands.url}#/${encodeURIComponent(`damaged ${last}`)}/weigh`);
    const save = page.getByRole('button', { name: 'Save its text as a file' });
    if (await save.or(page.getByRole('heading', { name: 'Weigh' })).first().waitFor().then(() => save.count())) {
      const download = page.waitForEvent('download');
      await save.tap();
      const file = await download;
      assert.equal(file.suggestedFilename(), `damaged ${last}.spraytest.txt`);
      const whole = (text) => Buffer.from(text.toWellFormed?.() ?? text);
      assert.deepEqual(readFileSync(await file.path()), whole(some[last]));
    }
    const now = await stored(quiet);
    some.forEach((text, i) => assert.equal(now[`${TEST}damaged ${i}`], text));
    await page.close();
  }
  return opened;
}

scenario('opens the other tests whatever length one is cut to', async (hands) => {
  const test = await begun(hands);
  const lengths = Array.from({ length: test.text.length }, (_, length) => length);
  const opened = await tryAll(hands, test, lengths.map((length) => test.text.slice(0, length)));
  // Without its last line break a record is whole.
  assert.equal(opened, 1);
  console.log(`corrupt texts tried: ${lengths.length} truncations, every length of a test of ${test.text.length} characters`);
});

scenario('opens the other tests whatever bytes stand in one', async (hands) => {
  const test = await begun(hands);
  const random = chance(8);
  const at = () => Math.floor(random() * test.text.length);
  const unit = () => String.fromCharCode(Math.floor(random() * (random() < 0.7 ? 128 : 65536)));
  const damage = [
    () => Array.from({ length: at() / 20 }, unit).join(''),
    (text) => { const place = at(); return text.slice(0, place) + unit() + text.slice(place + 1); },
    (text) => { const place = at(); return text.slice(0, place) + Array.from({ length: 20 }, unit).join('') + text.slice(place); },
    (text) => { const [from, to] = [at(), at()]; return text.slice(0, from) + text.slice(to); },
  ];
  const texts = Array.from({ length: 600 }, (_, i) => damage[i % damage.length](test.text));
  const opened = await tryAll(hands, test, texts);
  assert.ok(opened < texts.length / 2);
  console.log(`corrupt texts tried: ${texts.length} with random bytes, ${opened} of which still were a record`);
});

scenario('comes up whatever the lesser texts are cut to', async (hands) => {
  const { quiet, key, id } = await begun(hands);
  const whole = { ...await stored(quiet), [`comb-scale/bin/${id}`]: '2026-03-02T08:10:00+01:00', [`comb-scale/slip/ab/${id}`]: '' };
  const slip = whole[key];
  let tried = 0;
  for (const [name, text] of [['comb-scale/shelf', whole['comb-scale/shelf']], ['comb-scale/preferences', whole['comb-scale/preferences']], [`comb-scale/slip/ab/${id}`, slip]]) {
    // Every seventh length: each takes a start of the page.
    for (let length = 0; length < text.length; length += Math.max(7, Math.ceil(text.length / 30))) {
      await quiet.evaluate(() => localStorage.clear());
      await store(quiet, { [key]: whole[key], 'comb-scale/shelf': whole['comb-scale/shelf'], 'comb-scale/preferences': whole['comb-scale/preferences'] });
      await store(quiet, { [name]: text.slice(0, length) });
      const page = await hands.page.context().newPage();
      await page.goto(hands.url);
      await page.getByRole('link', { name: /^Spray test of/ }).tap();
      await page.getByRole('link', { name: 'Spray' }).tap();
      await page.getByText('Every weight and dab, to correct').tap();
      assert.equal(await page.getByLabel('A1 bare', { exact: true }).inputValue(), '412.5', `${name} cut to ${length}`);
      await page.close();
      tried += 1;
    }
  }
  console.log(`corrupt texts tried: ${tried} truncations of summaries, preferences and slips, one length in seven or more`);
});

scenario('sets a text that cannot be read aside before another one takes its key', async (hands) => {
  const { quiet, key, text } = await begun(hands);
  const page = await hands.page.context().newPage();
  await page.goto(`${hands.url}#/${key.slice(TEST.length)}/spray`);
  await page.getByText('Every weight and dab, to correct').tap();
  const broken = `${text.slice(0, 300)} and then nothing`;
  await store(quiet, { [key]: broken });
  // Tabs of two processes see each other's storage a moment later.
  await page.waitForFunction(([key, text]) => localStorage.getItem(key) === text, [key, broken]);
  await enter(page, 'A2 bare', '413.5');
  await page.waitForFunction((key) => localStorage.getItem(key)?.includes('413.5'), key);
  assert.ok(Object.entries(await stored(page)).some(([key, text]) => key.startsWith('comb-scale/aside/') && text === broken));
  await page.getByText('All tests').tap();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: /^Save “0\/test/ }).tap();
  assert.equal(readFileSync(await (await download).path(), 'utf8'), broken);
});
