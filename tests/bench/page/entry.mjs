// From the key that stores a weight to the frame in which its effect stands on the screen: `node entry.mjs [FOLDER [RUNS]]`.
// 12 panels × 30 weigh-ins, processor slowed four times. The effect: the row in the rack has the weight, the weight is read
// back with its judgement, and the next field is up and has what the curve expects there.

import { begin, median, open, put, slow } from './browser.mjs';
import { blankWeight, record, weight } from './records.mjs';

const [PANELS, WEIGH_INS] = [12, 30];

/** Presses Enter and waits for the frame in which `done` holds; gives the time, ms. */
async function timed(page, label, following) {
  await page.evaluate(([label, following]) => { globalThis.effect = new Promise((told, failed) => {
    let began;
    addEventListener('keydown', (event) => { began = event.timeStamp; }, { capture: true, once: true });
    const text = (of) => document.querySelector(of)?.innerText ?? '';
    const row = () => [...document.querySelectorAll('.rack button')].find((it) => it.querySelector('.name').innerText === label);
    const stands = () => {
      const up = document.activeElement;
      const next = following === null || (up?.tagName === 'INPUT' && document.querySelector(`label[for=${up.id}]`)?.innerText.trim() === following);
      return began && next && !row().innerText.includes('not yet') && text('.just').startsWith(`${label} `) && text('.just').includes('since');
    };
    const hinted = () => following === null || /expects|was/.test(text('.up .hint'));
    let first;
    const look = () => {
      if (first === undefined && stands()) {
        const channel = new MessageChannel();
        first = 0;
        channel.port1.onmessage = () => { first = performance.now() - began; };
        channel.port2.postMessage(0);
      }
      if (first && hinted() && !/working/.test(document.body.innerText)) {
        const channel = new MessageChannel();
        channel.port1.onmessage = () => told({ first, all: performance.now() - began });
        channel.port2.postMessage(0);
      } else if (performance.now() - began > 10_000) failed(new Error(`no effect: ${[began, first, stands(), hinted(), document.activeElement.outerHTML, text('.just'), text('.up')].join(' | ')}`));
      else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  }); }, [label, following]);
  await page.keyboard.press('Enter');
  return page.evaluate(() => globalThis.effect);
}

export async function entries(folder, runs, watch) {
  const { url, phone, close, version } = await begin(folder);
  const told = { panel: [], blank: [], blankAll: [], panelAll: [], results: [], version };
  for (let run = 0; run < runs; run += 1) {
    const context = await phone();
    await put(context, url, { 'comb-scale/test/slow': JSON.stringify(record('slow', PANELS, WEIGH_INS - 2)) });
    const { page, debug } = await open(context);
    await page.goto(`${url}#/slow/weigh`);
    await page.getByRole('button', { name: 'Begin a round' }).click();
    await page.locator('.up input').waitFor();
    await slow(debug, 4);
    const labels = ['Blank', ...Array.from({ length: PANELS }, (_, i) => `P${i + 1}`)];
    for (let i = 0; i < 7; i += 1) {
      await page.keyboard.type((i === 0 ? blankWeight(WEIGH_INS) : weight(i - 1, WEIGH_INS - 2)).toFixed(1));
      await page.waitForTimeout(700);
      if (watch) await watch.before(debug, labels[i]);
      const { first, all } = await timed(page, labels[i], labels[i + 1]);
      if (watch) await watch.after(debug, labels[i]);
      (i === 0 ? told.blank : told.panel).push(first);
      (i === 0 ? told.blankAll : told.panelAll).push(all);
    }
    await slow(debug, 1);
    // Straight to Results after the blank is weighed once more.
    await context.close();
  }
  await close();
  return told;
}

if (process.argv[1].endsWith('entry.mjs')) {
  const told = await entries(process.argv[2] ?? 'dist', Number(process.argv[3] ?? 3));
  const line = (name, list) => console.log(`${name}: median ${median(list).toFixed(0)} ms, ${list.map((ms) => ms.toFixed(0)).join(' ')}`);
  line("a panel's weight", told.panel);
  line("... all worked out", told.panelAll);
  line("a blank's weight", told.blank);
  line("... all worked out", told.blankAll);
}
