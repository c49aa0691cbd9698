// What may differ from engine to engine: the last digit of a number, what stands where with large letters, dark, the report.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { crowded, paleTexts, tight } from '../lib/look.mjs';
import { scenario } from '../lib/scenario.mjs';
import { unfoldAll } from '../lib/states.mjs';

const PLACES = ['Plan', 'Spray', 'Weigh', 'Gauge', 'Results'];
const LATER = { setUp: (page) => page.clock.setFixedTime(new Date('2026-03-20T12:00:00+01:00')) };

/** Opens the worked example, and gives what `look` finds in each of its places, each line with the place. */
async function inEveryPlace(hands, look) {
  const found = [];
  for (const place of PLACES) {
    await hands.tap(place, hands.page.getByRole('navigation'));
    await hands.page.getByRole('heading', { level: 1, name: place }).waitFor();
    await hands.workedOut();
    found.push(...(await look(hands.page, place)).map((line) => `${place}: ${line}`));
  }
  return found;
}

async function example(hands) {
  await hands.tap('See a worked example');
  await hands.said();
}

scenario('finds the same as every other engine and as the native program, to the last digit', async (hands) => {
  await example(hands);
  await unfoldAll(hands.page);
  const download = hands.page.waitForEvent('download');
  await hands.tap('Results', hands.page.locator('details').filter({ hasText: 'Tables for a spreadsheet' }).last());
  const table = readFileSync(await (await download).path(), 'utf8').replace(/^\uFEFF/, '').split('\r\n');
  const native = readFileSync(new URL('../../share/example-results.csv', import.meta.url), 'utf8').split(/\r?\n/);
  assert.deepEqual(table, native);
}, { everywhere: true, locale: 'en-US', ...LATER });

scenario('shows every place whole, and with letters of twice the size', async (hands) => {
  await example(hands);
  assert.deepEqual(await inEveryPlace(hands, async (page) => [...await crowded(page), ...await tight(page)]), []);
  await hands.page.evaluate(() => { document.documentElement.style.fontSize = '200%'; });
  assert.deepEqual(await inEveryPlace(hands, async (page, place) => {
    await hands.shot(`large-${place}`, { whole: false });
    return crowded(page);
  }), []);
}, { everywhere: true, ...LATER });

scenario('is dark in every place for whoever chose so, charts and all, and stays so', async (hands) => {
  const { page } = hands;
  await hands.unfold('Units on this phone');
  await hands.tap('dark');
  await example(hands);
  const pale = await inEveryPlace(hands, async (_, place) => {
    await hands.shot(`dark-${place}`, { whole: false });
    return paleTexts(page);
  });
  assert.deepEqual(pale, []);
  await hands.assertDrawn();
  const [ground, chart] = await page.evaluate(() => [
    getComputedStyle(document.body).backgroundColor,
    [...document.querySelector('canvas').getContext('2d').getImageData(2, 2, 1, 1).data].slice(0, 3).join(', '),
  ]);
  assert.equal(ground, `rgb(${chart})`, 'the chart has the ground of the page');
  await hands.reload();
  assert.equal(await page.evaluate(() => document.documentElement.dataset.theme), 'dark');
}, { everywhere: true, ...LATER });

scenario('makes the report, as a file', async (hands) => {
  await example(hands);
  const download = hands.page.waitForEvent('download');
  await hands.tap('Save report');
  const report = readFileSync(await (await download).path(), 'utf8');
  assert.match(report, /Gate undercoats/);
  assert.doesNotMatch(report, /NaN|undefined|Infinity/);
}, { everywhere: true, ...LATER });
