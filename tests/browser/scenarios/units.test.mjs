// Units, decimal mark, clock and theme, switched in the middle of a test, in every place: every text follows, and what is
// stored stays byte for byte.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { stored, store } from '../lib/kept.mjs';
import { PHONE, scenario } from '../lib/scenario.mjs';
import { fixtures, full, PLACES, prepare, to, unfoldAll } from '../lib/states.mjs';

const KEY = 'comb-scale/test/full';
const CUSTOMARY = ['mil', 'oz', 'in', 'US fl oz and gal', '°F', 'comma: 12,5', 'Jun 2, 2:10 pm', 'dark'];
const STORED = ['µm', 'g', 'mm', 'mL and L', '°C', 'point: 12.5', '2 Jun 14:10', 'light'];

/** What a person reads in a place with all folds open, and what stands in its fields. */
async function read(hands, place) {
  await to(hands, `/full/${place}`);
  await unfoldAll(hands.page);
  return hands.page.evaluate(() => {
    const fields = [...document.querySelectorAll('main input:not([type=checkbox])')].map((it) => it.value);
    // Sources and the numbers of paragraphs are not measured.
    const text = document.querySelector('main').cloneNode(true);
    text.querySelectorAll('.worked .quiet, .cautions').forEach((it) => it.remove());
    document.body.append(text);
    const said = text.innerText;
    text.remove();
    const charts = [...document.querySelectorAll('canvas')].map((it) => it.ariaLabel).join('\n');
    return `${said}\n${charts}\n${fields.filter((it) => !/^\d{4}-/.test(it)).join('\n')}`;
  });
}

const bracketless = (text) => text.replace(/\([^()]*\)/g, '');
const ground = (page) => page.evaluate(() => ({
  page: getComputedStyle(document.body).backgroundColor,
  bar: document.querySelector('meta[name=theme-color]').content,
  chart: (() => {
    const canvas = document.querySelector('canvas');
    return canvas && [...canvas.getContext('2d').getImageData(2, 2, 1, 1).data].slice(0, 3).join(', ');
  })(),
}));

scenario('a change of units, mark, clock and theme in the middle of a test changes all that is said and nothing that is stored', async (hands) => {
  const { page } = hands;
  const kept = async () => (await stored(page))[KEY];
  // A record of the page's own hand, so that nothing is left to be written out.
  await store(page, { ...fixtures(), [KEY]: JSON.stringify(full()) });
  await to(hands, '/full/plan');
  await hands.fill('Name of the test', 'In the middle');
  const record = await kept();
  const before = {};
  for (const place of PLACES) before[place] = await read(hands, place);
  const light = await ground(page);
  const same = await kept();

  const switchAll = async (choices) => {
    await to(hands, '');
    await hands.unfold('Units on this phone');
    for (const choice of choices) await hands.tap(choice);
  };
  for (const place of PLACES) {
    // Out of the place, over to the other units, and back into it.
    await to(hands, `/full/${place}`);
    await switchAll(CUSTOMARY);
    const said = await read(hands, place);
    assert.deepEqual(bracketless(said).match(/.{0,30}\d\.\d.{0,10}/g) ?? [], [], `${place}: a decimal point`);
    assert.doesNotMatch(said, /\d (µm|mm|g|cm²|mL|L|°C|g\/mL|g\/L)(?![\w/²])/, `${place}: a unit that was switched away`);
    assert.doesNotMatch(said, /\b\d\d:\d\d(?! ?[ap]m)(?!:)/, `${place}: a clock of 24 hours`);
    if (place === 'results') {
      const dark = await ground(page);
      assert.notEqual(dark.page, light.page);
      assert.equal(dark.page, `rgb(${dark.chart})`, 'the chart has the ground of the page');
      assert.equal(dark.bar, '#15181b');
      await hands.shot('units-results', { whole: false });
      const saved = page.waitForEvent('download');
      await hands.tap('Save report');
      const report = readFileSync(await (await saved).path(), 'utf8').split(/<script|<!--/)[0];
      assert.match(report, /\d,\d+ mil/);
    }
    await switchAll(STORED);
    assert.equal(await read(hands, place), before[place], `${place}: as it was`);
    assert.equal(await kept(), same, `${place}: the record, byte for byte`);
  }
  assert.equal(same, record);
}, { size: PHONE, setUp: prepare });

scenario('a number typed in one unit reads back the same, and is the same in the other', async (hands) => {
  const { page } = hands;
  await store(page, fixtures());
  await hands.unfold('Units on this phone');
  for (const choice of CUSTOMARY.slice(0, 7)) await hands.tap(choice);
  await to(hands, '/full/plan');
  await hands.fill('Wanted dry build', '3,15');
  await hands.fill('Width of every panel', '8.5');
  assert.equal(await hands.field('Wanted dry build').inputValue(), '3,15');
  assert.equal(await hands.field('Width of every panel').inputValue(), '8,5', 'either mark is read');
  await hands.fill('Wanted dry build', '30000');
  await hands.see(/must lie between 0 and 787,4 mil/);
  await hands.fill('Wanted dry build', '3,15');
  const test = JSON.parse((await stored(page))[KEY]);
  assert.ok(Math.abs(test.wanted.dry_build_um - 3.15 * 25.4) < 1e-9);
  assert.ok(test.panels.every((panel) => Math.abs(panel.width_mm - 8.5 * 25.4) < 1e-9));
  await to(hands, '');
  await hands.unfold('Units on this phone');
  await hands.tap('µm');
  await hands.tap('mm');
  await to(hands, '/full/plan');
  assert.equal(await hands.field('Wanted dry build').inputValue(), '80,01');
  assert.equal(await hands.field('Width of every panel').inputValue(), '215,9');
}, { size: PHONE, setUp: prepare });

scenario('is dark from the first moment for whoever chose so', async (hands) => {
  const { page } = hands;
  await hands.unfold('Units on this phone');
  await hands.tap('dark');
  await page.route('**/*.wasm', () => {});
  await page.reload({ waitUntil: 'commit' });
  await page.waitForFunction(() => document.documentElement.dataset.theme === 'dark');
  assert.equal(await page.evaluate(() => getComputedStyle(document.documentElement).colorScheme), 'dark');
  await page.unroute('**/*.wasm');
  await page.emulateMedia({ colorScheme: 'dark' });
  await hands.reload();
  await hands.unfold('Units on this phone');
  await hands.tap('as the phone');
  await page.emulateMedia({ colorScheme: 'light' });
  await page.waitForFunction(() => document.documentElement.dataset.theme === 'light');
}, { everywhere: true, needs: ['theme'], colorScheme: 'light' });

const pressed = (page) => page.locator('main button[aria-pressed=true]').allInnerTexts();

for (const [locale, units, own] of [
  ['en-US', 'US', ['US', 'mil', 'g', 'in', 'US fl oz and gal', '°F', 'point: 12.5', 'Jun 2, 2:10 pm', 'as the phone']],
  ['de-DE', 'metric', ['metric', 'µm', 'g', 'mm', 'mL and L', '°C', 'comma: 12,5', '2 Jun 14:10', 'as the phone']],
  ['en-CA', 'metric', ['metric', 'µm', 'g', 'mm', 'mL and L', '°C', 'point: 12.5', '2 Jun 14:10', 'as the phone']],
]) {
  scenario(`a new phone in ${locale} begins with the units and ways of its region, and keeps what is chosen then`, async (hands) => {
    const { page } = hands;
    await hands.see(`Units on this phone: ${units}`);
    const height = await page.evaluate(() => document.documentElement.scrollHeight);
    assert.ok(height <= 1.5 * 640, `the start screen is ${height} px`);
    await hands.unfold('Units on this phone');
    await page.getByText('All units').waitFor();
    assert.deepEqual(await pressed(page), own);
    await hands.tap('oz');
    await hands.see('Units on this phone: mixed');
    await hands.reload();
    await hands.see('Units on this phone: mixed');
    await hands.unfold('Units on this phone');
    await hands.tap(units);
    await hands.see(`Units on this phone: ${units}`);
    assert.deepEqual(await pressed(page), own, 'all of them again');
  }, { size: PHONE, locale });
}
