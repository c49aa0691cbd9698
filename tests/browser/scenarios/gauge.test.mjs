// The gauge by touch: a shim first, then readings one by one, spots and form, against the law's own film.

import assert from 'node:assert/strict';
import { settled } from '../lib/finger.mjs';
import { at, put, record } from '../lib/law.mjs';
import { scenario } from '../lib/scenario.mjs';

scenario('reads the dry film reading by reading', async (hands) => {
  const { page } = hands;
  await hands.open('#/gauge/gauge');
  await hands.see('Try the gauge on a shim first, on the bare prepared steel.');
  await page.getByText('The gauge: bare metal and shims').tap();
  await hands.fill('Shim', '75');
  await hands.fill('The gauge reads', '76');
  await hands.see(/shim 75 µm: read 76, \+1\.0 µm off, allowed 4\.3: passes/);
  await hands.fill('On the bare prepared metal', '6 7 5 6 6 7 6 5 6 6');
  await hands.see(/^6\.0 µm from 10 readings, subtracted from every film/);

  // Nine numbers and enter: three spots of a panel; nothing is looked for, and the next panel is up.
  await hands.tap('Read this one now', hands.part('A1'));
  const spots = { top: ['118', '121', '121'], middle: ['117', '119', '121'], bottom: ['119', '120', '121'] };
  for (const [place, readings] of Object.entries(spots)) {
    for (const [i, reading] of readings.entries()) {
      await hands.due(`A1, ${place}: reading ${i + 1} of 3`);
      await hands.key(reading);
    }
  }
  await hands.due('A2, top: reading 1 of 3');
  await hands.see(/^A1, bottom: 114 µm from 119, 120, 121, less 6\.0 µm read on bare metal · /, hands.part('Now'));
  await hands.see(/^top: 114 µm from 118, 121, 121, less 6\.0 µm read on bare metal · /, hands.part('A1'));
  // Mean of 120, 119 and 120, less 6 of bare metal.
  await hands.see(/^By the gauge 113\.7 µm/, hands.part('A1'));
  await hands.shot('gauge-spots');

  // The six-reading form, and a reading that is no film.
  await hands.tap('Six-reading form');
  await hands.tap('Read this one now', hands.part('B1'));
  await hands.due('B1, top: reading 1 of 6');
  await hands.key('wet');
  await hands.see(/is no number|not a number|cannot be read/i, hands.part('Now'));
  // What was refused is where the fingers are: here and in every other field of the gauge.
  await settled(page);
  await hands.due('B1, top: reading 1 of 6');
  assert.equal(await hands.field('B1, top: reading 1 of 6').inputValue(), 'wet');
  for (const label of ['Shim', 'The gauge reads', 'On the bare prepared metal']) {
    const before = await hands.field(label).inputValue();
    await hands.field(label).fill('wet');
    await page.keyboard.press('Enter');
    await hands.see(/is no number|not a number|cannot be read/i, hands.field(label).locator('xpath=ancestor::div[1]'));
    await settled(page);
    await hands.due(label);
    await hands.field(label).fill(before);
    await hands.field(label).blur();
  }
  for (const [i, third] of ['top', 'top', 'middle', 'middle', 'bottom', 'bottom'].entries()) {
    await hands.field(`B1, ${third}: reading ${i + 1} of 6`).fill(String(i < 5 ? 100 + i : 108));
    await page.keyboard.press('Enter');
  }
  await hands.see(/^panel form: 97 µm from 100, 101, 102, 103, 104, 108/, hands.part('B1'));

  // The readings stand on the film chart and among the routes.
  await hands.tap('Results', page.getByRole('navigation'));
  await page.getByText('More ways to look at it').tap();
  await hands.choose(/^Panels drawn/, 'A1');
  await hands.assertDrawn();
  await page.getByText('The same as a table').first().tap();
  await hands.see(/^gauge/);
  const card = await hands.panel('A1');
  const built = await hands.figure('Final dry film by gauge', card);
  assert.ok(Math.abs(built.value - 113.7) < 0.2, `${built.value}`);
  await hands.tap('Gauge', page.getByRole('navigation'));
  await hands.assertFits();
  await hands.assertTargets();
  await hands.assertAccessible();
}, {
  setUp: async (page) => {
    await put(page, record('gauge', [4, 24, 48, 72, 144, 240]));
    await page.clock.setFixedTime(at(241));
  },
});
