// The main job on a phone, from the empty page to the comparison, by what can be seen; then the page is closed and opened
// again. The numbers on screen are held against numbers worked out here.

import assert from 'node:assert/strict';
import { parseFigure } from '../lib/figure.mjs';
import { scenario } from '../lib/scenario.mjs';

const DAY_H = 24;
const SPRAYED = new Date('2026-03-02T10:00:00+01:00');
const AGES_H = [0.5, 1, 4, 8, 24, 48, 72, 96, 120, 144, 168, 192, 216, 240];
const SUN_H = 150;
const SIDE_MM = 300;

// Invented panels: bare weight, wet coat, and how the loss goes (share of what leaves, time constant in h).
const PRIMERS = {
  A: { coat: [26.1, 25.6, 24.8], leaves: 0.34, terms: [[0.35, 1], [0.3, 8], [0.35, 110]] },
  B: { coat: [27.8, 27.4, 25.9], leaves: 0.26, terms: [[0.5, 0.6], [0.4, 4], [0.1, 25]] },
};
const PANELS = Object.entries(PRIMERS).flatMap(([letter, primer], p) =>
  primer.coat.map((coat, i) => ({ ...primer, label: `${letter}${i + 1}`, bare: 560 + 4 * p + 1.3 * i, coat })));
const BLANK = '561.4';

const rounded = (grams) => Math.round(grams * 10) / 10;
const weightAt = ({ bare, coat, leaves, terms }, hours) => {
  const effective = hours <= SUN_H ? hours : SUN_H + 5 * (hours - SUN_H);
  const left = terms.reduce((sum, [share, time]) => sum + share * Math.exp(-effective / time), 0);
  return rounded(rounded(bare + coat) - coat * leaves * (1 - left));
};
const later = (hours) => new Date(SPRAYED.getTime() + hours * 3_600_000);

/** The first line of a figure: what is said below it is not part of the number. */
const first = async (hands, label, inside) => (await hands.value(label, inside)).split('\n')[0];
const figure = async (hands, label, inside) => parseFigure(await first(hands, label, inside));
const near = (got, wanted, by, what) => assert.ok(Math.abs(got - wanted) <= by, `${what}: ${got}, not ${wanted} ± ${by}`);

/** Normal distribution function, by Simpson's rule on its density: 10 decimals are plenty. */
function normal(z) {
  if (z === Infinity) return 1;
  if (z === -Infinity || z < -9) return 0;
  const n = 400;
  const step = z / n;
  let sum = 0;
  for (let i = 0; i <= n; i += 1) {
    const weight = i === 0 || i === n ? 1 : i % 2 ? 4 : 2;
    sum += weight * Math.exp(-0.5 * (i * step) ** 2);
  }
  return 0.5 + (sum * step) / 3 / Math.sqrt(2 * Math.PI);
}

/**
 * The wet film of a panel from equal dabs (low, high], µm: each dab scatters with a share s of the film, ln s ~ N(ln 0.06,
 * 0.5), the film itself is equally likely everywhere (design choice of the project); the comb's own 2.5 % on top (design
 * choice). Mean and standard deviation.
 */
function wetFilm(low, high, dabs) {
  let [total, mean, square] = [0, 0, 0];
  for (let film = low * 0.6; film < high * 1.5; film += 0.5) {
    let likelihood = 0;
    for (let x = -3; x <= 3; x += 0.1) {
      const spread = 0.06 * Math.exp(0.5 * x) * film;
      const one = normal((high - film) / spread) - normal((low - film) / spread);
      likelihood += Math.exp(-0.5 * x * x) * one ** dabs;
    }
    total += likelihood;
    mean += likelihood * film;
    square += likelihood * film * film;
  }
  mean /= total;
  return { mean, sd: Math.hypot(Math.sqrt(square / total - mean * mean), 0.025 * mean) };
}

async function plan(hands) {
  await hands.tap('New spray test');
  await hands.fill('Name of the test', 'Two undercoats');
  await hands.fill('Width of every panel', String(SIDE_MM));
  await hands.fill('Length of every panel', '300,0');
  await hands.fill('Sanded or topcoated after', '72');
  await hands.shot('plan-new');
}

async function spray(hands) {
  await hands.tap('Spray');
  await hands.openEntries();
  await hands.page.clock.setFixedTime(later(-1));
  for (const { label, bare } of PANELS) await hands.fill(`${label} bare`, rounded(bare).toFixed(1));
  await hands.page.clock.setFixedTime(SPRAYED);
  await hands.fill('Blank, with the wet panels', BLANK);
  for (const panel of PANELS) {
    const card = hands.part(panel.label);
    if (panel.label === 'A1') {
      await card.getByText('Type a dab instead').tap();
      for (let dab = 0; dab < 3; dab += 1) {
        await hands.fill('Last wetted tooth', '200', card);
        await hands.fill('First dry tooth', '250', card);
        await hands.tap('Record this dab', card);
      }
      await hands.see('between 200 and 250 µm', card);
    } else {
      for (const tooth of ['200', '225', '200']) {
        await hands.tap(tooth, card);
        await hands.tap('Next dab', card);
      }
      await hands.see('between 225 and 250 µm', card);
    }
    await hands.fill(`${panel.label} wet`, rounded(panel.bare + panel.coat).toFixed(1), card);
  }
  await hands.shot('spray-filled');
}

async function touchUp(hands) {
  // One dab too many, marked as just touched, then taken back.
  const card = hands.part('B3');
  await hands.tap('175', card);
  await hands.tap('200', card);
  await hands.see('between 187.5 and 212.5 µm', card);
  await hands.tap('Undo');
  await hands.see('between 175 and 200 µm', card);
  await hands.tap('Undo');
  assert.equal(await card.getByText('between 187.5 and 212.5 µm').count(), 0);
  assert.equal(await card.getByRole('listitem').count(), 3);
}

async function weigh(hands) {
  await hands.tap('Weigh');
  let inSun = false;
  for (const age of AGES_H) {
    await hands.page.clock.setFixedTime(later(age));
    if (age > SUN_H && !inSun) {
      await hands.page.clock.setFixedTime(later(SUN_H));
      await hands.tap('All panels → Sun, now');
      await hands.see('1 move noted');
      await hands.page.clock.setFixedTime(later(age));
      inSun = true;
    }
    await hands.tap('Begin a round');
    await hands.weigh('Blank', BLANK);
    for (const panel of PANELS) await hands.weigh(panel.label, weightAt(panel, age).toFixed(1).replace('.', age > 100 ? ',' : '.'));
  }
  await hands.shot('weigh-last-round');
}

async function results(hands) {
  await hands.tap('Results');
  const last = AGES_H.at(-1);
  const film = wetFilm(200, 250, 3);
  near(film.mean, 224.8, 0.3, 'three dabs of 200 to 250, published with the method');
  for (const panel of PANELS) {
    const card = await hands.panel(panel.label);
    const wet = rounded(panel.bare + panel.coat);
    const lost = rounded(wet - weightAt(panel, last));
    near((await figure(hands, 'Lost so far', card)).value, lost, 0.051, `${panel.label} lost`);
    const share = (100 * lost) / rounded(wet - rounded(panel.bare));
    near((await figure(hands, 'Lost so far, of the wet coat', card)).value, share, 0.11, `${panel.label} share`);
  }
  const card = await hands.panel('A1');
  const shown = await figure(hands, 'Wet film, comb', card);
  near(shown.value, film.mean, 1, 'wet film');
  near(shown.low, film.mean - 1.96 * film.sd, 3, 'wet film, low');
  near(shown.high, film.mean + 1.96 * film.sd, 3, 'wet film, high');

  // Mass balance: what is left of the wet film once the lost grams, at 0.87 g/mL, are gone from 900 cm².
  const still = await figure(hands, 'Still to lose', card);
  const lostInAll = rounded(26.1 + 560) - weightAt(PANELS[0], last) + still.value;
  const left = film.mean - (1e4 * lostInAll) / (((SIDE_MM * SIDE_MM) / 100) * 0.87);
  near((await figure(hands, 'Final dry film by comb and scale', card)).value, left, 2, 'film by mass balance');
  assert.ok(still.low >= 0 && still.low <= still.value && still.value <= still.high, 'still to lose within its interval');
  const sanded = await figure(hands, 'Shrinkage to come after day 3', card);
  const gone = weightAt(PANELS[0], 72) - weightAt(PANELS[0], 10 * DAY_H);
  near(sanded.value, (1e4 * gone) / (900 * 0.87), 3, 'film gone after day 3');

  await hands.see(/less to go than this mix of Candidate A, more than chance\.$/);
  assert.match(await hands.part('Side by side').innerText(), /Final dry film, µm/);
  await hands.assertDrawn();
  await hands.assertFits();
  await hands.shot('results-job');
}

scenario('does the main job from the empty page, and finds it again', async (hands) => {
  await plan(hands);
  await spray(hands);
  await touchUp(hands);
  await weigh(hands);
  await results(hands);

  const told = async () => [await hands.said(), await hands.part('Side by side').innerText()];
  const before = await told();
  await hands.reload();
  await hands.see(/^After day 3, /);
  assert.deepEqual(await told(), before);
  await hands.assertDrawn();

  await hands.tap('All tests');
  await hands.see('Two undercoats');
  await hands.see(/2 candidates, 6 panels, last weighed/);
  await hands.shot('shelf');
}, { everywhere: true, setUp: (page) => page.clock.setFixedTime(later(-2)) });
