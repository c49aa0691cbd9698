// Two painters, two phones: a test handed over and back through files until both have the whole of it; every bad file with
// its one sentence.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { at, gross, PANELS, put, RACK, record } from '../lib/law.mjs';
import { Hands } from '../lib/hands.mjs';
import { PHONE, scenario, suited } from '../lib/scenario.mjs';

const KEY = 'comb-scale/test/week';
const kept = (page) => page.evaluate((key) => JSON.parse(localStorage.getItem(key)), KEY);

/** Picks a file of that name and content on the start screen. */
async function pick(hands, name, content, mimeType = 'text/plain') {
  const buffer = Buffer.isBuffer(content) ? content : Buffer.from(content);
  await hands.page.getByLabel('Records or reports, one or several').setInputFiles({ name, mimeType, buffer });
  return hands.part(name);
}

/** The record as it is saved. */
async function saved(hands) {
  await hands.tap('Results', hands.page.getByRole('navigation'));
  const download = hands.page.waitForEvent('download');
  await hands.tap('Save the record');
  const file = await download;
  assert.equal(file.suggestedFilename(), 'Three weeks.spraytest.txt');
  return readFileSync(await file.path(), 'utf8');
}

async function weigh(hands, age, labels) {
  await hands.page.clock.setFixedTime(at(age));
  await hands.tap('Weigh', hands.page.getByRole('navigation'));
  const left = hands.pressable('Leave the rest unweighed and close this round');
  if (await left.count()) await left.tap();
  await hands.tap('Begin a round');
  for (const label of labels) await hands.weigh(label, label === 'Blank' ? '561.4' : gross(RACK.find((panel) => panel.label === label), age));
}

const weighed = (test) => test.panels.flatMap((panel) => panel.weigh_ins.map((weigh_in) => `${panel.label} ${weigh_in.gross_g}`)).sort();

/** What remains of a record once the order of its lists, which means nothing, is put aside. */
const sorted = (value) => {
  if (Array.isArray(value)) {
    const list = value.map(sorted);
    return list.every((entry) => entry?.id) ? list.sort((a, b) => (a.id < b.id ? -1 : 1)) : list;
  }
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.keys(value).sort().map((key) => [key, sorted(value[key])]));
};

scenario('two painters weigh for a week, exchange files, and end with the same whole test', async (mine) => {
  const { page } = mine;
  const tab = await page.context().browser().newContext({ ...suited(PHONE), locale: 'en-GB', timezoneId: 'Europe/Berlin' });
  try {
    const other = await tab.newPage();
    await other.clock.setFixedTime(at(5));
    const theirs = new Hands(other, mine);
    theirs.touch = true;

    // Day 0: the test goes over, and is looked at before it is kept.
    await mine.open('#/week/weigh');
    const first = await saved(mine);
    await theirs.open();
    let card = await pick(theirs, 'Three weeks.spraytest (1).txt', `\uFEFF${first.replaceAll('\n', '\r\n')}`);
    await theirs.see('This test is not on this phone yet.', card);
    assert.equal(await kept(other), null, 'nothing is kept before the press');
    await theirs.tap('Keep it on this phone', card);
    await other.getByRole('heading', { level: 1, name: 'Results' }).waitFor();

    // Each weighs on other days; both correct the name of one candidate.
    await weigh(mine, 24, ['Blank', ...RACK.map(({ label }) => label)]);
    await weigh(theirs, 48, ['Blank', 'A1', 'A2', 'B1']);
    await weigh(mine, 72, ['Blank', 'C1', 'C2']);
    await weigh(theirs, 96, ['Blank', ...RACK.map(({ label }) => label)]);
    for (const [hands, name] of [[mine, 'Grey primer'], [theirs, 'Grey undercoat']]) {
      await hands.tap('Plan', hands.page.getByRole('navigation'));
      await hands.fill('Name', name, hands.page.getByRole('region', { name: 'Candidate A', exact: true }));
    }

    // Theirs comes back, inside a message; what it brings is said first, and nothing changes yet.
    const back = await saved(theirs);
    const before = await kept(page);
    await mine.tap('All tests');
    card = await pick(mine, 'message.txt', `Here are my weights:\n\n${back}\n\nSee you on Monday`);
    await mine.see(/^New in it: .*2 rounds.*\.$/, card);
    await mine.see(/Grey undercoat|Grey primer/, card);
    await mine.shot('files-preview');
    assert.deepEqual(await kept(page), before);
    await mine.tap('Join it to the test on this phone', card);
    await page.getByRole('heading', { level: 1, name: 'Results' }).waitFor();
    const joined = await kept(page);
    assert.equal(weighed(joined).length, 9 + 9 + 3 + 2 + 9, 'every weight of both');
    assert.equal(joined.rounds.length, 4);

    // One undo gives the state before, and it can be done again.
    await mine.tap('Undo');
    const undone = await kept(page);
    const standing = (test) => weighed({ panels: test.panels.map((panel) => ({ ...panel, weigh_ins: panel.weigh_ins.filter((it) => !it.deleted) })) });
    assert.deepEqual(standing(undone), standing(before));
    await mine.tap('Redo');
    assert.equal(standing(await kept(page)).length, 32);

    // The joined test goes over again, as a report this time; then both have the same.
    const download = page.waitForEvent('download');
    await mine.tap('Save report');
    const report = readFileSync(await (await download).path(), 'utf8');
    await theirs.tap('All tests');
    card = await pick(theirs, 'report.html', report, 'text/html');
    await theirs.tap('Join it to the test on this phone', card);
    await other.getByRole('heading', { level: 1, name: 'Results' }).waitFor();
    assert.deepEqual(sorted(await kept(other)), sorted(await kept(page)));

    // And once more: there is nothing new in it.
    await theirs.tap('All tests');
    card = await pick(theirs, 'again.txt', JSON.stringify(await kept(page)));
    await theirs.see('It says nothing that is not here already.', card);
    await theirs.assertAccessible();
    await theirs.assertFits();
  } finally {
    await tab.close();
  }
}, {
  everywhere: true,
  needs: ['files handed over'],
  setUp: async (page) => {
    await put(page, record('week'));
    await page.clock.setFixedTime(at(5));
  },
});

scenario('shares the record within the tap, as a file that share sheets take', async (hands) => {
  const { page } = hands;
  await hands.open('#/week/results');
  await hands.tap('Send the record');
  // The text of a file is read a moment after the tap.
  await page.waitForFunction(() => globalThis.shared?.text);
  const shared = await page.evaluate(() => globalThis.shared);
  assert.equal(shared.name, 'Three weeks.spraytest.txt');
  assert.equal(shared.type, 'text/plain');
  assert.ok(shared.inTap, 'the permission of the tap had not lapsed');
  assert.equal(JSON.parse(shared.text).title, 'Three weeks');

  await hands.tap('Copy as text');
  await hands.see('Copied. Paste it into a message.');
  const text = await page.evaluate(() => globalThis.copied);
  assert.equal(JSON.parse(text).id, 'week');

  // Remembered, and shown with the test; readings older than a day and not saved since are asked about, gently.
  await hands.tap('All tests');
  await hands.see(/^Last saved as a file Mon 2 Mar 13:00\.$/);
  await hands.back();
  await weigh(hands, 24, ['Blank', 'A1']);
  await page.clock.setFixedTime(at(50));
  await hands.tap('All tests');
  await hands.see(/^Last saved as a file Mon 2 Mar 13:00; readings since 3 Mar are on this phone alone: save or send them\.$/);
}, {
  everywhere: true,
  needs: ['files handed over'],
  setUp: async (page) => {
    await put(page, record('week'));
    await page.clock.setFixedTime(at(5));
    await page.addInitScript(() => {
      navigator.canShare = (data) => data.files.every((file) => /^(text|image)\//.test(file.type));
      navigator.share = (data) => {
        const [file] = data.files;
        globalThis.shared = { name: file.name, type: file.type, inTap: navigator.userActivation.isActive };
        return file.text().then((text) => { globalThis.shared.text = text; });
      };
      Object.defineProperty(navigator, 'clipboard', { value: { writeText: (text) => { globalThis.copied = text; return Promise.resolve(); } } });
    });
  },
});

const whole = JSON.stringify(record('bad'));
const BAD = {
  'empty.txt': ['', /nothing in it|empty/i],
  'binary.jpg': [Buffer.from(Uint8Array.from({ length: 5000 }, (_, i) => (i * 131) % 256)), /./],
  'cut-off.txt': [whole.slice(0, whole.length / 2), /line \d+/],
  'deep.txt': [`{"format":"spray-test","version":1,"notes":${'['.repeat(100_000)}`, /line \d+/],
  'huge.txt': ['x'.repeat(16_000_002), /longer than \d+ MB/],
  'other-program.json': ['{"name":"something","version":"1.2.3","dependencies":{}}', /spray test/],
  'no-record.html': ['<!doctype html><p>Hello</p>', /no spray test in it/],
  'future.txt': [JSON.stringify({ ...record('future'), version: 99 }), null],
  'wrong-types.txt': [JSON.stringify({ ...record('types'), panels: 'many', balances: [{ division_g: 'NaN' }], created: 'yesterday' }), null],
};

scenario('says one sentence about each bad file, keeps what can be kept, and leaves the tests alone', async (hands) => {
  const { page } = hands;
  const before = await page.evaluate(() => JSON.stringify(Object.entries(localStorage).filter(([key]) => key.includes('/test/'))));
  for (const [name, [content, sentence]] of Object.entries(BAD)) {
    const card = await pick(hands, name, content);
    await card.waitFor();
    const text = await card.innerText();
    assert.doesNotMatch(text, /NaN|undefined|panicked/, name);
    if (sentence) {
      const trouble = await card.locator('.trouble').innerText();
      assert.match(trouble, sentence, name);
      assert.ok((trouble.match(/[.!?](\s|$)/g) ?? []).length <= 2, `${name}: ${trouble}`);
    } else {
      assert.match(text, /remark|must|version|cannot|Three weeks/i, name);
    }
    console.log(`${name}: ${text.replace(/\s+/g, ' ').slice(0, 160)}`);
  }
  await hands.see(/^What can be read of it: /, hands.part('cut-off.txt'));
  assert.equal(await page.evaluate(() => JSON.stringify(Object.entries(localStorage).filter(([key]) => key.includes('/test/')))), before);
  await hands.shot('files-bad');
  await hands.assertFits();

  // Names that would be markup or formulas are text wherever they stand.
  const hostile = { ...record('hostile'), title: '<img src=x onerror=alert(1)>', candidates: [{ id: 'A', label: '=HYPERLINK("x")' }, { id: 'B', label: '"><script>alert(1)</script>' }] };
  const card = await pick(hands, 'hostile.txt', JSON.stringify(hostile));
  await hands.tap('Keep it on this phone', card);
  await hands.see('<img src=x onerror=alert(1)>');
});
