// A real day by the page alone: two undercoats from the empty plan, through mixing and spraying, to the first weights as they
// dry. Nothing is put into storage by hand. Figures are invented.

import assert from 'node:assert/strict';
import { card, mix, totals, unfold } from '../lib/planning.mjs';
import { scenario } from '../lib/scenario.mjs';

const at = (time) => new Date(`2026-03-02T${time}+01:00`);
const SHEET = [['Coats', '1'], ['Wet film of a coat', '200'], ['Standing time after mixing', '10'], ['Pot life', '90'], ['Solids by volume', '45']];

async function plan(hands) {
  await hands.tap('New spray test');
  await hands.fill('Name of the test', 'Gates, two undercoats');
  for (const name of ['Candidate A', 'Candidate B']) {
    const candidate = card(hands, name);
    await mix(hands, candidate);
    await hands.fill('How much to mix', '300', candidate);
    await unfold(hands, /^Data sheet/, candidate);
    for (const [label, value] of SHEET) await hands.fill(label, value, candidate);
    await hands.fill('Air it may be sprayed in', name === 'Candidate A' ? '15 30' : '20 30', candidate);
  }
  await hands.fill('Width of every panel', '200');
  await hands.fill('Length of every panel', '300');
  await hands.fill('Seed of the draw', 'gates');
  await hands.see(/^Candidate [AB], then Candidate [AB]\.$/);
}

const now = (hands) => hands.part('Now');

async function number(hands, label, text) {
  const field = hands.field(label, now(hands));
  await field.waitFor();
  await field.focus();
  await hands.page.keyboard.type(text);
  await hands.page.keyboard.press('Enter');
}

/** Pours A by the totals; of B's hardener 60 g go in instead of 52.5. */
async function pour(hands, letter) {
  assert.deepEqual(await totals(now(hands)), [['Base', '290.0 g'], ['Hardener', '342.5 g'], ['Reducer', '386.0 g']]);
  await hands.fill('The scale shows', '290', now(hands));
  if (letter === 'A') {
    for (const reading of ['342.5', '386']) await hands.fill('The scale shows', reading, now(hands));
  } else {
    await hands.fill('The scale shows', '350', now(hands));
    // 60 g of hardener want 60 / 52.5 of everything: 331.4 g of base and 49.7 g of reducer, 441.1 g in all.
    await hands.see(/^Hardener went 7\.5 g over\./, now(hands));
    await hands.shot('day-over-pour', { whole: false });
    for (const reading of ['391.4', '441.1']) await hands.fill('The scale shows', reading, now(hands));
  }
  await hands.see(/^All is in\./, now(hands));
}

async function sprayed(hands, letter, minute) {
  const clock = (m, s = 0) => hands.page.clock.setFixedTime(new Date(at('09:00:00').getTime() + ((minute + m) * 60 + s) * 1000));
  await clock(0);
  if (letter === 'B') await hands.see(/The air was 19 °C .* Candidate B is made for 20 to 30/);
  await pour(hands, letter);
  await hands.tap('Parts are together', now(hands));
  await clock(11);
  await hands.tap('Coat 1 of 1 sprayed', now(hands));
  await clock(12);
  await hands.shot(`day-comb-${letter}`, { whole: false });
  for (const [i, panel] of [1, 2, 3].map((n) => `${letter}${n}`).entries()) {
    for (const tooth of ['200', '175']) {
      await hands.tap(tooth, now(hands));
      await hands.tap('Next dab', now(hands));
    }
    await hands.tap('200', now(hands));
    await hands.see(/^01:00 since the last coat$/, now(hands));
    await number(hands, `${panel}, wet weight`, (580 + i + (letter === 'A' ? 0 : 3.2)).toFixed(1));
  }
  await number(hands, 'Blank, with the wet panels', '561.4');
}

scenario('leads a painter from the empty plan to the first weights as they dry', async (hands) => {
  await plan(hands);
  await hands.shot('day-plan');
  await hands.tap('Spray');
  for (const [label, value] of [['Air', '19'], ['Humidity', '55'], ['Panels', '18']]) await hands.fill(label, value, now(hands));
  await number(hands, 'Blank, bare weight', '561.4');
  for (const [i, label] of ['A1', 'A2', 'A3', 'B1', 'B2', 'B3'].entries()) await number(hands, `${label}, bare weight`, (560 + 0.5 * i).toFixed(1));
  await hands.shot('day-mix');

  const first = (await now(hands).locator('p').filter({ hasText: /Candidate [AB]$/ }).first().innerText()).at(-1);
  await sprayed(hands, first, 0);
  await sprayed(hands, first === 'A' ? 'B' : 'A', 20);
  await hands.see(/All panels are sprayed, read and weighed/);
  await hands.shot('day-sprayed');

  await hands.page.clock.setFixedTime(at('10:30:00'));
  await hands.tap('Next: weigh as it dries');
  await hands.tap('Begin a round');
  await hands.weigh('Blank', '561.4');
  await hands.weigh('A1', '578.9');
  await hands.see(/^A1 578\.9 g\. −1\.1 g since the last\.$/);
  await hands.shot('day-round');
  await hands.tap('Plan');
  await unfold(hands, /^Pour on the scale/, card(hands, 'Candidate B'));
  await hands.see(/441\.1 g, as the recipe says/);
  await hands.assertFits();
}, { setUp: (page) => page.clock.setFixedTime(at('08:00:00')) });
