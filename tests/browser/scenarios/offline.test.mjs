// With the network off, and while newer versions come: the page goes on working.

import assert from 'node:assert/strict';
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { scenario } from '../lib/scenario.mjs';
import { HEADERS, seal } from '../../setup/seal.mjs';

/** Waits until this visit has taken in everything that the next one needs. */
const takenIn = (page) => page.evaluate(async () => {
  await navigator.serviceWorker.ready;
});

const edit = (file, change) => writeFileSync(file, change(readFileSync(file, 'utf8')));

/** Puts another version of the page on the host: same program, another mark. */
function publish(host, mark) {
  edit(join(host.folder, 'index.html'), (html) => html.replace(/ data-mark="\w+"/, '').replace('<html', `<html data-mark="${mark}"`));
  return seal(host.folder);
}

/** Opens the page in a version of its own, kept on the phone, as if there had been none before. */
async function begin(hands) {
  const { page, host } = hands;
  await takenIn(page);
  await page.evaluate(async () => {
    await (await navigator.serviceWorker.ready).unregister();
    for (const name of await caches.keys()) await caches.delete(name);
  });
  publish(host, 'one');
  await hands.reload();
  await takenIn(page);
  await hands.reload();
}

const markOf = (page) => page.evaluate(() => document.documentElement.dataset.mark);

/** Has the browser look for a newer version, and waits until it has taken it in, or turned it down. */
const lookForNewer = (page) => page.evaluate(async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  await registration.update().catch(() => {});
  const coming = registration.installing ?? registration.waiting;
  while (coming?.state === 'installing') await new Promise((later) => setTimeout(later, 20));
  return coming?.state ?? 'none';
});

scenario('is sealed by the build: sealing it again changes nothing, and any change to a file is another version', async ({ host }) => {
  const read = () => Object.fromEntries(readdirSync(host.folder).filter((name) => !name.startsWith('.')).map((name) => [name, readFileSync(join(host.folder, name), 'latin1')]));
  const built = read();
  const version = seal(host.folder);
  assert.deepEqual(Object.keys(read()), Object.keys(built));
  for (const [name, bytes] of Object.entries(read())) assert.ok(bytes === built[name], name);
  assert.ok(built['worker.js'].includes(version));
  for (const name of Object.keys(built).filter((name) => name !== 'worker.js' && name !== HEADERS)) assert.ok(built['worker.js'].includes(JSON.stringify(name)), name);
  writeFileSync(join(host.folder, 'manifest.webmanifest'), `${built['manifest.webmanifest']}\n`);
  assert.notEqual(seal(host.folder), version);
}, { own: true });

for (const [where, base] of [['the top', '/'], ['a folder', '/shop/worksheets/']]) {
  scenario(`starts cold with the network off, from ${where} of a host`, async (hands) => {
    const context = hands.page.context();
    await takenIn(hands.page);
    await hands.host.close();
    await hands.offline();
    await hands.page.close();
    hands.page = await context.newPage();
    await hands.open();
    await hands.tap('New spray test');
    await hands.tap('Spray');
    await hands.openEntries();
    await hands.fill('A1 bare', '412.5');
    await hands.reload();
    await hands.openEntries();
    assert.equal(await hands.field('A1 bare').inputValue(), '412.5');
    await hands.tap('All tests');
    await hands.tap('See a worked example');
    await hands.see(/^After day 3, /);
    await hands.assertDrawn();
  }, { base, everywhere: true, serviceWorkers: 'allow' });
}

scenario('offers a newer version, and leaves a half-typed number alone', async (hands) => {
  const { page, host } = hands;
  await begin(hands);
  assert.equal(await markOf(page), 'one');
  await hands.tap('New spray test');
  await hands.tap('Spray');
  await hands.openEntries();
  await hands.field('A1 bare').pressSequentially('412,');

  publish(host, 'two');
  assert.equal(await lookForNewer(page), 'installed');
  await hands.see('A newer version of this page is ready. Your tests stay as they are.');
  await page.waitForTimeout(500);
  assert.equal(await hands.field('A1 bare').inputValue(), '412,', 'nothing was taken from under the fingers');
  await hands.reload();
  assert.equal(await markOf(page), 'one', 'a reload alone does not force it');
  await hands.see(/A newer version/);
  await hands.shot('newer-version');
  await hands.assertAccessible();

  await hands.openEntries();
  await hands.field('A1 bare').fill('');
  await hands.field('A1 bare').pressSequentially('heavy');
  await hands.tap('Use the newer version');
  await hands.see(/A field still holds something that could not be stored/);
  assert.equal(await hands.field('A1 bare').inputValue(), 'heavy');
  // A number that can be stored is stored on the way.
  await hands.field('A1 bare').fill('412,5');
  await Promise.all([page.waitForEvent('load'), hands.tap('Use the newer version')]);
  await hands.started();
  assert.equal(await markOf(page), 'two');
  await hands.openEntries();
  assert.equal(await hands.field('A1 bare').inputValue(), '412.5');
  await page.waitForFunction(async () => (await caches.keys()).length === 1, undefined, { polling: 100 });
}, { own: true, everywhere: true, needs: ['own reload'], serviceWorkers: 'allow' });

scenario('an update that does not come whole changes nothing', async (hands) => {
  const { page, host } = hands;
  await begin(hands);
  const script = readdirSync(host.folder).find((name) => name.startsWith('parts-'));
  const whole = readFileSync(join(host.folder, script), 'utf8');
  const wreck = {
    'a file that is another one': () => writeFileSync(join(host.folder, script), `${whole}x`),
    'a file that breaks off': () => writeFileSync(join(host.folder, script), whole.slice(0, 100)),
    'a file that is missing': () => rmSync(join(host.folder, script)),
  };
  let mark = 1;
  for (const [what, break_] of Object.entries(wreck)) {
    writeFileSync(join(host.folder, script), `${whole}/* ${(mark += 1)} */`);
    publish(host, `broken${mark}`);
    break_();
    assert.equal(await lookForNewer(page), 'redundant', what);
    assert.equal((await page.evaluate(() => caches.keys())).length, 1, `${what}: no half of it is left`);
    await hands.reload();
    assert.equal(await markOf(page), 'one', what);
    assert.equal(await page.getByText('A newer version').count(), 0, what);
  }
  await host.close();
  await hands.offline();
  await hands.reload();
  await hands.tap('See a worked example');
  await hands.assertDrawn();
}, { own: true, everywhere: true, serviceWorkers: 'allow' });

scenario('goes back to the version before where the new one does not start', async (hands) => {
  const { page, host } = hands;
  await begin(hands);
  // Whole, and broken all the same: the glue of the program does not run.
  const glue = readdirSync(host.folder).find((name) => /^comb-scale-.*\.js$/.test(name));
  edit(join(host.folder, glue), (text) => `throw new Error('a fault made on purpose');\n${text}`);
  publish(host, 'two');
  assert.equal(await lookForNewer(page), 'installed');
  await Promise.all([page.waitForEvent('load'), hands.tap('Use the newer version')]);
  await hands.see('The program could not start.');
  assert.equal(await markOf(page), 'two');
  await hands.shot('could-not-start');
  await Promise.all([page.waitForEvent('load'), hands.tap('Go back to the version before')]);
  await hands.started();
  await page.getByRole('heading', { level: 1 }).first().waitFor();
  assert.equal(await markOf(page), 'one');
  await host.close();
  await hands.reload();
  assert.equal(await markOf(page), 'one');
}, { own: true, everywhere: true, needs: ['fresh scripts'], serviceWorkers: 'allow', expectErrors: [/a fault made on purpose/] });
