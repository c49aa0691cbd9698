// From asking for the page to the frame in which it can be used, processor slowed four times: on fast 4G with nothing
// cached, and once the service worker has it. `node screens.mjs [FOLDER [RUNS]]`.

import { begin, median, on4G, open, put, slow } from './browser.mjs';
import { record } from './records.mjs';

const RATE = 4;
const [PANELS, WEIGH_INS] = [9, 25];

const pressable = (name) => `[...document.querySelectorAll('button')].some((it) => it.innerText.trim() === '${name}')`;
const SCREENS = [
  { name: 'start screen', address: '', usable: pressable('New spray test') },
  { name: `Weigh of a kept test, ${PANELS} × ${WEIGH_INS}`, address: '#/kept/weigh', usable: pressable('Begin a round') },
  { name: "the worked example's Results", address: '#/worked-example/results', usable: `document.querySelector('.said p')?.innerText.includes('Film still to go')` },
];

/** Has every page of the phone tell, as `usableAt`, how long after it was asked for it could be used, ms. */
const listen = (own, usable) => own.addInitScript((usable) => {
  const holds = new Function(`return ${usable}`);
  const look = () => {
    if (!document.body || !holds()) return requestAnimationFrame(look);
    const channel = new MessageChannel();
    channel.port1.onmessage = () => { globalThis.usableAt ??= performance.now(); };
    channel.port2.postMessage(0);
  };
  requestAnimationFrame(look);
}, usable);

const usableAt = async (page) => (await page.waitForFunction(() => globalThis.usableAt, undefined, { polling: 50 })).jsonValue();

/** Times, ms: of each screen `{ name, fresh, cached }`, a list each. */
export async function screens(folder, runs, watch) {
  // Compressed as well as it goes, as hosts have their files lying.
  const { url, phone, close } = await begin(folder, { quality: 11 });
  const texts = { 'comb-scale/test/kept': JSON.stringify(record('kept', PANELS, WEIGH_INS - 1)) };
  const told = [];
  // The first visit waits for the server to compress, and is not counted.
  const visitor = await phone();
  const { page: visited } = await open(visitor);
  await visited.goto(url);
  await visited.getByRole('button', { name: 'New spray test' }).waitFor({ timeout: 120_000 });
  await visitor.close();
  for (const { name, address, usable } of SCREENS) {
    const [fresh, cached] = [[], []];
    for (let run = 0; run < runs; run += 1) {
      const own = await phone();
      await put(own, url, texts);
      await listen(own, usable);
      const first = await open(own);
      await on4G(first.debug);
      await slow(first.debug, RATE);
      await first.page.goto(url + address, { waitUntil: 'commit' });
      fresh.push(await usableAt(first.page));
      await slow(first.debug, 1);
      await first.page.evaluate(() => navigator.serviceWorker.ready);
      await first.page.close();
      // Twice more, since the browser keeps what it compiled once it sees a program again.
      for (let visit = 0; visit < 3; visit += 1) {
        const { page, debug } = await open(own);
        await slow(debug, RATE);
        if (visit === 2) await watch?.before(debug);
        await page.goto(url + address, { waitUntil: 'commit' });
        const at = await usableAt(page);
        if (visit === 2) await watch?.after(debug, name);
        if (visit === 2) cached.push(at);
        await page.waitForTimeout(500);
        await page.close();
      }
      await own.close();
    }
    told.push({ name, fresh, cached });
  }
  await close();
  return told;
}

if (process.argv[1]?.endsWith('screens.mjs')) {
  const list = (times) => `median ${median(times).toFixed(0)} ms of ${times.map((ms) => ms.toFixed(0)).join(' ')}`;
  for (const { name, fresh, cached } of await screens(process.argv[2] ?? 'dist', Number(process.argv[3] ?? 3))) {
    console.log(`${name}: fast 4G ${list(fresh)}; cached ${list(cached)}`);
  }
}
