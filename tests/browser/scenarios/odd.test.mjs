// Tests with holes in them: every place says what it can and why not the rest, and nothing is NaN, blank or cut off.

import assert from 'node:assert/strict';
import { at, moment, put, record } from '../lib/law.mjs';
import { scenario } from '../lib/scenario.mjs';

const AGES = [4, 24, 48, 72, 144, 240];
const whole = () => record('odd', AGES);
const change = (edit) => {
  const test = whole();
  edit(test);
  return test;
};

const ODD = {
  'nothing at all': { format: 'spray-test', version: 1, id: 'odd', title: '' },
  'one reading': change((test) => {
    test.panels = [{ ...test.panels[0], weigh_ins: test.panels[0].weigh_ins.slice(0, 1) }];
    test.rounds = [];
  }),
  'no bare weights': change((test) => test.panels.forEach((panel) => { panel.bare = []; })),
  'no blank': change((test) => { test.blanks = []; }),
  'one panel': change((test) => { test.panels = test.panels.slice(0, 1); }),
  'no scale, comb or area': change((test) => {
    Object.assign(test, { balances: [], combs: [] });
    test.panels.forEach((panel) => { delete panel.width_mm; });
  }),
  'thirty panels': change((test) => {
    test.panels = Array.from({ length: 30 }, (_, i) => {
      const like = test.panels[i % 9];
      return { ...like, id: `p${i}`, label: `${like.candidate}${Math.floor(i / 3) + 1}`, rack: `${i + 1}` };
    });
  }),
  'readings in the future': change((test) => test.panels.forEach((panel) => {
    panel.weigh_ins.push({ at: moment(5000), gross_g: 500 });
  })),
  'contradictory moves': change((test) => {
    const to = (hours, to, warmer) => ({ at: moment(hours), to, warmer });
    test.moves = [to(50, 'Sun', true), to(50, 'Shop', false), to(50, 'Sun', false), to(900, 'Oven', true), to(-90, '', true)];
  }),
  'rising weights': change((test) => test.panels.forEach((panel) => {
    panel.weigh_ins.forEach((weigh_in, i) => { weigh_in.gross_g += 3 * i; });
  })),
};

for (const [what, test] of Object.entries(ODD)) {
  scenario(`copes with ${what}`, async (hands) => {
    const { page } = hands;
    await hands.open('#/odd/results');
    for (const place of ['Results', 'Weigh', 'Gauge', 'Spray', 'Plan']) {
      await hands.tap(place, page.getByRole('navigation'));
      await page.getByRole('heading', { level: 1, name: place }).waitFor();
      if (place === 'Weigh') await hands.tap('Begin a round');
      // All folds open: what is folded away is read as well.
      await page.evaluate(() => document.querySelectorAll('main details').forEach((fold) => { fold.open = true; }));
      await page.waitForTimeout(50);
      const text = await page.locator('main').innerText();
      assert.doesNotMatch(text, /NaN|undefined|Infinity|\binf\b|\[object/, place);
      assert.ok(text.length > 60, `${place} says something`);
      await hands.assertFits();
    }
    await hands.tap('Results', page.getByRole('navigation'));
    const said = `${await hands.said()}\n${await page.locator('.sentence').allInnerTexts()}`.trim().split(/\n+/);
    assert.ok(said.length >= 1 && said.length <= 6 && said[0].length > 20, said.join('\n'));
    // Where a value is missing, the reason stands beside it.
    const bare = await page.locator('.row p').evaluateAll((cells) => cells.filter((cell) =>
      cell.querySelector('.value')?.innerText === '–' && !/\w{3}/.test(cell.querySelector('.note')?.innerText ?? '')).length);
    assert.equal(bare, 0, 'a value is missing without a reason');
    await hands.shot(`odd-${what}`);
  }, { setUp: async (page) => { await put(page, test); await page.clock.setFixedTime(at(241)); } });
}
