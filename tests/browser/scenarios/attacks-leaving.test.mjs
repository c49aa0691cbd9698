// A number is being typed, and the painter leaves: every field by every way. What reads as a number stands in the record under
// its own owner; of anything else the text is kept, with the words why it is not stored.

import assert from 'node:assert/strict';
import { ENGINE, missing } from '../lib/engines.mjs';
import { press, store } from '../lib/kept.mjs';
import { scenario } from '../lib/scenario.mjs';

const NOW = '2026-03-02T10:00:00+01:00';
const bare = [{ id: 'b', at: '2026-03-02T08:10:00+01:00', gross_g: 400 }];
const wet = { id: 'w', at: '2026-03-02T09:30:00+01:00', gross_g: 430 };
const step = (step) => ({ id: `no-${step}`, at: '2026-03-02T08:00:00+01:00', step });

/** A small test, weighed wet, with a round begun; or on spray day, before its panels are weighed bare. */
const weighed = (id) => ({
  format: 'spray-test', version: 1, id, title: `Test ${id}`, created: '2026-03-02T08:00:00+01:00',
  balances: [{ id: 'scale', label: 'Scale', division_g: 0.1 }],
  candidates: [{ id: 'A', label: 'Alder' }, { id: 'B', label: 'Birch' }],
  rounds: [{ id: 'r', at: '2026-03-02T09:55:00+01:00', place: 'Shop', balance: 'scale' }],
  blanks: [{ id: 'blank', label: 'Blank', weigh_ins: [{ id: 'k', round: 'r', at: NOW, gross_g: 561.4 }] }],
  panels: ['A1', 'A2', 'B1'].map((label) => ({
    id: label, label, candidate: label[0], bare, coats: [{ id: 'c', at: '2026-03-02T09:00:00+01:00' }], weigh_ins: [wet],
  })),
});
const onTheDay = (id) => ({
  ...weighed(id), rounds: [], blanks: [], skipped: [step('air')],
  panels: ['A1', 'A2', 'B1'].map((label) => ({ id: label, label, candidate: label[0] })),
});
const beforeAir = (id) => ({ ...onTheDay(id), skipped: [] });

const panel = (test, id) => test.panels.find((panel) => panel.id === id);
const kept = (list = []) => list.filter((one) => !one.deleted);
const last = (list) => kept(list).at(-1);

/** Each field: where it stands, what is typed, where that is stored; the entry that another tab takes from under it. */
const FIELDS = {
  'weight of a panel': {
    make: weighed, place: 'weigh', label: 'A1', text: '426.1',
    stored: (test) => kept(panel(test, 'A1').weigh_ins).find(({ round }) => round === 'r')?.gross_g, owner: (test) => test.rounds[0],
  },
  'weight of the last in the rack': {
    make: weighed, place: 'weigh', label: 'B1', text: '426,1', before: (page) => turn(page, 'B1'),
    stored: (test) => kept(panel(test, 'B1').weigh_ins).find(({ round }) => round === 'r')?.gross_g, owner: (test) => panel(test, 'B1'),
  },
  'bare weight that is due': {
    make: onTheDay, place: 'spray', label: 'A1, bare weight', text: '426.1',
    stored: (test) => last(panel(test, 'A1').bare)?.gross_g, owner: (test) => panel(test, 'A1'),
  },
  'bare weight among the entries': {
    make: onTheDay, place: 'spray', label: 'A2 bare', text: '426.1', fold: /^Every weight/,
    stored: (test) => last(panel(test, 'A2').bare)?.gross_g, owner: (test) => panel(test, 'A2'),
  },
  'humidity': {
    make: beforeAir, place: 'spray', label: 'Humidity', text: '42.61', value: 42.61,
    stored: (test) => last(test.air)?.humidity_pct,
  },
  'gauge reading': {
    make: weighed, place: 'gauge', label: null, text: '426.1',
    stored: (test) => last(test.panels.map((panel) => last(panel.spots)).filter(Boolean))?.readings_um?.at(-1),
  },
  'readings on bare metal': {
    make: weighed, place: 'gauge', label: 'On the bare prepared metal', text: '4.5 6 7', value: '4.5,6,7', fold: /^The gauge/,
    stored: (test) => test.dry_gauge?.base_metal_um?.join(),
  },
  'wanted dry build': { make: weighed, place: 'plan', label: 'Wanted dry build', text: '426.1', stored: (test) => test.wanted?.dry_build_um },
  'name of the test': { make: weighed, place: 'plan', label: 'Name of the test', text: 'Larch', value: 'Larch', stored: (test) => test.title },
  'name of a candidate': {
    make: weighed, place: 'plan', label: 'Name', nth: 1, text: 'Larch', value: 'Larch',
    stored: (test) => test.candidates[1].label, owner: (test) => test.candidates[1],
  },
  'step of the scale': {
    make: weighed, place: 'plan', label: 'Division of the scale', text: '0.05', value: 0.05,
    stored: (test) => test.balances[0].division_g, owner: (test) => test.balances[0],
  },
  'sanded off, in Results': { make: weighed, place: 'results', label: 'Sanded off', text: '42.6', value: 42.6, fold: 'Wanted build', stored: (test) => test.wanted?.sanding_loss_um },
};

const hash = (page, to) => page.evaluate((to) => { location.hash = to; }, to);
const turn = (page, label) => page.evaluate((label) => {
  [...document.querySelectorAll('.rack button')].find((it) => it.innerText.includes(label)).click();
}, label);
const another = (place) => (place === 'gauge' ? 'Weigh' : 'Gauge');
/** Presses without a finger: the focus stays in the field, as with the keys of some readers. */
const pressed = (page, name) => page.evaluate((name) => {
  [...document.querySelectorAll('button, a')].find((it) => it.innerText.trim() === name).click();
}, name);
const event = (page, what, hidden) => page.evaluate(([what, hidden]) => {
  Object.defineProperty(document, 'hidden', { value: hidden, configurable: true });
  (what === 'pagehide' ? globalThis : document).dispatchEvent(new Event(what, { bubbles: true }));
  delete document.hidden;
}, [what, hidden]);

/** Another tab writes the test, changed. */
const elsewhere = (page, id, change) => page.evaluate(([id, change]) => {
  const key = `comb-scale/test/${id}`;
  const test = JSON.parse(localStorage.getItem(key));
  eval(`(${change})`)(test);
  localStorage.setItem(key, JSON.stringify(test));
  dispatchEvent(new StorageEvent('storage', { key, newValue: JSON.stringify(test), storageArea: localStorage }));
}, [id, change]);

/** Each way of leaving; `stays`: the field is still there, and is left by a tap beside it. */
const WAYS = {
  'the back button': { go: ({ page }) => page.goBack() },
  'the forward button': { forward: true, go: ({ page }) => page.goForward() },
  'a tap on Plan': { go: ({ hands }) => hands.tap('Plan') },
  'a tap on Spray': { go: ({ hands }) => hands.tap('Spray') },
  'a tap on Weigh': { go: ({ hands }) => hands.tap('Weigh') },
  'a tap on Gauge': { go: ({ hands }) => hands.tap('Gauge') },
  'a tap on Results': { go: ({ hands }) => hands.tap('Results') },
  'a press of another place that leaves the focus': { go: ({ page, field }) => pressed(page, another(field.place)) },
  'a press of Results that leaves the focus': { go: ({ page }) => pressed(page, 'Results') },
  'the link to the start screen': { go: ({ hands }) => hands.tap('All tests') },
  'the start screen, the focus left': { go: ({ page }) => pressed(page, 'All tests') },
  'an address typed': { go: ({ page, id, field }) => hash(page, `#/${id}/${another(field.place).toLowerCase()}`) },
  'the address of another test': { go: ({ page, other, field }) => hash(page, `#/${other}/${field.place}`) },
  'the address of no test': { go: ({ page }) => hash(page, '#/no-such-test/weigh') },
  'an empty address': { go: ({ page }) => hash(page, '') },
  'two addresses at once': { go: ({ page, id }) => page.evaluate((id) => { location.hash = `#/${id}/results`; location.hash = ''; }, id) },
  'the page put away': { go: ({ page }) => event(page, 'visibilitychange', true) },
  'the page hidden for good': { go: ({ page }) => event(page, 'pagehide', true) },
  'enter': { go: ({ page }) => page.keyboard.press('Enter') },
  'the tab key': { go: ({ page }) => page.keyboard.press('Tab') },
  'escape': { stays: true, go: ({ page }) => page.keyboard.press('Escape') },
  'the phone turned': { stays: true, go: ({ page }) => page.setViewportSize({ width: 640, height: 360 }), after: ({ page }) => page.setViewportSize({ width: 360, height: 640 }) },
  'dark': { stays: true, needs: ['theme'], go: ({ page }) => page.emulateMedia({ colorScheme: 'dark' }), after: ({ page }) => page.emulateMedia({ colorScheme: 'light' }) },
  'another tab that renames the test': { stays: true, not: /name of the test/, go: ({ page, id }) => elsewhere(page, id, "(test) => { test.title = 'Renamed'; test.edited = { title: '999@other' }; }") },
  'other units': {
    go: async ({ page, hands }) => { await hands.tap('All tests'); await hands.unfold('Units on this phone'); await hands.tap('mil'); },
    after: async ({ page }) => { await press(page, 'µm'); },
  },
};

/** These fields try every way; the others, which share their code, every other one. */
const EVERY = ['weight of a panel', 'bare weight that is due', 'gauge reading', 'wanted dry build'];

/** Beside Chromium one field tries every way, and each other field a way of its own: what differs there is the engine, not the field. */
const isTried = (of, field, way) => (ENGINE === 'chromium' ? EVERY.includes(of) || way % 2 === 0 : field === 0 || way === field);
const some = (list) => (ENGINE === 'chromium' ? list : list.slice(0, 3));

/** Ways that only some fields have. */
const OWN = [
  ['weight of a panel', 'the round closed', { go: ({ page }) => pressed(page, 'Leave the rest unweighed and close this round') }],
  ['weight of a panel', 'a turn to another panel', { go: ({ page }) => turn(page, 'A2') }],
  ['weight of a panel', 'a turn to another panel, and to a third', { go: async ({ page }) => { await turn(page, 'A2'); await turn(page, 'Blank'); } }],
  ['weight of the last in the rack', 'a turn to another panel', { go: ({ page }) => turn(page, 'A2') }],
  ['bare weight that is due', 'the step left out', { go: async ({ page }) => { await pressed(page, 'Leave this one out …'); await pressed(page, 'Leave this one out …').catch(() => {}); } }],
  ['bare weight among the entries', 'its fold closed', { go: ({ page }) => page.evaluate(() => { document.querySelector('.entered details').open = false; }) }],
  ['readings on bare metal', 'its fold closed', { go: ({ page }) => page.evaluate(() => { document.activeElement.closest('details').open = false; }) }],
  ['gauge reading', 'a turn to another panel', { go: ({ page }) => page.evaluate(() => [...document.querySelectorAll('button')].filter((it) => it.innerText === 'Read this one now').at(-1).click()) }],
  ['gauge reading', 'the other way of reading', { go: ({ page }) => pressed(page, 'Six-reading form') }],
  ['sanded off, in Results', 'a tap on the chart', { go: ({ page }) => page.locator('canvas.chart').tap() }],
];

const GONE = ['weight of a panel', 'weight of the last in the rack', 'bare weight that is due', 'bare weight among the entries', 'name of a candidate', 'step of the scale'];
const NO_NUMBERS = ['abc', '4 26', '426.1x', '1.234,5'];

/** The label and the element of the field. */
const element = (page, { label, nth = 0 }) => (label === null
  ? page.getByRole('region', { name: 'Now' }).getByRole('textbox').first()
  : page.getByLabel(label, { exact: true }).nth(nth));

async function upTo(page, id, field, place = field.place) {
  await hash(page, `#/${id}/${place}`);
  await page.locator('h1', { hasText: new RegExp(`^${place}$`, 'i') }).waitFor();
  if (field.fold) {
    await page.locator('summary').filter({ hasText: field.fold }).first().evaluate((it) => { it.parentElement.open = true; });
  }
  await field.before?.(page);
  await element(page, field).waitFor();
}

const read = (page, id) => page.evaluate((id) => localStorage.getItem(`comb-scale/test/${id}`), id).then(JSON.parse);

/** Waits until what is stored passes; gives what is stored when it does not come to that. */
async function until(page, look, passes) {
  let seen;
  for (let wait = 0; wait < 800; wait += 1) {
    seen = await look();
    if (passes(seen)) return undefined;
    await page.waitForTimeout(25);
  }
  return seen;
}

class Attacks {
  constructor(hands) {
    Object.assign(this, { hands, page: hands.page, tried: 0, broken: [] });
  }

  /** Puts up a fresh test, comes to the field, types, leaves, and checks. */
  async attempt(name, field, text, { forward, go, stays, after }, check) {
    const { page, hands } = this;
    // By hand: ONLY='gauge reading, the back' tries those alone.
    if (process.env.ONLY && !name.match(process.env.ONLY)) return;
    const id = `t${(this.tried += 1)}`;
    const heard = hands.watch.length;
    try {
      await store(page, Object.fromEntries([id, `${id}x`].map((id) => [`comb-scale/test/${id}`, JSON.stringify(field.make(id))])));
      const beside = another(field.place).toLowerCase();
      if (forward) {
        await upTo(page, id, field);
        await hash(page, `#/${id}/${beside}`);
        await page.goBack();
      } else {
        await hash(page, `#/${id}/${beside}`);
      }
      await upTo(page, id, field);
      const input = element(page, field);
      await input.fill('');
      await page.keyboard.type(text);
      const label = field.label ?? await input.evaluate((it) => document.querySelector(`label[for=${it.id}]`).innerText);
      await go({ page, hands, id, other: `${id}x`, field });
      if (stays) {
        assert.equal(await input.inputValue(), text, 'the text in the field');
        await page.locator('h1').click();
      }
      const trouble = await check({ id, label, input });
      if (trouble) throw new Error(trouble);
    } catch (error) {
      this.broken.push(`${name}: ${error.message.split('\n')[0]}`);
    }
    await after?.({ page, hands }).catch(() => {});
    if (hands.watch.length > heard) {
      this.broken.push(`${name}: ${hands.watch.splice(heard).join('; ').slice(0, 300)}`);
      await hands.reload();
    }
  }

  close(group) {
    console.log(`attacks: ${group}: ${this.tried} tried, ${this.tried - this.broken.length} survived`);
    assert.deepEqual(this.broken, []);
  }
}

const PHONE_OF_THE_DAY = { setUp: (page) => page.clock.setFixedTime(new Date(NOW)) };

scenario('stores what was typed, however its field is left', async (hands) => {
  const { page } = hands;
  const attacks = new Attacks(hands);
  const all = Object.keys(FIELDS).flatMap((of, field) => Object.entries(WAYS)
    .filter(([, { not, needs = [] }], way) => !not?.test(of) && !missing(needs) && isTried(of, field, way)).map(([name, way]) => [of, name, way]));
  for (const [of, name, way] of [...all, ...OWN]) {
    const field = FIELDS[of];
    const value = field.value ?? Number(field.text.replace(',', '.'));
    await attacks.attempt(`${of}, ${name}`, field, field.text, way, async ({ id }) => {
      const seen = await until(page, async () => field.stored(await read(page, id)), (stored) => stored === value);
      return seen === undefined ? undefined : `stored is ${seen}, wanted ${value}`;
    });
  }
  attacks.close('leaving a field');
}, PHONE_OF_THE_DAY);

scenario('keeps what cannot be stored, and says why, however its field is left', async (hands) => {
  const { page } = hands;
  const attacks = new Attacks(hands);
  const said = (text, label) => until(page, () => page.locator('aside').allInnerTexts().then((all) => all.join(' ')),
    (now) => now.includes(`Not stored: “${text}”, typed for ${label}.`));
  const ways = ['the back button', 'a press of another place that leaves the focus', 'a tap on Results', 'the start screen, the focus left', 'the address of another test'];
  for (const [of, field] of some(Object.entries(FIELDS))) {
    if (of.startsWith('name')) continue;
    for (const [nth, name] of ways.entries()) {
      const text = NO_NUMBERS[nth % NO_NUMBERS.length];
      // A row of numbers has spaces between them.
      if (of === 'readings on bare metal' && text === '4 26') continue;
      if (field.place === 'results' && name.includes('Results')) continue;
      await attacks.attempt(`“${text}” as ${of}, ${name}`, field, text, WAYS[name], async ({ id, label }) => {
        const before = JSON.stringify(field.stored(field.make(id)));
        if (JSON.stringify(field.stored(await read(page, id))) !== before) return 'something was stored';
        const now = await said(text, label);
        if (now !== undefined) return `the page says: ${now}`;
        await upTo(page, id, field);
        const input = element(page, field);
        if ((await input.inputValue()) !== text) return `the field has ${await input.inputValue()} after coming back`;
        if ((await input.getAttribute('aria-invalid')) !== 'true') return 'the field does not say that it is not stored';
        await input.fill('');
        await input.blur();
        const rest = await until(page, () => page.evaluate(() => localStorage.getItem('comb-scale/left')), (left) => left === '[]');
        return rest === undefined ? undefined : `still kept: ${rest}`;
      });
    }
  }
  for (const of of some(GONE)) {
    const field = FIELDS[of];
    const take = { go: async ({ page, id }) => {
      const test = await read(page, id);
      Object.assign(field.owner(test), { deleted: true, edited: { deleted: '999@other' } });
      await page.evaluate(([key, newValue]) => {
        localStorage.setItem(key, newValue);
        dispatchEvent(new StorageEvent('storage', { key, newValue, storageArea: localStorage }));
      }, [`comb-scale/test/${id}`, JSON.stringify(test)]);
    } };
    await attacks.attempt(`${of}, taken out in another tab`, field, field.text, take, async ({ id, label }) => {
      const now = await said(field.text, label);
      if (now !== undefined) return `the page says: ${now}`;
      await press(page, 'Throw it away');
      const rest = await until(page, () => page.evaluate(() => localStorage.getItem('comb-scale/left')), (left) => left === '[]');
      return rest === undefined ? undefined : `still kept: ${rest}`;
    });
  }
  attacks.close('what cannot be stored');
}, PHONE_OF_THE_DAY);

scenario('keeps what is being typed through a reload, a closed tab and a second one', async (hands) => {
  const attacks = new Attacks(hands);
  const { page } = hands;
  for (const [of, field] of some(Object.entries(FIELDS))) {
    const value = field.value ?? Number(field.text.replace(',', '.'));
    await attacks.attempt(`${of}, a reload`, field, field.text, { go: () => hands.reload() }, async ({ id }) => {
      const seen = await until(page, async () => field.stored(await read(page, id)), (stored) => stored === value);
      return seen === undefined ? undefined : `stored is ${seen}, wanted ${value}`;
    });
  }
  const field = FIELDS['wanted dry build'];
  await attacks.attempt('no number, a reload', field, 'abc', { go: () => hands.reload() }, async ({ input }) => {
    await input.waitFor();
    const seen = await until(page, () => input.inputValue(), (text) => text === 'abc');
    return seen === undefined ? undefined : `the field has ${seen}`;
  });
  attacks.close('a page that goes');
}, PHONE_OF_THE_DAY);
