// The main job by keys alone. After every one of them the focus is somewhere, in sight, and to be seen: keys.mjs.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { Keys, unseen } from '../lib/keys.mjs';
import { PHONE, scenario } from '../lib/scenario.mjs';
import { prepare, walk } from '../lib/states.mjs';

const at = (time) => new Date(`2026-03-02T${time}:00+01:00`);

scenario('the main job, from a new test to the report, by keys alone', async (hands) => {
  const { page } = hands;
  const keys = new Keys(hands);
  await page.keyboard.press('Tab');
  await keys.use('New spray test');
  assert.equal((await keys.focus()).name, 'Plan', 'a new place begins at its heading');

  // Plan: a name, a size, a scale's step.
  await keys.fill('Name of the test', 'By keys');
  await keys.use(/^Mix: /, { key: 'Space' });
  await keys.use('Add base');
  await keys.fill('Width of every panel', '300');
  assert.equal((await keys.focus()).name, 'Length of every panel', 'enter goes on to the next number');
  await keys.type('300');
  await keys.use('Next: spray');
  assert.equal((await keys.focus()).name, 'Spray');

  // Spray day, the short way: air and bare weights left out.
  await keys.use('Go on without the air …');
  assert.equal((await keys.focus()).name, 'Go back', 'what took its place, and leaves nothing out');
  await keys.use('Go on without the air');
  await keys.type('561.4');
  for (const bare of ['560', '561', '562', '563', '564', '565']) await keys.type(bare);
  await page.clock.setFixedTime(at('09:00'));
  await keys.use('Parts are together');
  await page.clock.setFixedTime(at('09:10'));
  await keys.use('Coat 1 sprayed');
  await page.clock.setFixedTime(at('09:12'));
  await keys.use('That was the last coat …');
  await keys.use('That was the last coat');
  for (const wet of ['586.4', '587.1', '588.0']) {
    for (const dab of [1, 2, 3]) {
      await keys.use('200', { key: 'Space' });
      if (dab < 3) await keys.use('Next dab');
    }
    await keys.type(wet);
  }
  await keys.use('All tests', { back: true });
  assert.equal((await keys.focus()).name, 'Comb & Scale');
  await keys.use(/^By keys/);
  assert.match((await keys.focus()).name, /^Weigh$/);

  // A round: enter walks the rack; an odd weight keeps the focus with what can be done about it.
  await page.clock.setFixedTime(at('15:00'));
  await keys.use('Begin a round');
  assert.equal((await keys.focus()).name, 'Blank');
  await keys.type('561.4');
  for (const weight of ['583.0', '583.9']) await keys.type(weight);
  await keys.type('999');
  await keys.use('Set it aside …');
  await keys.use('misread or mistyped');
  await keys.use('Leave the rest unweighed and close this round');
  await keys.use('Undo', { back: true });

  await keys.use('Gauge');
  assert.match((await keys.focus()).name, /^A1/, 'the field of the reading that is due');
  for (const film of ['98', '101', '99']) await keys.type(film);
  await keys.use('Results');
  assert.equal((await keys.focus()).name, 'Results');
  await keys.use('Weight', { key: 'Space' });
  await keys.use('The same as a table');
  await keys.use('More ways to look at it');
  await keys.use('% of coat', { key: 'Space' });
  const saved = page.waitForEvent('download');
  await keys.use('Save report');
  assert.match(readFileSync(await (await saved).path(), 'utf8'), /By keys/);
  console.log(`# keys from a new test to its report: ${keys.presses}`);
}, { everywhere: true, needs: ['focus in sight'], size: { ...PHONE, hasTouch: false, isMobile: false }, setUp: (page) => page.clock.setFixedTime(at('08:00')) });

scenario('whatever has the focus, in every state of every place, can be seen', async (hands) => {
  const found = [];
  await walk(hands, async (name) => {
    // From here on the browser shows the focus as it does for whoever uses keys.
    await hands.page.keyboard.press('Tab');
    found.push(...(await unseen(hands.page)).map((line) => `${name}: ${line}`));
  }, process.env.ONLY ? new RegExp(process.env.ONLY) : /^((?!folds open).)*$/);
  for (const line of found) console.log(`# ${line}`);
  assert.equal(found.length, 0, 'see the lines above');
}, { size: { ...PHONE, hasTouch: false, isMobile: false }, setUp: prepare });
