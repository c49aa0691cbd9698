// What the page says has happened has happened: sent, copied, erased, started; and which of two numbers was meant.

import assert from 'node:assert/strict';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { store, stored, theTest } from '../lib/kept.mjs';
import { scenario } from '../lib/scenario.mjs';

const exported = async (page) => JSON.parse((await stored(page))['comb-scale/shelf'])[0].exported;

scenario('notes that the record left the phone once it has, and says when it has not', async (hands) => {
  const { page } = hands;
  const answers = (outcome) => page.evaluate((outcome) => {
    const promise = () => (outcome === 'done' ? Promise.resolve() : Promise.reject(new DOMException('no', outcome)));
    Object.defineProperty(navigator, 'canShare', { value: () => true, configurable: true });
    Object.defineProperty(navigator, 'share', { value: promise, configurable: true });
    Object.defineProperty(navigator, 'clipboard', { value: { writeText: promise }, configurable: true });
  }, outcome);
  await page.addInitScript(() => Object.defineProperty(navigator, 'canShare', { value: () => true, configurable: true }));
  await hands.reload();
  await hands.tap('New spray test');
  await hands.tap('Results');
  await answers('AbortError');
  await hands.tap('Send the record');
  await hands.see('Not sent: the sheet was closed, or the phone refused.');
  assert.equal(await exported(page), '');
  await answers('NotAllowedError');
  await hands.tap('Copy as text');
  await hands.see('Not copied: this browser refused. Copy the text below by hand.');
  assert.match(await page.getByLabel('The record as text, to be copied').inputValue(), /spray-test/);
  assert.equal(await exported(page), '');
  await answers('done');
  await hands.tap('Copy as text');
  await hands.see('Copied. Paste it into a message.');
  await page.waitForFunction(() => JSON.parse(localStorage.getItem('comb-scale/shelf'))[0].exported !== '');
});

scenario('keeps an erased test erased, unless a tab that still has it open wants it', async (hands) => {
  const { page } = hands;
  await hands.tap('New spray test');
  await page.waitForURL(/plan/);
  const { key, id } = await theTest(page);
  const other = await page.context().newPage();
  await other.goto(`${hands.url}#/${id}/plan`);
  await other.getByLabel('Name of the test').waitFor();
  await hands.tap('All tests');
  await hands.tap('Remove …');
  await hands.tap('Put it into the bin');
  await hands.tap('Erase now …');
  await hands.tap('Erase it for good');
  const said = /^Not kept: This test was erased for good in another tab\. It is still on screen/;
  await other.getByText(said).waitFor();
  // A number that comes later is on its screen, and writes nothing.
  await other.getByLabel('Wanted dry build', { exact: true }).first().fill('80');
  await other.getByLabel('Wanted dry build', { exact: true }).first().blur();
  await other.getByText(said).waitFor();
  assert.equal((await stored(page))[key], undefined);
  await hands.reload();
  await hands.see(/^None yet\./);
  await other.getByRole('button', { name: 'Keep it after all' }).click();
  await other.getByText(said).waitFor({ state: 'detached' });
  const texts = Object.entries(await stored(page)).filter(([key]) => /^comb-scale\/(test|slip)\//.test(key));
  assert.ok(texts.some(([, text]) => JSON.parse(text).wanted.dry_build_um === 80));
});

scenario('takes back what it said of a slow start once the program is there', async (hands) => {
  const { page } = hands;
  let release;
  const released = new Promise((done) => { release = done; });
  await page.route(/\.wasm$/, async (route) => { await released; await route.continue(); });
  await page.clock.install();
  await page.reload({ waitUntil: 'domcontentloaded' });
  await page.clock.runFor(31_000);
  await hands.see('The program has not started yet.');
  release();
  await page.getByText('The program has not started yet.').waitFor({ state: 'detached' });
  await hands.started();
  await page.clock.runFor(31_000);
  assert.equal(await page.getByText('The program has not started yet.').count(), 0);
  assert.equal(await page.locator('main').count(), 1);
}, { serviceWorkers: 'block' });

scenario('says what to do where the page is opened from a file', async ({ page, host }) => {
  const file = await page.context().newPage();
  await file.goto(pathToFileURL(resolve(host.folder, 'index.html')).href);
  await file.getByText('This page was opened from a file, and browsers run no program from there.').waitFor();
  await file.close();
}, { expectErrors: [/CORS|file:/, /.*/] });

scenario('asks which of two numbers is meant, and stores the one that is pressed', async (hands) => {
  const { page } = hands;
  await hands.tap('New spray test');
  for (const [press, grams] of [['1234 g', 1234], ['1.234 g', 1.234]]) {
    await store(page, { 'comb-scale/test/q': JSON.stringify({ format: 'spray-test', version: 1, id: 'q', title: 'Q', candidates: [{ id: 'A', label: 'A' }], panels: [{ id: 'A1', label: 'A1', candidate: 'A' }] }) });
    await page.goto(`${hands.url}#/q/spray`);
    await hands.reload();
    await hands.openEntries();
    await hands.fill('A1 bare', '1,234');
    await hands.see('1234 g or 1.234 g?');
    assert.doesNotMatch((await stored(page))['comb-scale/test/q'], /gross_g/);
    await hands.assertTargets();
    await hands.tap(press);
    await page.waitForFunction((grams) => JSON.parse(localStorage.getItem('comb-scale/test/q')).panels[0].bare?.[0]?.gross_g === grams, grams);
    assert.equal(await page.getByText('1234 g or 1.234 g?').count(), 0);
    await store(page, { 'comb-scale/test/q': null });
    await page.goto(hands.url);
    await hands.reload();
  }
});
