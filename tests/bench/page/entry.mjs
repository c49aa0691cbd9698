// From the key that stores a weight to the frame in which its effect stands on the screen, and from a tap on Results to
// the frame with its sentences: 12 panels × 30 weigh-ins, processor slowed four times. `node entry.mjs [FOLDER [RUNS]]`.

import { begin, median, open, put, slow } from './browser.mjs';
import { blankWeight, record, weight } from './records.mjs';

const [PANELS, WEIGH_INS] = [12, 30];
/** Panels weighed in a run, after the blank. */
const WEIGHED = 6;
const RATE = 4;

/**
 * Readies the page to tell how long after the next `event` each of `stages` is on the screen: the time after the drawing
 * of the first frame in which it holds. A stage is the text of a function of `label` and `following`.
 */
const ready = (page, event, stages, words) => page.evaluate(([event, stages, words]) => {
  globalThis.effect = new Promise((told, failed) => {
    let began;
    addEventListener(event, ({ timeStamp }) => { began ??= timeStamp; }, { capture: true });
    const waiting = stages.map((text) => new Function('label', 'following', `return ${text}`));
    const times = [];
    const look = () => {
      if (began && performance.now() - began > 20_000) failed(new Error(`stage ${times.length} never came`));
      if (!began || !waiting[0](...words)) return requestAnimationFrame(look);
      waiting.shift();
      const channel = new MessageChannel();
      channel.port1.onmessage = () => {
        times.push(performance.now() - began);
        if (waiting.length === 0) told(times);
        else requestAnimationFrame(look);
      };
      channel.port2.postMessage(0);
    };
    requestAnimationFrame(look);
  });
}, [event, stages, words]);

const effect = (page) => page.evaluate(() => globalThis.effect);

const ROW = `[...document.querySelectorAll('.rack button')].find((row) => row.querySelector('.name').innerText === label)`;
const JUST = `document.querySelector('.just').innerText`;
/** The row has the weight, the weight is read back with its judgement, and the next field is up, with a line under it. */
const STANDS = `!${ROW}.innerText.includes('not yet') && ${JUST}.startsWith(label + ' ') && ${JUST}.includes('since the last')
  && document.activeElement?.tagName === 'INPUT' && document.querySelector('label[for=' + document.activeElement.id + ']')?.innerText.trim() === following
  && document.querySelector('.up .hint').innerText.startsWith('was')`;
const EXPECTED = `document.querySelector('.up .hint').innerText.includes('the curve expects')`;
const ALL = `!document.querySelector('main').innerText.includes('Working')`;
const SAID = `document.querySelector('.said p')?.innerText.includes('Film still to go')`;

/** Times, ms: `{ panel, blank, next, all, results, version }`, a list each but the browser's version. */
export async function entries(folder, runs, watch) {
  const { url, phone, close, version } = await begin(folder);
  const told = { panel: [], blank: [], next: [], all: [], results: [], version };
  const text = JSON.stringify(record('slow', PANELS, WEIGH_INS - 2));
  const labels = ['Blank', ...Array.from({ length: PANELS }, (_, i) => `P${i + 1}`)];
  for (let run = 0; run < runs; run += 1) {
    const own = await phone();
    await put(own, url, { 'comb-scale/test/slow': text });
    const { page, debug } = await open(own);
    await page.goto(`${url}#/slow/weigh`);
    await page.getByRole('button', { name: 'Begin a round' }).click();
    await page.locator('.up input').waitFor();
    await page.getByText('Working').waitFor({ state: 'detached' });
    await slow(debug, RATE);
    for (let i = 0; i <= WEIGHED; i += 1) {
      await page.keyboard.type((i === 0 ? blankWeight(WEIGH_INS) : weight(i - 1, WEIGH_INS - 2)).toFixed(1));
      await ready(page, 'keydown', [STANDS, EXPECTED, ALL], [labels[i], labels[i + 1]]);
      await page.waitForTimeout(300);
      await watch?.before(debug);
      await page.keyboard.press('Enter');
      const [stands, expected, all] = await effect(page);
      await watch?.after(debug, labels[i]);
      if (i > 0) told.panel.push(stands);
      else {
        told.blank.push(stands);
        told.next.push(expected);
        told.all.push(all);
      }
    }
    // Straight to Results after the blank was weighed once more.
    await page.locator('.rack button').first().click();
    await page.locator('.up input').fill((blankWeight(WEIGH_INS) + 0.1).toFixed(1));
    await ready(page, 'click', [SAID], []);
    await page.waitForTimeout(300);
    await page.keyboard.press('Enter');
    await page.locator('nav.bar a').last().click();
    told.results.push((await effect(page))[0]);
    await own.close();
  }
  await close();
  return told;
}

/**
 * The page's own processor time for a panel's weight at full speed, ms each: what the times above come to on a machine
 * that does nothing else is four times this, since work is all that slowing slows.
 */
export async function work(folder) {
  const { url, phone, close } = await begin(folder);
  const own = await phone();
  await put(own, url, { 'comb-scale/test/slow': JSON.stringify(record('slow', PANELS, WEIGH_INS - 2)) });
  const { page, debug } = await open(own);
  await debug.send('Performance.enable', { timeDomain: 'threadTicks' });
  await page.goto(`${url}#/slow/weigh`);
  await page.getByRole('button', { name: 'Begin a round' }).click();
  const spent = async () => (await debug.send('Performance.getMetrics')).metrics.find(({ name }) => name === 'TaskDuration').value;
  const told = [];
  for (let i = 0; i < PANELS; i += 1) {
    await page.keyboard.type((i === 0 ? blankWeight(WEIGH_INS) : weight(i - 1, WEIGH_INS - 2)).toFixed(1));
    await page.waitForTimeout(300);
    const before = await spent();
    await page.keyboard.press('Enter');
    await page.waitForTimeout(i === 0 ? 3000 : 300);
    if (i > 0) told.push(1000 * (await spent() - before));
  }
  await close();
  return told;
}

if (process.argv[1]?.endsWith('entry.mjs')) {
  const told = await entries(process.argv[2] ?? 'dist', Number(process.argv[3] ?? 3));
  const line = (name, list) => console.log(`${name}: median ${median(list).toFixed(0)} ms of ${list.map((ms) => ms.toFixed(0)).join(' ')}`);
  line("a panel's weight", told.panel);
  line("a blank's weight", told.blank);
  line('… what the curve expects of the next', told.next);
  line('… all panels worked out again', told.all);
  line('Results straight after a blank', told.results);
  line("processor time of a panel's weight at full speed", await work(process.argv[2] ?? 'dist'));
}
