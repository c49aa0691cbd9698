// The plan on a phone, from the empty page to the calendar; a slip of the pour; two painters with other units. Grams are
// worked out here by hand.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import ICAL from 'ical.js';
import { card, mix, totals, unfold } from '../lib/planning.mjs';
import { PANELS, put, record as law } from '../lib/law.mjs';
import { scenario } from '../lib/scenario.mjs';

const NOW = new Date('2026-03-01T09:00:00+01:00');
const at = { setUp: (page) => page.clock.setFixedTime(NOW) };

/** The record of the only test, as the phone keeps it. */
const record = (hands) => hands.page.evaluate(() => {
  const key = Object.keys(localStorage).find((name) => name.startsWith('comb-scale/test/'));
  const kept = JSON.parse(localStorage.getItem(key));
  return typeof kept === 'string' ? JSON.parse(kept) : kept;
});

scenario('plans a test from the empty page to the calendar', async (hands) => {
  await hands.tap('New spray test');
  await hands.fill('Name of the test', 'Gate undercoats; spring');
  await hands.fill('Width of every panel', '200');
  await hands.fill('Length of every panel', '300');
  const a = card(hands, 'Candidate A');

  // A sheet: what is missing says what it costs, what is there does not.
  await unfold(hands, /^Data sheet: 0 of 15 lines$/, a);
  await unfold(hands, 'What the empty lines cost', a);
  await hands.see(/^Solids by volume: no build by the data sheet/, a);
  await hands.fill('Solids by volume', '50', a);
  assert.equal(await a.getByText(/^Solids by volume: no build by the data sheet/).count(), 0);
  await hands.fill('Coats', '2', a);
  await hands.fill('Wet film of a coat', '120', a);
  await hands.fill('Air it may be sprayed in', '15', a);
  await hands.see(/^Type two temperatures/, a);
  await hands.fill('Air it may be sprayed in', '15 30', a);
  await hands.see('Data sheet: 4 of 15 lines', a);

  // The amount: 3 faces of 300 × 400 mm with 50 mm over each edge, 0.36 m² × 120 µm × 2 coats / 0.5 + 50 mL = 222.8 mL.
  await mix(hands, a);
  await hands.see('Mix: 4 : 1 : 1 by volume', a);
  await hands.see(/^Worked out from the panels: 223 mL\. Assumed: 50 mm sprayed over each edge; half of what is sprayed lands; 50 mL stay in cup and gun\.$/, a);
  await hands.shot('plan-mix');
  await hands.fill('How much to mix', '300', a);
  await unfold(hands, /^Pour on the scale$/, a);
  await hands.see(/^Tare the empty cup and leave it on: Base first\.$/, a);
  assert.deepEqual(await totals(a), [['Base', '290.0 g'], ['Hardener', '342.5 g'], ['Reducer', '386.0 g']]);
  const figure = await a.locator('.totals .total').first().evaluate((it) => parseFloat(getComputedStyle(it).fontSize));
  assert.ok(figure >= 44, `${figure} px are not read from a metre`);

  // The order: drawn, shown, drawn again from the same seed.
  await hands.tap('Draw the order');
  const order = () => hands.page.locator('.order').innerText();
  const drawn = await order();
  assert.match(drawn, /^Candidate [AB], then Candidate [AB]\.$/);
  const seed = await hands.field('Seed of the draw').inputValue();
  await hands.fill('Seed of the draw', `${seed}x`);
  await hands.fill('Seed of the draw', seed);
  assert.equal(await order(), drawn);
  const racks = (await record(hands)).panels.map((panel) => panel.rack).sort();
  assert.deepEqual(racks, ['1', '2', '3', '4', '5', '6']);

  // The scale, weighed five times: 0.0707 g, and √(0.0707² + 0.1²/12) × 2 = 0.15 g for one reading.
  await hands.fill('One panel, weighed five times', '412.3 412,3 412.4 412.3 412.2');
  await hands.see(/spread 0\.071 g \(standard deviation\)\. One reading is good to about 0\.15 g either way\./);

  // When to weigh: sprayed at 10:00, kept from 7 to 17: 8 h comes an hour early.
  await hands.field('Day and hour of spraying').fill('2026-03-02T10:00');
  await hands.field('Day and hour of spraying').blur();
  await hands.fill('I can weigh from', '7');
  await hands.fill('until', '25');
  await hands.see(/^An hour of the day lies between 0 and 24/);
  await hands.fill('until', '17');
  await hands.tap('Set the usual times');
  assert.equal(await hands.page.evaluate(() => document.activeElement.tagName), 'BUTTON', 'no keys come up over the times');
  await hands.see('8 h is outside your hours: moved to Mon 2 Mar 17:00, 7 h.');
  await hands.see('Tue 3 Mar 10:00, after 1 d');

  await hands.see(/^3 panels of each will tell two primers apart, four times in five, if they differ by 15 % or more\.$/);
  await hands.see(/^One step of the scale, 0\.1 g, is 1\.9 µm of lost film\.$/);

  const [saved] = await Promise.all([hands.page.waitForEvent('download'), hands.tap('Save as calendar reminders')]);
  assert.equal(saved.suggestedFilename(), 'Gate undercoats spring.ics');
  const text = readFileSync(await saved.path(), 'utf8');
  const events = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((it) => new ICAL.Event(it));
  assert.equal(events.length, 17);
  assert.equal(new Set(events.map((event) => event.uid)).size, 17);
  assert.equal(events[4].startDate.toString(), '2026-03-02T17:00:00');
  assert.equal(events[5].startDate.toString(), '2026-03-03T10:00:00');
  assert.ok(events.every((event) => event.startDate.zone === ICAL.Timezone.localTimezone), 'floating times');
  assert.equal(events[0].summary, 'Weigh the panels: Gate undercoats; spring');
  assert.ok(events.every((event) => event.component.getFirstSubcomponent('valarm')), 'each rings');

  await hands.assertFits();
  await hands.assertTargets();
  await hands.shot('plan-filled');
  await hands.assertAccessible();

  // Everything is there again, and the reminders keep their names.
  await hands.reload();
  await hands.see('Mix: 4 : 1 : 1 by volume');
  const [again] = await Promise.all([hands.page.waitForEvent('download'), hands.tap('Save as calendar reminders')]);
  const uids = (ics) => ics.match(/^UID:.*$/gm);
  assert.deepEqual(uids(readFileSync(await again.path(), 'utf8')), uids(text));
}, at);

scenario('mends an over-pour, gram by gram', async (hands) => {
  await hands.tap('New spray test');
  const a = card(hands, 'Candidate A');
  await mix(hands, a);
  await hands.fill('How much to mix', '300', a);
  await unfold(hands, /^Pour on the scale$/, a);
  const pour = hands.part('Pour', a);
  await hands.shot('pour-begin');

  // Not tared, by the look of it: nothing is stored.
  await hands.fill('The scale shows', '900', pour);
  await hands.see(/Was the empty cup tared\?/, pour);
  assert.equal(await hands.field('The scale shows', pour).inputValue(), '900');
  assert.equal((await record(hands)).mixes, undefined);

  await hands.fill('The scale shows', '290', pour);
  await hands.see('Next Hardener.', pour);
  assert.equal(await hands.field('The scale shows', pour).inputValue(), '', 'ready for the next');
  await hands.fill('The scale shows', '60', pour);
  await hands.see(/do not tare in between/, pour);

  // 60 g of hardener for 52.5 make the mix 386 × 60 / 52.5 = 441.1 g: base to 350 + (290 × 60/52.5 − 290) = 391.4 g.
  await hands.fill('The scale shows', '350', pour);
  await hands.see(/^Hardener went 7\.5 g over\. Add 41\.4 g Base, then 49\.7 g Reducer/, pour);
  assert.deepEqual(await totals(pour), [['Base', '391.4 g'], ['Reducer', '441.1 g']]);
  await hands.see(/^In all 441\.1 g, 343 mL instead of 386\.0 g\./, pour);
  await hands.assertFits();
  await hands.assertTargets();
  await hands.shot('pour-over');

  await hands.fill('The scale shows', '391,4', pour);
  await hands.reload();
  await hands.see('Next Reducer.', pour);
  assert.deepEqual(await totals(pour), [['Reducer', '441.1 g']]);
  await hands.fill('The scale shows', '441.1', pour);
  await hands.see(/^All is in\./, pour);
  const { mixes } = await record(hands);
  assert.equal(mixes.length, 1);
  assert.deepEqual(mixes[0].poured_g, [331.4, 60, 49.7]);
  // By hand: base to hardener by volume is 331.4/1.45 to 60/1.05, 4.000 to 1.
  const [base, hardener] = mixes[0].poured_g;
  assert.ok(Math.abs(base / 1.45 / (hardener / 1.05) - 4) < 0.01);
  await hands.assertAccessible();
  await hands.shot('pour-done');
}, at);

/** The same plan typed by two painters, in their units and with their decimal mark. */
async function typed(hands, { film, length, mass, volume, density, temperature, number }) {
  await hands.unfold('Units on this phone');
  for (const unit of [film, length, mass, volume, temperature]) await hands.tap(unit.name);
  await hands.tap('New spray test');
  const value = (unit, stored) => number(unit.of(stored));
  const a = card(hands, 'Candidate A');
  await hands.fill('Width of every panel', value(length, 203.2));
  await hands.fill('Length of every panel', value(length, 304.8));
  await hands.fill('Sprayed over each edge', value(length, 50.8));
  await hands.fill('Of what is sprayed, lands', number(45.5));
  await hands.fill('Stays in cup and gun', value(volume, 59.147059125));
  await hands.fill('Wanted dry build', value(film, 76.2));
  await hands.fill('Division of the scale', value(mass, 0.1417476156));
  await unfold(hands, /^Data sheet/, a);
  await hands.fill('Wet film of a coat', value(film, 127), a);
  await hands.fill('Solids by weight', number(62.5), a);
  await hands.fill('Air it may be sprayed in', [15, 30].map((c) => value(temperature, c)).join(' '), a);
  await mix(hands, a, { number: (text) => number(Number(text)), dense: (text) => value(density, Number(text)) });
  await hands.fill('How much to mix', value(volume, 295.735295625), a);
  await unfold(hands, /^Pour on the scale$/, a);
  await hands.fill('The scale shows', value(mass, 283.49523125), hands.part('Pour', a));
  return record(hands);
}

const scaled = (name, per) => ({ name, of: (stored) => Number((stored / per).toFixed(9)) });
const METRIC = {
  film: scaled('µm', 1), length: scaled('mm', 1), mass: scaled('g', 1), volume: scaled('mL and L', 1), density: scaled('g/mL', 1), temperature: scaled('°C', 1),
  number: String,
};
// By definition: 25.4 µm a mil, 25.4 mm an inch, 28.349523125 g an ounce, 29.5735295625 mL a US fluid ounce,
// 453.59237 g a pound, 3785.411784 mL a US gallon.
const CUSTOMARY = {
  film: scaled('mil', 25.4), length: scaled('in', 25.4), mass: scaled('oz', 28.349523125), volume: scaled('US fl oz and gal', 29.5735295625),
  density: scaled('lb/gal', 453.59237 / 3785.411784),
  temperature: { name: '°F', of: (c) => c * 1.8 + 32 },
  number: (value) => String(value).replace('.', ','),
};

/** Numbers alone, by where they stand; names, stamps and times differ from phone to phone. */
function numbers(it, path = '', found = {}) {
  if (typeof it === 'number') found[path] = it;
  else if (Array.isArray(it)) it.forEach((inner, i) => numbers(inner, `${path}[${i}]`, found));
  else if (it && typeof it === 'object') for (const [key, inner] of Object.entries(it)) numbers(inner, `${path}.${key}`, found);
  return found;
}

let metric;
scenario('a painter of µm, mm, g and points plans', async (hands) => {
  metric = numbers(await typed(hands, METRIC));
  assert.ok(Object.keys(metric).length > 30);
}, at);

scenario('a painter of mil, inch, ounce and commas makes the same record', async (hands) => {
  const customary = numbers(await typed(hands, CUSTOMARY));
  await hands.shot('plan-customary');
  assert.deepEqual(Object.keys(customary), Object.keys(metric));
  for (const [path, value] of Object.entries(metric)) {
    assert.ok(Math.abs(customary[path] - value) <= 1e-7 * Math.max(1, Math.abs(value)), `${path}: ${customary[path]}, not ${value}`);
  }
}, at);

scenario('begins a new test with the plan of an old one, and with none of its weights', async (hands) => {
  await hands.open('#/weighed/plan');
  await hands.tap('Begin a new test with this plan');
  await hands.page.waitForFunction(() => !location.hash.includes('weighed'));
  assert.equal(await hands.value('Name of the test'), 'Three weeks, again');
  await hands.tap('Weigh', hands.page.getByRole('navigation'));
  await hands.tap('Begin a round');
  await hands.due('Blank');
  assert.equal(await hands.judgement(), '', 'nothing was weighed before');
  for (const { label } of PANELS) await hands.pressable(new RegExp(`^${label} not yet$`), hands.part('This round')).waitFor();
}, { setUp: (page) => put(page, law('weighed', [4, 24])) });
