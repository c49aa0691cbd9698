// Every place of the page in every state that looks different: nothing there, half filled, full, folds open, something
// wrong, something asked. `walk` goes from one to the next in one page and calls `look` at each.

import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { enter, press, store } from './kept.mjs';
import { at, moment, record } from './law.mjs';

const EXAMPLE = JSON.parse(readFileSync(fileURLToPath(new URL('../../../src/record/example.spraytest.txt', import.meta.url)), 'utf8'));
const AGES = [4, 24, 48, 72, 144, 240];
export const PLACES = ['plan', 'spray', 'weigh', 'gauge', 'results'];

/** The time of the walk: ten days after the coats. */
export const NOW = at(241);

const SHEET = {
  stated_for: 'mix', solids_by_weight: 0.66, solids_by_volume: 0.46, density_g_per_ml: 1.32, dry_density_g_per_ml: 1.9,
  solvent_density_g_per_ml: 0.87, voc_g_per_l: 540, coats: 2, wet_film_um: 120, dry_film_um: 55, standing_min: 30, flash_min: 10,
  pot_life_min: 120, sanding_h: 72, recoat_h: 24, air_c: [15, 30],
};
const part = (id, role, parts, density_g_per_ml) => ({
  id, label: role, role, parts, density_g_per_ml, pack_l: 1, pack_price: 40, voc_g_per_l: 540, grade: 'standard',
});
const MIX = { basis: 'volume', amount_ml: 300, components: [part('p1', 'base', 4, 1.45), part('p2', 'hardener', 1, 1.05), part('p3', 'reducer', 1, 0.87)] };

/** A test with something in every list of the record. Invented. */
export function full(id = 'full') {
  const test = record(id, AGES);
  test.candidates.forEach((candidate) => Object.assign(candidate, { sheet: SHEET, mix: MIX, gun: { tip_mm: 1.6, pressure_kpa: 200 } }));
  test.moves = [{ id: 'sun', at: moment(100), to: 'Sun', warmer: true }, { id: 'back', at: moment(108), to: 'Shop', warmer: false }];
  test.air = [{ id: 'air', at: moment(-1), air_c: 19, humidity_pct: 52, panel_c: 18 }];
  test.mixes = [{ id: 'cup', candidate: 'A', at: moment(-0.6), poured_g: [290, 342.5, 386] }];
  test.dry_gauge = { calibration_um: 2, base_metal_um: [4, 6, 5] };
  test.verifications = [{ id: 'shim', at: moment(230), shim_um: 75, reading_um: 76 }];
  test.schedule = [1, 4, 24, 48, 72].map((due_h, i) => ({ id: `due${i}`, due_h }));
  test.panels[0].spots = [{ id: 'spot', at: moment(231), place: 'top', readings_um: [118, 121, 120] }];
  test.panels[1].spots = [{ id: 'spot2', at: moment(231), place: 'middle', readings_um: [98, 97] }];
  test.panels[3].weigh_ins[3].set_aside = { by: 'person', why: 'dust' };
  return test;
}

/** Sprayed and weighed wet, without bare weights, sheets or a comb. */
function half() {
  const test = record('half', []);
  test.panels.forEach((panel) => Object.assign(panel, { bare: [], dabs: [] }));
  return { ...test, combs: [], wanted: {} };
}

/** Spray days, each come to another task. */
function days() {
  const skip = (step) => ({ id: `no-${step}`, at: moment(0), step });
  const start = () => {
    const { panels, candidates, blanks, ...test } = record('day', []);
    const bare = panels.slice(0, 2).map(({ dabs, weigh_ins, coats, ...panel }) => ({ ...panel, candidate: 'A' }));
    return { ...test, panels: bare, candidates: [{ ...candidates[0], sheet: SHEET, mix: MIX }], blanks: [{ id: 'blank', label: 'Blank' }] };
  };
  const after = (change, from = start()) => { change(from); return from; };
  const each = (change) => (test) => test.panels.forEach(change);
  const mixed = (hours) => (test) => {
    Object.assign(test, { skipped: ['air', 'bare'].map(skip), mixes: [{ id: 'cup', candidate: 'A', at: moment(hours) }] });
    each((panel) => { panel.mix = 'cup'; })(test);
  };
  const coat = (...hours) => each((panel) => { panel.coats = hours.map((hour, i) => ({ id: `${panel.id}-c${i}`, at: moment(hour) })); });
  const all = (...changes) => after((test) => changes.forEach((change) => change(test)));
  const dabbed = each((panel) => { panel.dabs = [1, 2, 3].map((i) => ({ id: `${panel.id}-d${i}`, at: moment(240.96), wetted_um: 225, dry_um: 250 })); });
  return {
    air: start(),
    bare: after((test) => { test.air = [{ id: 'air', at: moment(240.9), air_c: 12, humidity_pct: 92, panel_c: 11 }]; each((panel) => { panel.bare = []; })(test); }),
    mix: all((test) => { test.skipped = ['air', 'bare'].map(skip); }),
    standing: all(mixed(240.9)),
    flash: all(mixed(240.4), coat(240.95)),
    'past pot life': all(mixed(238), coat(240.5)),
    comb: all(mixed(240.4), coat(240.8, 240.95)),
    wet: all(mixed(240.4), coat(240.8, 240.95), dabbed),
  };
}

const key = (id) => `comb-scale/test/${id}`;

/** The texts of all tests that the walk opens. */
export function fixtures() {
  const texts = { [key('full')]: full(), [key('half')]: half(), [key('bare')]: { format: 'spray-test', version: 1, id: 'bare', title: '' } };
  for (const [name, test] of Object.entries(days())) texts[key(`day-${name}`)] = { ...test, id: `day-${name}`, title: `Day: ${name}` };
  texts[key('thrown')] = { ...record('thrown', []), title: 'Thrown away' };
  const written = Object.fromEntries(Object.entries(texts).map(([key, test]) => [key, JSON.stringify(test)]));
  return {
    ...written,
    [key('worked-example')]: JSON.stringify(EXAMPLE),
    [key('broken')]: '{"format": "spray-te',
    'comb-scale/bin/thrown': moment(200),
    'comb-scale/aside/test/odd': 'not a record',
  };
}

/** What the page does before it is opened, so that every notice can be called up. */
export async function prepare(page) {
  await page.clock.setFixedTime(NOW);
  await page.addInitScript(() => {
    let around;
    Object.defineProperty(globalThis, 'combScale', {
      get: () => around,
      set: (given) => {
        around = { ...given, keepOffline: (newer) => { globalThis.offerNewer = newer; } };
      },
    });
    const set = Storage.prototype.setItem;
    Storage.prototype.setItem = function setItem(...pair) {
      if (globalThis.noRoom) throw new DOMException('full', 'QuotaExceededError');
      return set.apply(this, pair);
    };
  });
}

const soon = (page) => page.evaluate(() => new Promise((done) => { requestAnimationFrame(() => setTimeout(done, 20)); }));

/** Goes to a place of a test by its address. */
export async function to(hands, address) {
  // A busy page may hear of it late: what stood there before would then be taken for the place.
  await hands.page.evaluate((address) => new Promise((done) => {
    addEventListener('hashchange', () => done(), { once: true });
    const before = location.href;
    location.hash = address;
    scrollTo(0, 0);
    if (location.href === before) done();
  }), address);
  await soon(hands.page);
  await hands.workedOut();
}

/** Opens every fold, those within folds as well. */
export async function unfoldAll(page) {
  for (let round = 0; round < 4; round += 1) {
    await page.evaluate(() => document.querySelectorAll('details:not([open])').forEach((fold) => { fold.open = true; }));
    await soon(page);
  }
}

/** Types into the field of this label, as soon as it is there. */
const type = async (page, label, text) => {
  await page.waitForFunction((label) => [...document.querySelectorAll('label')].some((it) => it.innerText === label), label);
  await enter(page, label, text);
};

/** Calls `look(name)` in every state. `only` keeps those whose name it matches. */
export async function walk(hands, look, only = /./) {
  const { page } = hands;
  const see = async (name, arrange = async () => {}) => {
    if (!only.test(name)) return;
    await arrange();
    await soon(page);
    await look(name);
  };
  const at = (address, name, arrange) => see(name, async () => { await to(hands, address); await arrange?.(); });
  const presses = async (...names) => {
    for (const name of names) { await press(page, name); await soon(page); }
  };

  await at('', 'start: nothing kept');
  await store(page, fixtures());
  await at('/full/plan', 'plan: full');
  await at('', 'start: tests, bin, set aside', () => presses('Remove …', 'Erase now …'));
  await see('start: a merge and a bad file looked at', async () => {
    await unfoldAll(page);
    for (const text of [JSON.stringify({ ...full(), title: 'Renamed' }), '<p>no record</p>']) {
      await page.locator('textarea').fill(text);
      await presses('Look at it');
    }
  });
  await at('/missing/plan', 'a test that is not here');
  await at('/broken/plan', 'a damaged test');
  for (const id of ['bare', 'half', 'full']) {
    for (const place of PLACES) {
      if (`${id} ${place}` !== 'full plan') await at(`/${id}/${place}`, `${place}: ${id}`);
      await at(`/${id}/${place}`, `${place}: ${id}, folds open`, () => unfoldAll(page));
    }
  }
  await at('/full/plan', 'plan: a sentence under a field', () => type(page, 'Wanted dry build', 'abc'));
  await at('/full/weigh', 'weigh: a round', () => presses('Begin a round'));
  await see('weigh: an odd weight', async () => {
    await type(page, 'Blank', '561.4');
    await type(page, 'A1', '700');
  });
  await see('weigh: set aside, why', () => presses('Set it aside …'));
  await see('weigh: a swap offered', async () => {
    // A1 and the next in the rack, the one on the hook of the other.
    await page.getByRole('button', { name: /^A1/ }).first().evaluate((it) => it.click());
    const due = async (text) => { await page.locator('.up input').fill(text); await page.locator('.up input').press('Enter'); await soon(page); };
    await due('577.6');
    for (let panel = 0; panel < 8; panel += 1) await due('577.6');
  });
  for (const name of Object.keys(days())) await at(`/day-${name}/spray`, `spray: ${name}`);
  await at('/day-comb/spray', 'spray: a dab tapped', () => presses('200'));
  await at('/day-mix/spray', 'spray: a step to be left out', () => presses('Go on without noting the mix …'));
  await at('/worked-example/results', 'results: worked example');
  await see('results: the chart of weight', () => presses('Weight'));
  await see('results: a point read', () => page.locator('canvas.chart').click({ position: { x: 250, y: 150 } }));
  await see('results: the text to be copied', async () => {
    await page.evaluate(() => Object.defineProperty(navigator, 'clipboard', { value: undefined, configurable: true }));
    await presses('Copy as text');
    await page.getByText(/^Not copied: /).waitFor();
  });
  await at('/full/plan', 'notice: no room, and a newer version', async () => {
    await page.evaluate(() => { globalThis.noRoom = true; globalThis.offerNewer?.(); });
    await type(page, 'Name of the test', 'Another name');
  });
  await page.evaluate(() => { globalThis.noRoom = false; });
  await see('the program has stopped', async () => {
    await to(hands, '');
    await page.evaluate(() => dispatchEvent(new ErrorEvent('error', { error: new WebAssembly.RuntimeError('on purpose') })));
  });
}
