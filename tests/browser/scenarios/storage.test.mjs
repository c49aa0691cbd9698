// Where the browser will not keep anything: said at once, and nothing on screen is lost.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { scenario } from '../lib/scenario.mjs';

/** Fills the storage in the middle of a test: from then on every write is refused. */
const fillStorage = (page) => page.evaluate(() => {
  Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };
});

scenario('says at once that storage is full, keeps the entry on screen and offers the file', async (hands) => {
  await hands.tap('New spray test');
  await hands.tap('Spray');
  await hands.openEntries();
  await hands.fill('A1 bare', '412.5');
  await fillStorage(hands.page);
  await hands.fill('A2 bare', '413.5');
  await hands.see(/There is no room left to keep it on this phone/);
  assert.equal(await hands.field('A2 bare').inputValue(), '413.5');
  await hands.tap('Weigh');
  await hands.tap('Spray');
  await hands.openEntries();
  assert.equal(await hands.field('A2 bare').inputValue(), '413.5', 'still there after another place');
  await hands.tap('All tests');
  await hands.back();
  await hands.openEntries();
  assert.equal(await hands.field('A2 bare').inputValue(), '413.5', 'still there after the list of tests');
  await hands.see(/There is no room left/);
  const download = hands.page.waitForEvent('download');
  await hands.tap('Save the record');
  const file = await download;
  assert.match(file.suggestedFilename(), /^Spray test of .*\.spraytest\.txt$/);
  assert.match(readFileSync(await file.path(), 'utf8'), /"gross_g": 413\.5/);
  await hands.shot('storage-full');
  await hands.assertAccessible();
}, { everywhere: true });

scenario('works for as long as the page is open where storage is blocked', async (hands) => {
  await hands.see(/does not let the page keep anything/);
  await hands.tap('New spray test');
  await hands.tap('Spray');
  await hands.openEntries();
  await hands.fill('A1 bare', '412.5');
  await hands.tap('Plan');
  await hands.tap('Spray');
  await hands.openEntries();
  assert.equal(await hands.field('A1 bare').inputValue(), '412.5');
  await hands.see(/does not let the page keep anything/);
  await hands.tap('All tests');
  await hands.tap('See a worked example');
  await hands.assertDrawn();
}, {
  everywhere: true,
  setUp: (page) => page.addInitScript(() => {
    Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('denied', 'SecurityError'); } });
  }),
});

scenario('joins what two tabs write to one test', async (hands) => {
  await hands.tap('New spray test');
  await hands.tap('Spray');
  await hands.openEntries();
  await hands.page.waitForURL(/#\/.+\/spray/);
  const other = await hands.page.context().newPage();
  await other.goto(hands.page.url());
  await other.getByText('Every weight and dab, to correct', { exact: true }).click();
  const field = (page, label) => page.getByLabel(label, { exact: true });
  await field(other, 'B1 bare').fill('501.5');
  await field(other, 'B1 bare').blur();
  await hands.fill('A1 bare', '412.5');
  await field(other, 'B2 bare').fill('502.5');
  await field(other, 'B2 bare').blur();
  for (const page of [hands.page, other]) {
    for (const [label, value] of [['A1 bare', '412.5'], ['B1 bare', '501.5'], ['B2 bare', '502.5']]) {
      await page.waitForFunction(([label, value]) => {
        const labels = [...document.querySelectorAll('label')].filter((it) => it.innerText === label);
        return labels.length === 1 && document.getElementById(labels[0].htmlFor).value === value;
      }, [label, value]);
    }
  }
});

scenario('shows a damaged record instead of losing it', async (hands) => {
  await hands.tap('New spray test');
  await hands.page.waitForURL(/#\/.+\/plan/);
  await hands.page.evaluate(() => {
    const key = Object.keys(localStorage).find((key) => key.startsWith('comb-scale/test/'));
    localStorage.setItem(key, localStorage.getItem(key).slice(0, 200));
  });
  await hands.reload();
  await hands.see(/The record of this test is damaged\. It cannot be read from line \d+, column \d+ on/);
  const download = hands.page.waitForEvent('download');
  await hands.tap('Save its text as a file');
  assert.equal(readFileSync(await (await download).path(), 'utf8').length, 200);
  await hands.shot('damaged');
});
