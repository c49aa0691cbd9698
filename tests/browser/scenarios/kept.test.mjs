// How safely things are kept: room that runs out and is made, storage that is taken away, the bin, the meter, the
// browser's promise, and what a newer page wrote.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { scenario } from '../lib/scenario.mjs';
import { enter, quietTab, store, stored, theTest } from '../lib/kept.mjs';

const EXAMPLE = JSON.parse(readFileSync(new URL('../../../src/record/example.spraytest.txt', import.meta.url), 'utf8'));

async function begun(hands) {
  await hands.tap('New spray test');
  await hands.tap('Spray');
  await hands.openEntries();
}

/** Fills storage to the last character, as other pages of one host may. */
const fill = (page) => page.evaluate(() => {
  let [size, nth] = [1 << 20, 0];
  while (size >= 1) {
    try {
      localStorage.setItem(`filler ${nth}`, 'x'.repeat(size));
      nth += 1;
    } catch {
      size >>= 1;
    }
  }
});

const makeRoom = (page) => page.evaluate(() => {
  for (const key of Object.keys(localStorage)) if (key.startsWith('filler')) localStorage.removeItem(key);
});

scenario('says that storage is full, holds on to the entry, and keeps it once there is room', async (hands) => {
  await begun(hands);
  await hands.fill('A1 bare', '412.5');
  await fill(hands.page);
  await hands.fill('A2 bare', '413.5');
  await hands.see(/Not kept: There is no room left to keep it on this phone/);
  const { text } = await theTest(hands.page);
  assert.ok(text.includes('412.5') && !text.includes('413.5'), 'what was kept is still whole');
  await makeRoom(hands.page);
  await hands.page.getByText(/Not kept/).waitFor({ state: 'detached' });
  assert.match((await theTest(hands.page)).text, /413\.5/);
  await hands.reload();
  await hands.openEntries();
  assert.equal(await hands.field('A2 bare').inputValue(), '413.5');
}, { everywhere: true });

scenario('notices at once that storage was emptied, and writes the test again', async (hands) => {
  await begun(hands);
  await hands.fill('A1 bare', '412.5');
  await hands.page.evaluate(() => localStorage.clear());
  await hands.see(/was erased while it was open/);
  assert.match((await theTest(hands.page)).text, /412\.5/);
  await hands.shot('emptied');
  await hands.assertAccessible();
  await hands.tap('I have read this');
  // From another tab it is heard at once.
  const quiet = await quietTab(hands);
  await quiet.evaluate(() => localStorage.clear());
  await hands.see(/was erased while it was open/);
  await hands.reload();
  await hands.openEntries();
  assert.equal(await hands.field('A1 bare').inputValue(), '412.5');
});

scenario('says at once that storage was blocked while the page was open', async (hands) => {
  await begun(hands);
  await hands.fill('A1 bare', '412.5');
  await hands.page.evaluate(() => {
    Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('denied', 'SecurityError'); } });
  });
  await hands.see(/Not kept: This browser does not let the page keep anything/);
  await hands.fill('A2 bare', '413.5');
  const download = hands.page.waitForEvent('download');
  await hands.tap('Save the record');
  assert.match(readFileSync(await (await download).path(), 'utf8'), /412\.5[^]*413\.5|413\.5[^]*412\.5/);
});

scenario('keeps a removed test in the bin for 30 days on which the page is opened, whatever the clock says', async (hands) => {
  const { page } = hands;
  await page.clock.setFixedTime(new Date('2026-03-02T10:00:00+01:00'));
  await begun(hands);
  await hands.fill('A1 bare', '412.5');
  const { id } = await theTest(page);
  const remove = async () => {
    await hands.tap('Remove …');
    await hands.tap('Put it into the bin');
    await hands.see('In the bin');
    await hands.see(/erased once this page has been opened on 30 more days/);
  };
  await hands.tap('All tests');
  await remove();
  assert.equal(await page.locator('article.shelved').count(), 0);
  await hands.assertFits();
  await hands.assertTargets();
  await hands.assertAccessible();
  await hands.shot('bin');
  await hands.tap('Put it back');
  await page.locator('article.shelved').waitFor();
  await remove();
  // Ten years ahead by mistake, and set right again: one day.
  for (const day of ['2036-03-02', '2026-03-02', '2036-03-02', '2026-03-02']) {
    await page.clock.setFixedTime(new Date(`${day}T10:00:00+01:00`));
    await hands.reload();
    await hands.see(/on 29 more days/);
  }
  // Twenty-eight days later it has been opened on as many: the last one is left.
  await page.evaluate(() => {
    const days = Array.from({ length: 28 }, (_, i) => `2026-04-${String(i + 1).padStart(2, '0')}`);
    const [count, ...dates] = localStorage.getItem('comb-scale/opened').split(' ');
    localStorage.setItem('comb-scale/opened', [Number(count) + days.length, ...dates, ...days].join(' '));
  });
  await hands.reload();
  await hands.see(/on one more day/);
  await page.clock.setFixedTime(new Date('2026-05-01T09:00:00+02:00'));
  await hands.reload();
  await page.getByText('None yet.').waitFor();
  // A note that it is erased is all that is left, for tabs that have it open.
  assert.deepEqual(Object.keys(await stored(page)).filter((key) => key.includes(id)), [`comb-scale/erased/${id}`]);
});

scenario('erases a test from the bin when asked twice, and brings one back that is written on', async (hands) => {
  const { page } = hands;
  await begun(hands);
  const address = page.url();
  await hands.tap('All tests');
  await hands.tap('Remove …');
  await hands.tap('Put it into the bin');
  await page.goto(address);
  await hands.openEntries();
  await hands.fill('A1 bare', '412.5');
  await hands.tap('All tests');
  await page.locator('article.shelved').waitFor();
  await hands.tap('Remove …');
  await hands.tap('Put it into the bin');
  await hands.see('In the bin');
  await hands.tap('Erase now …');
  await hands.tap('Erase it for good');
  await page.getByText('None yet.').waitFor();
  assert.deepEqual(Object.keys(await stored(page)).filter((key) => /\/(test|slip|bin)\//.test(key)), []);
});

for (const [granted, sentence] of [[true, /has agreed to keep them until you delete them/], [false, /has not agreed/]]) {
  scenario(`asks the browser to keep things after the first reading, and says that it ${granted ? 'does' : 'does not'}`, async (hands) => {
    await begun(hands);
    assert.equal(await hands.page.evaluate(() => globalThis.asked), 0);
    await hands.fill('A1 bare', '412.5');
    await hands.fill('A2 bare', '413.5');
    assert.equal(await hands.page.evaluate(() => globalThis.asked), 1, 'asked once');
    await hands.tap('All tests');
    await hands.see(sentence);
    await hands.see(/Some phones erase/);
  }, {
    setUp: (page) => page.addInitScript((granted) => {
      globalThis.asked = 0;
      StorageManager.prototype.persisted = async () => false;
      StorageManager.prototype.persist = async () => { globalThis.asked += 1; return granted; };
    }, granted),
  });
}

/** A record of nine panels, each weighed 25 times, as many phones would have stamped it. */
function fullTest() {
  const at = (hours) => new Date(Date.parse('2026-03-02T09:00:00Z') + hours * 3_600_000).toISOString().replace('.000Z', '+00:00');
  const stamp = (n) => ({ id: `abcdefg-${n}-1`, stamp: `${n}@abcdefg` });
  let n = 1000;
  const next = () => stamp((n += 1));
  const rounds = Array.from({ length: 25 }, (_, i) => ({ ...next(), at: at(1 + i * 8), balance: 'scale', place: 'shop' }));
  const weighed = (start) => rounds.map(({ id, at }, i) => ({ ...next(), at, round: id, balance: 'scale', gross_g: Math.round((start - 9 * (1 - Math.exp(-i / 6))) * 10) / 10 }));
  const panels = Array.from({ length: 9 }, (_, i) => ({
    ...next(), label: `P${i + 1}`, candidate: EXAMPLE.candidates[i % 2].id, width_mm: 300, length_mm: 300, thickness_mm: 1, coated_cm2: 900,
    bare: [{ ...next(), at: at(-1), gross_g: 565 + i / 10, balance: 'scale' }], coats: [{ ...next(), at: at(0) }, { ...next(), at: at(0.5) }],
    dabs: [0, 1, 2].map(() => ({ ...next(), at: at(0.6), comb: 'comb', wetted_um: 150, dry_um: 175 })),
    spots: ['top', 'middle', 'bottom'].map((place) => ({ ...next(), at: at(200), place, readings_um: [81, 83, 80] })),
    weigh_ins: weighed(600 + i),
  }));
  const blanks = [{ ...next(), label: 'Blank', weigh_ins: weighed(565) }];
  return { ...EXAMPLE, invented: false, title: 'A full test', rounds, panels, blanks, moves: [] };
}

scenario('holds sixty full tests, and warns from 60 % of its room on', async (hands) => {
  const { page } = hands;
  const quiet = await quietTab(hands);
  await store(quiet, { 'comb-scale/test/full': JSON.stringify({ ...fullTest(), id: 'full' }) });
  await page.goto(`${hands.url}#/full/plan`);
  // Written once by the page itself, as it writes every test.
  await page.getByRole('heading', { level: 1, name: 'Plan' }).waitFor();
  await hands.tap('Gauge');
  const field = page.locator('input.number').first();
  await field.fill('80');
  await field.blur();
  await page.waitForFunction(() => localStorage.getItem('comb-scale/test/full').includes('\n'));
  const { text } = await theTest(page);
  assert.equal(JSON.parse(text).panels.flatMap((panel) => panel.weigh_ins).length, 225);
  await hands.tap('All tests');
  await page.close();
  const summary = JSON.parse((await stored(quiet))['comb-scale/shelf'])[0];
  const ids = Array.from({ length: 60 }, (_, i) => `full${i}`);
  await quiet.evaluate(([text, ids, summary]) => {
    localStorage.removeItem('comb-scale/test/full');
    for (const id of ids) localStorage.setItem(`comb-scale/test/${id}`, text.replace('"id": "full"', `"id": "${id}"`));
    localStorage.setItem('comb-scale/shelf', JSON.stringify(ids.map((id) => ({ ...summary, id }))));
  }, [text, ids, summary]);
  hands.page = await page.context().newPage();
  await hands.open();
  assert.equal(await hands.page.locator('article.shelved').count(), 60);
  const said = await hands.page.getByText(/% of the room this page allows itself/).innerText();
  const used = Number(/^(\d+) %/.exec(said)[1]);
  assert.ok(used < 100, said);
  console.log(`storage used by 60 full tests (9 panels, 25 weigh-ins each; ${text.length} characters a test): ${said}`);

  const most = 3_050_000;
  await quiet.evaluate((ids) => ids.slice(1).forEach((id) => localStorage.removeItem(`comb-scale/test/${id}`)), ids);
  await store(quiet, { 'comb-scale/aside/0/test/x': 'x'.repeat(most) });
  await hands.reload();
  await hands.see(/Make room: save tests as files/);
  await hands.assertAccessible();
  await hands.shot('make-room');
  await store(quiet, { 'comb-scale/aside/0/test/x': 'x'.repeat(most / 2) });
  await hands.reload();
  assert.equal(await hands.page.getByText(/Make room/).count(), 0);
});

scenario('leaves what a newer page wrote where it is, and opens what an older one wrote', async (hands) => {
  const { page } = hands;
  await begun(hands);
  await hands.fill('A1 bare', '412.5');
  const { key, id, text } = await theTest(page);
  const quiet = await quietTab(hands);
  await page.close();
  const newer = JSON.parse(text);
  newer.version = 7;
  newer.telepathy = { works: true };
  newer.panels[0].smell = ['none', 1.50];
  newer.panels[0].bare[0].mood = 'good';
  newer.wanted = { ...newer.wanted, gloss: 12 };
  const add = (key, change) => quiet.evaluate(([key, change]) => {
    const value = JSON.parse(localStorage.getItem(key));
    const onto = Array.isArray(value) ? value[0] : value;
    localStorage.setItem(key, JSON.stringify(Array.isArray(value) ? [{ ...onto, ...change }] : { ...onto, ...change }));
  }, [key, change]);
  await store(quiet, { [key]: JSON.stringify(newer) });
  await add('comb-scale/shelf', { exported: 'yesterday' });
  await add('comb-scale/preferences', { theme: 'night' });
  hands.page = await page.context().newPage();
  await hands.open(`#/${id}/spray`);
  await hands.openEntries();
  await hands.fill('A2 bare', '413.5');
  await enter(hands.page, 'A1 bare', '412.7');
  await hands.tap('All tests');
  await hands.unfold('Units on this phone');
  await hands.tap('mil');
  const now = await stored(quiet);
  const record = JSON.parse(now[key]);
  assert.equal(record.version, 7);
  assert.deepEqual(record.telepathy, { works: true });
  assert.equal(record.wanted.gloss, 12);
  const panel = record.panels.find((panel) => panel.id === newer.panels[0].id);
  assert.deepEqual(panel.smell, ['none', 1.5]);
  assert.equal(panel.bare.find((bare) => bare.id === newer.panels[0].bare[0].id).mood, 'good');
  assert.match(now[key], /413\.5/);
  assert.equal(JSON.parse(now['comb-scale/shelf'])[0].exported, 'yesterday');
  assert.equal(JSON.parse(now['comb-scale/preferences']).theme, 'night');
  assert.equal(JSON.parse(now['comb-scale/preferences']).film, 'mil');

  // The first form there was: short forms, no ids, no stamps; and the summaries of a page before this one.
  await store(quiet, {
    'comb-scale/test/old': JSON.stringify({ format: 'spray-test', version: 1, id: 'old', title: 'An old one', candidates: [{ label: 'Grey' }], panels: [{ label: 'A1', candidate: 'Grey', bare_g: 399.9 }] }),
    'comb-scale/shelf': JSON.stringify([{ id: 'old', title: 'An old one', about: '', changed: '' }]),
  });
  await hands.reload();
  await hands.tap(/^An old one/);
  await hands.tap('Spray');
  await hands.openEntries();
  assert.equal(await hands.field('A1 bare').inputValue(), '399.9');
});
