// The accessibility audit: axe-core in every state of every place, and what a screen reader hears. Colours in every theme are
// measured in reading.test.mjs, which asks more of them.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { audit } from '../lib/audit.mjs';
import { store } from '../lib/kept.mjs';
import { PHONE, scenario } from '../lib/scenario.mjs';
import { fixtures, PLACES, prepare, to, unfoldAll, walk } from '../lib/states.mjs';

scenario('every state of every place keeps the rules for everyone', async (hands) => {
  const found = [];
  await walk(hands, async (name) => {
    found.push(...(await audit(hands.page, name)));
  }, process.env.ONLY && new RegExp(process.env.ONLY));
  for (const line of found) console.log(`# ${line}`);
  assert.equal(found.length, 0, 'see the lines above');
}, { size: PHONE, setUp: prepare });

/** The accessibility tree of a part of the page, as text. */
const heard = (part) => part.ariaSnapshot();

scenario('a screen reader hears where it is, what a chart shows, what a weight means and what is wrong with a number', async (hands) => {
  const { page } = hands;
  await store(page, fixtures());
  await to(hands, '/full/results');
  assert.equal(await page.locator('html').getAttribute('lang'), 'en');
  assert.equal(await page.title(), 'Results · Three weeks · Comb & Scale');
  assert.deepEqual(await page.getByRole('main').count(), 1);
  assert.match(await heard(page.getByRole('navigation', { name: 'Places' })), /link "Results"/);
  assert.equal(await page.getByRole('navigation').getByRole('link', { name: 'Results' }).getAttribute('aria-current'), 'page');

  // Each chart is one picture whose name is what it shows, with its numbers as a table behind it.
  const charts = page.getByRole('region', { name: 'Charts' });
  const [bars] = await page.getByRole('region', { name: 'The answer' }).getByRole('img').evaluateAll((all) => all.map((it) => it.ariaLabel));
  assert.match(bars, /Candidate .* sprayed/);
  for (const [chart, unit] of [['Film', /\d.*µm/], ['Weight', /\d.*g/]]) {
    await hands.tap(chart, charts);
    const pictures = await charts.getByRole('img').evaluateAll((all) => all.map((it) => it.ariaLabel));
    assert.equal(pictures.length, 1);
    assert.match(pictures[0], /Candidate|A1/);
    assert.match(pictures[0], unit, pictures[0]);
    await unfoldAll(page);
    const text = await heard(charts.getByRole('table'));
    assert.match(text, /columnheader "Panel"[\s\S]*rowheader "A1"[\s\S]*cell/);
  }

  // Headings go down one step at a time, from one of the first order.
  for (const place of PLACES) {
    await to(hands, `/full/${place}`);
    await unfoldAll(page);
    const levels = await page.locator('h1, h2, h3').evaluateAll((all) => all.filter((it) => it.checkVisibility()).map((it) => Number(it.tagName[1])));
    assert.equal(levels.filter((level) => level === 1).length, 1, place);
    levels.reduce((before, level) => { assert.ok(level <= before + 1, `${place}: ${levels}`); return level; }, 0);
    assert.match(await page.title(), new RegExp(`^${place} · Three weeks`, 'i'));
  }

  // A stored weight is read back in a part that was there before it, which is what makes a reader speak.
  await to(hands, '/full/weigh');
  await hands.tap('Begin a round');
  await hands.due('Blank');
  const status = page.getByRole('region', { name: 'This round' }).getByRole('status');
  const before = await status.elementHandle();
  await hands.key('561.4');
  await hands.due('A1');
  assert.match(await status.innerText(), /^Blank 561\.4 g\. .*the scale holds/);
  assert.ok(await before.evaluate((it) => it.isConnected), 'the part that speaks stays');
  await hands.key('999');
  await page.getByRole('alert').filter({ hasText: 'Weigh it again' }).waitFor();

  // A field names what is wrong with it.
  await to(hands, '/full/plan');
  await hands.fill('Wanted dry build', 'abc');
  const field = hands.field('Wanted dry build');
  assert.equal(await field.getAttribute('aria-invalid'), 'true');
  assert.match(await heard(field), /invalid/);
  const described = await field.evaluate((it) => it.getAttribute('aria-describedby').split(' ').map((id) => document.getElementById(id).innerText).join(' '));
  assert.match(described, /That is not a number/);
}, { size: PHONE, setUp: prepare });

scenario('the report holds the rules too', async (hands) => {
  const { page } = hands;
  await store(page, fixtures());
  await to(hands, '/full/results');
  const saved = page.waitForEvent('download');
  await hands.tap('Save report');
  const report = readFileSync(await (await saved).path(), 'utf8');
  const paper = await page.context().newPage();
  await paper.setContent(report);
  const found = await audit(paper, 'report');
  for (const line of found) console.log(`# ${line}`);
  assert.equal(found.length, 0, 'see the lines above');
}, { size: PHONE, setUp: prepare });
