// A spray day from the first bare weight to the last wet one, alone and in gloves, by the one big button. The clock is
// emulated; all figures are invented.

import assert from 'node:assert/strict';
import { Finger } from '../lib/finger.mjs';
import { scenario } from '../lib/scenario.mjs';

const DAY = '2026-03-02T';
const at = (time) => new Date(`${DAY}${time}+01:00`);
const SHEET = { coats: 2, standing_min: 30, flash_min: 10, pot_life_min: 120 };

/** A new test whose two sheets say how the primer is sprayed, as the record holds it. */
async function planned(hands, sheet = SHEET) {
  await hands.page.clock.setFixedTime(at('08:00:00'));
  await hands.tap('New spray test');
  await hands.tap('All tests');
  await hands.page.evaluate((sheet) => {
    const key = Object.keys(localStorage).find((key) => key.startsWith('comb-scale/test/'));
    const test = JSON.parse(localStorage.getItem(key));
    for (const candidate of test.candidates) candidate.sheet = sheet;
    localStorage.setItem(key, JSON.stringify(test));
  }, sheet);
  await hands.back();
  await hands.reload();
  await hands.tap('Spray');
}

/** Counts what the painter presses: taps, and the enter key that ends a number. */
class Counted {
  taps = 0;

  constructor(hands) {
    this.hands = hands;
  }

  get now() {
    return this.hands.part('Now');
  }

  async tap(name, inside = this.now) {
    this.taps += 1;
    await this.hands.tap(name, inside);
  }

  /** Types a number where the pad has opened by itself. */
  async number(label, text) {
    const field = this.hands.field(label, this.now);
    await field.waitFor();
    await assertFocused(field, label);
    await this.hands.page.keyboard.type(text);
    await this.hands.page.keyboard.press('Enter');
    this.taps += 1;
  }

  async dabAndWeigh(label, wet) {
    for (const [i, tooth] of ['200', '225', '200'].entries()) {
      await this.hands.see(new RegExp(`^${label}: dab ${i + 1} of 3, (top|middle|bottom) third$`), this.now);
      await this.tap(tooth);
      if (i < 2) await this.tap('Next dab');
    }
    // The heading of the next thing to do is on screen, wherever the last one was left.
    await this.hands.page.waitForFunction(() => document.querySelector('.task').getBoundingClientRect().top >= -1);
    await this.hands.see('Last dab: between 200 and 225 µm.', this.now);
    await this.number(`${label}, wet weight`, wet);
  }
}

async function assertFocused(field, label) {
  for (let tries = 0; tries < 800; tries += 1) {
    if (await field.evaluate((it) => it === document.activeElement)) return;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  assert.fail(`the pad for '${label}' has not opened by itself`);
}

async function beforeSpraying(hands, gloves) {
  await hands.see('Read the air', gloves.now);
  await hands.shot('spray-air', { whole: false });
  for (const [label, value] of [['Air', '19'], ['Humidity', '52'], ['Panels', '18']]) {
    await hands.field(label, gloves.now).focus();
    await hands.page.keyboard.type(value);
    await hands.page.keyboard.press('Enter');
    gloves.taps += 1;
  }
  await hands.see('19.0 °C, 52 %, panels 18.0 °C: dew point 8.9 °C, margin 9.1 °C');
  const bare = [['Blank', '561.4'], ...['A1', 'A2', 'A3', 'B1', 'B2', 'B3'].map((label, i) => [label, (560 + i).toFixed(1)])];
  for (const [label, weight] of bare) await gloves.number(`${label}, bare weight`, weight);
}

const stored = (hands) => hands.page.evaluate(() => {
  const key = Object.keys(localStorage).find((key) => key.startsWith('comb-scale/test/'));
  return JSON.parse(localStorage.getItem(key));
});

scenario('leads through a whole spray day, both candidates under way at once, with a reload in the flash-off', async (hands) => {
  await planned(hands);
  const gloves = new Counted(hands);
  const { clock } = hands.page;
  const clockFace = () => gloves.now.getByRole('timer').innerText();
  await beforeSpraying(hands, gloves);
  await hands.shot('spray-mix', { whole: false });

  // A is mixed, and stands; meanwhile B is mixed.
  await clock.setFixedTime(at('09:00:00'));
  await gloves.tap('Parts are together');
  await hands.see('left to stand', gloves.now);
  await clock.setFixedTime(at('09:05:00'));
  await gloves.tap(/B to be mixed/, hands.page);
  await gloves.tap('Parts are together');
  await clock.setFixedTime(at('09:11:55'));
  await hands.see('23:05', gloves.now);
  await hands.shot('spray-standing', { whole: false });
  await hands.assertFits();

  await clock.setFixedTime(at('09:31:00'));
  await gloves.tap(/Candidate A standing/, hands.page);
  await hands.see(/over the standing time/, gloves.now);
  await gloves.tap('Coat 1 of 2 sprayed');
  await clock.setFixedTime(at('09:34:40'));
  await hands.see('06:20', gloves.now);
  await hands.see(/1:25:20/, gloves.now);
  await hands.shot('spray-flash', { whole: false });

  // The phone dies in the flash-off, and comes back two minutes later.
  await hands.reload();
  await clock.setFixedTime(at('09:36:40'));
  await hands.see(/flash-off, then coat 2 04:20/);
  // B has stood long enough meanwhile: it is up without a press.
  await hands.see(/over the standing time/, gloves.now);
  await gloves.tap('Coat 1 of 2 sprayed');
  await hands.see('10:00', gloves.now);

  await clock.setFixedTime(at('09:42:00'));
  await gloves.tap(/Candidate A flash-off/, hands.page);
  await hands.see(/over the flash-off of coat 1/, gloves.now);
  assert.match(await clockFace(), /^\+01:00/);
  await gloves.tap('Coat 2 of 2 sprayed');
  await clock.setFixedTime(at('09:43:00'));
  await hands.shot('spray-comb', { whole: false });
  await gloves.dabAndWeigh('A1', '586.4');
  await gloves.dabAndWeigh('A2', '586.9');
  await hands.shot('spray-after-two', { whole: false });
  await gloves.dabAndWeigh('A3', '587.2');
  await gloves.number('Blank, with the wet panels', '561.4');

  await clock.setFixedTime(at('09:48:00'));
  await gloves.tap('Coat 2 of 2 sprayed');
  await clock.setFixedTime(at('09:50:00'));
  for (const [i, label] of ['B1', 'B2', 'B3'].entries()) await gloves.dabAndWeigh(label, (590 + i).toFixed(1));
  await gloves.number('Blank, with the wet panels', '561.5');
  await hands.see(/All panels are sprayed, read and weighed/);
  await hands.shot('spray-done');
  await hands.assertFits();
  await hands.assertTargets();
  await hands.assertAccessible();
  console.log(`# presses from the first bare weight to the last wet one, six panels: ${gloves.taps}`);

  const test = await stored(hands);
  assert.equal(test.mixes.length, 2);
  for (const panel of test.panels) {
    assert.equal(panel.coats.length, 2, panel.label);
    assert.deepEqual(panel.dabs.map((dab) => dab.place), ['top third', 'middle third', 'bottom third']);
    assert.ok(panel.mix, 'every panel knows its cup');
  }
  const a1 = test.panels.find((panel) => panel.label === 'A1');
  assert.deepEqual(a1.coats.map((coat) => new Date(coat.at).getTime()), [at('09:31:00'), at('09:42:00')].map(Number));
  assert.equal(a1.weigh_ins[0].gross_g, 586.4);
  assert.equal(new Date(a1.weigh_ins[0].at).getTime(), at('09:43:00').getTime());
}, { setUp: (page) => page.clock.setFixedTime(at('08:00:00')) });

scenario('lets every step be left out, says what that costs, and every time be corrected', async (hands) => {
  await planned(hands, { standing_min: 30, pot_life_min: 60 });
  const gloves = new Counted(hands);
  await gloves.tap('Go on without the air …');
  await hands.see(/the dew point goes unchecked/, gloves.now);
  await hands.shot('spray-skip', { whole: false });
  await gloves.tap('Go on without the air');
  await gloves.tap('Go on without bare weights …');
  await hands.see(/no percentages, no solids and no film by weight/, gloves.now);
  await gloves.tap('Go on without bare weights');

  await hands.page.clock.setFixedTime(at('09:00:00'));
  await gloves.tap('Parts are together');
  await hands.page.clock.setFixedTime(at('09:18:00'));
  await hands.see(/the mix is not the one its sheet speaks of/, gloves.now);
  await gloves.tap('Coat 1 sprayed');
  await hands.see('Coat 1 came 12 min before the standing time was over.');

  // The coat was really sprayed at half past; the page takes the person's word.
  await hands.page.clock.setFixedTime(at('09:40:00'));
  await hands.page.getByText(/^Coat 1 09:18$/).tap();
  await hands.field('Coat 1, at').fill('2026-03-02T09:31');
  await hands.field('Coat 1, at').blur();
  await hands.see(/^Coat 1 09:31$/);
  assert.equal(await hands.page.getByText(/before the standing time was over/).count(), 0);
  await hands.field('Coat 1, at').fill('2026-03-02T12:00');
  await hands.field('Coat 1, at').blur();
  await hands.see('That time has not come yet: look at the date.');

  await gloves.tap('That was the last coat …');
  await gloves.tap('That was the last coat');
  await gloves.tap('175');
  await gloves.tap('200');
  await hands.see(/A1: dab 1 of 3, recorded/, gloves.now);
  await gloves.tap('One reading is enough …');
  await gloves.tap('One reading is enough');
  const [touched] = (await stored(hands)).panels.find((panel) => panel.label === 'A1').dabs.filter((dab) => !dab.deleted);
  assert.deepEqual([touched.wetted_um, touched.touched_um, touched.dry_um, touched.place], [175, 200, 225, 'top third']);
  await hands.see('Last dab: between 187.5 and 212.5 µm.', gloves.now);
  await gloves.number('A1, wet weight', '30.5');
  await hands.see(/A1: fewer than 3 dabs/);

  // The pot life runs out over the next cup.
  await gloves.tap(/Candidate B to be mixed/, hands.page);
  await gloves.tap('Parts are together');
  await hands.page.clock.setFixedTime(at('10:50:00'));
  await hands.see('The pot life of the mix ended 10 min ago: do not spray it.');
  await hands.see('past the pot life', gloves.now);
  await hands.shot('spray-past-pot-life');
  await gloves.tap('Another cup was mixed');
  await hands.see('left to stand', gloves.now);
  await hands.assertAccessible();
}, { setUp: (page) => page.clock.setFixedTime(at('08:00:00')) });

scenario('keeps the screen awake while a clock runs, and rings when it is over', async (hands) => {
  await planned(hands);
  const gloves = new Counted(hands);
  await gloves.tap('Go on without the air …');
  await gloves.tap('Go on without the air');
  await gloves.tap('Go on without bare weights …');
  await gloves.tap('Go on without bare weights');
  const heard = () => hands.page.evaluate(() => globalThis.heard);
  await hands.page.clock.setFixedTime(at('09:00:00'));
  await gloves.tap('Parts are together');
  await hands.see('left to stand', gloves.now);
  await hands.page.waitForFunction(() => globalThis.heard.awake === 1);
  await hands.page.clock.setFixedTime(at('09:30:01'));
  await hands.see(/over the standing time/, gloves.now);
  await hands.page.waitForFunction(() => globalThis.heard.buzzes.length === 1 && globalThis.heard.awake === 1);
  await hands.page.clock.setFixedTime(at('09:31:00'));
  await gloves.tap('Coat 1 of 2 sprayed');
  await hands.page.clock.setFixedTime(at('09:41:30'));
  await hands.see(/over the flash-off/, gloves.now);
  await hands.page.waitForFunction(() => globalThis.heard.buzzes.length === 2);
  // A glove bounces: two presses of the button are one coat, and the comb that comes to lie under the finger takes no dab.
  const button = hands.pressable('Coat 2 of 2 sprayed', gloves.now);
  const { x, y, width, height } = await button.boundingBox();
  const point = { x: x + width / 2, y: y + height / 2 };
  const finger = new Finger(hands.page);
  await finger.begin();
  await finger.press(point, 0);
  await hands.see(/A1: dab 1 of 3/, gloves.now);
  await finger.press(point, 250);
  await hands.see('Pressed twice, counted once.');
  const held = await stored(hands);
  const of = (label) => held.panels.find((panel) => panel.label === label);
  assert.deepEqual(['A1', 'A2', 'A3', 'B1'].map((label) => of(label).coats?.length ?? 0), [2, 2, 2, 0]);
  assert.equal(of('A1').dabs?.length ?? 0, 0);
  // A first press of a tooth counts, a second after the coat as well as a minute after it.
  await hands.tap('200', gloves.now);
  await hands.see(/A1: dab 1 of 3, recorded/, gloves.now);
  await hands.page.waitForFunction(() => globalThis.heard.awake === 0);
  assert.deepEqual((await heard()).buzzes, [[250, 150, 250], [250, 150, 250]]);
}, {
  setUp: async (page) => {
    await page.clock.setFixedTime(at('08:00:00'));
    await page.addInitScript(() => {
      globalThis.heard = { awake: 0, buzzes: [] };
      navigator.vibrate = (pattern) => globalThis.heard.buzzes.push(pattern);
      const request = async () => {
        globalThis.heard.awake += 1;
        return { release: async () => { globalThis.heard.awake -= 1; } };
      };
      Object.defineProperty(navigator, 'wakeLock', { value: { request } });
    });
  },
});

const customary = (text) => text.replace('.', ',');
const TEETH = { µm: { 200: '200', 225: '225' }, mil: { 200: '7.9', 225: '8.9' } };

/** The same short day by painters of other units and decimal marks: air, bare weights, one candidate sprayed and read. */
async function day(hands, { units, air, weight, teeth }) {
  await hands.page.clock.setFixedTime(at('08:00:00'));
  await hands.unfold('Units on this phone');
  for (const unit of units) await hands.tap(unit);
  await hands.tap('New spray test');
  await hands.tap('Spray');
  const gloves = new Counted(hands);
  for (const [label, text] of Object.entries(air)) await hands.fill(label, text, gloves.now);
  const bare = [['Blank', '561.4'], ...['A1', 'A2', 'A3', 'B1', 'B2', 'B3'].map((label, i) => [label, (560 + i).toFixed(1)])];
  for (const [label, text] of bare) await gloves.number(`${label}, bare weight`, weight(text));
  await hands.page.clock.setFixedTime(at('09:00:00'));
  await gloves.tap('Parts are together');
  await hands.page.clock.setFixedTime(at('09:10:00'));
  await gloves.tap('Coat 1 sprayed');
  await gloves.tap('That was the last coat …');
  await gloves.tap('That was the last coat');
  await hands.page.clock.setFixedTime(at('09:11:00'));
  for (const [i, label] of ['A1', 'A2', 'A3'].entries()) {
    for (const tooth of [200, 225]) {
      await gloves.tap(teeth[tooth]);
      await gloves.tap('Next dab');
    }
    await gloves.tap(teeth[200]);
    await gloves.number(`${label}, wet weight`, weight((585 + i).toFixed(1)));
  }
  const test = await stored(hands);
  const said = test.panels.filter((panel) => panel.label.startsWith('A')).map(({ label, bare, coats, dabs, weigh_ins: wet }) => ({
    label,
    bare: bare.map(({ at, gross_g }) => [at, gross_g]),
    coats: coats.map(({ at }) => at),
    dabs: dabs.map(({ wetted_um: wetted, dry_um: dry, place }) => [wetted, dry, place]),
    wet: wet.map(({ at, gross_g }) => [at, gross_g]),
  }));
  const read = test.air.map(({ air_c: air, humidity_pct: humidity, panel_c: panel }) => [air, humidity, panel].map((n) => Number(n.toFixed(9))));
  return { said, read };
}

let metricDay;
scenario('a painter of µm and commas sprays', async (hands) => {
  const air = { Air: '20', Humidity: '52,5', Panels: '18' };
  metricDay = await day(hands, { units: ['µm', '°C'], air, weight: customary, teeth: TEETH.µm });
  assert.deepEqual(metricDay.said[0].dabs, [[200, 225, 'top third'], [225, 250, 'middle third'], [200, 225, 'bottom third']]);
  assert.equal(metricDay.said[0].wet[0][1], 585);
}, { setUp: (page) => page.clock.setFixedTime(at('08:00:00')) });

scenario('a painter of mil, inch and °F makes the same record of the day', async (hands) => {
  const air = { Air: '68', Humidity: '52.5', Panels: '64.4' };
  assert.deepEqual(await day(hands, { units: ['mil', 'in', '°F'], air, weight: String, teeth: TEETH.mil }), metricDay);
}, { setUp: (page) => page.clock.setFixedTime(at('08:00:00')) });
