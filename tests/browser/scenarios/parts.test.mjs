// The program comes in two files: that of the first screen, and the one behind it.

import assert from 'node:assert/strict';
import { scenario } from '../lib/scenario.mjs';

const WORKSHOP = /\/workshop-[0-9a-f]+\.wasm$/;

/** Keeps the larger file on its way until the function it gives is called. */
async function heldUp(page) {
  let release;
  const released = new Promise((done) => { release = done; });
  await page.route(WORKSHOP, async (route) => {
    await released;
    await route.continue();
  });
  return release;
}

scenario('shows the first screen while the rest is on its way, and does once what was pressed meanwhile', async (hands) => {
  const { page } = hands;
  const release = await heldUp(page);
  await page.reload();
  await hands.see('None yet. What you enter stays on this phone; nothing is sent anywhere.');
  await hands.see('The rest of the page is on its way …');
  await hands.tap('New spray test');
  await hands.tap('New spray test');
  await hands.shot('on-its-way');
  await hands.assertAccessible();
  release();
  await hands.field('Name of the test').waitFor();
  await hands.tap('All tests');
  assert.equal(await hands.pressable(/^Spray test of/).count(), 1);
}, { serviceWorkers: 'block' });

scenario('says when the rest does not come, and fetches it again', async (hands) => {
  const { page } = hands;
  await page.route(WORKSHOP, (route) => route.abort());
  await page.goto(`${hands.url}#/worked-example/weigh`);
  await page.reload();
  await hands.see('The rest of the page did not come. What is kept on this phone is safe.');
  await hands.assertAccessible();
  await hands.tap('Fetch it again');
  await hands.see('The rest of the page did not come. What is kept on this phone is safe.');
  await page.unroute(WORKSHOP);
  await hands.tap('Fetch it again');
  await hands.see('A worked example: everything in it is invented.');
}, { serviceWorkers: 'block', expectErrors: [/ERR_FAILED|Failed to fetch/] });

scenario('starts from a host that does not know what a .wasm file is', async (hands) => {
  const { page } = hands;
  await page.route(/\.wasm$/, async (route) => {
    const response = await route.fetch();
    await route.fulfill({ response, headers: { ...response.headers(), 'content-type': 'application/octet-stream' } });
  });
  await hands.reload();
  await hands.tap('See a worked example');
  await hands.assertDrawn();
}, { serviceWorkers: 'block' });

scenario('lists a test that is opened by its address before the first screen could list it', async (hands) => {
  const { page } = hands;
  await page.evaluate(() => {
    localStorage.setItem('comb-scale/test/early', JSON.stringify({ format: 'spray-test', version: 1, id: 'early', title: 'Early' }));
  });
  await page.goto(`${hands.url}#/early/results`);
  await hands.reload();
  await hands.tap('Save the record');
  await hands.tap('All tests');
  await hands.see(/^Last saved as a file/);
});
