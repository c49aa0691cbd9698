// What Results says of three candidates whose drying law is known: sentences, table, charts, working, report.

import assert from 'node:assert/strict';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { store } from '../lib/kept.mjs';
import { AREA_M2, CANDIDATES, PANELS, at, gross, lost, put, record } from '../lib/law.mjs';
import { DESK, PHONE, scenario } from '../lib/scenario.mjs';
import { full, prepare, to } from '../lib/states.mjs';

const AGES = [4, 8, 24, 48, 72, 96, 144, 192, 240, 312, 384, 456, 504];
const TABLET = { viewport: { width: 820, height: 1180 }, deviceScaleFactor: 2, hasTouch: true };
const opened = (id = 'law') => ({
  setUp: async (page) => {
    await put(page, record(id, AGES));
    await page.clock.setFixedTime(at(505));
  },
});

const mean = (list) => list.reduce((sum, value) => sum + value, 0) / list.length;
const number = (text) => Number(text.replace('−', '-'));

/** The values of a row, in the order of its lanes: `[{ value, low, high, range }]`; folded rows are opened for it. */
async function cells(hands, name) {
  if (!(await hands.page.locator('.row-name', { hasText: name }).filter({ visible: true }).count())) await hands.unfold('More rows');
  const told = await hands.page.locator('.row .told-row').evaluateAll((rows, name) => {
    return rows.map((row) => row.textContent).find((told) => told.startsWith(name));
  }, name);
  return [...told.matchAll(/\. Candidate \w: (\S+) \((.*?)\)(?=\.)/g)].map(([, value, range]) => {
    const [, low, high] = range.match(/^([−\d.]+) to ([−\d.]+)/) ?? [];
    return { value, low: low && number(low), high: high && number(high), range };
  });
}

const columns = async (hands) => {
  const told = await hands.page.locator('.row .told-row').first().textContent();
  return [...told.matchAll(/Candidate (\w): /g)].map(([, name]) => name);
};
const of = (name) => PANELS.filter((panel) => panel.candidate === name);

/** The truth of the law lies in the interval, and the middle near it. */
const holds = (cell, truth, near, what) => {
  assert.ok(cell.low <= truth + near / 4 && truth - near / 4 <= cell.high, `${what}: ${truth} is not within ${cell.range}`);
  assert.ok(Math.abs(number(cell.value) - truth) <= near, `${what}: ${cell.value}, the law says ${truth}`);
};

scenario('says, tabulates and draws what the law says', async (hands) => {
  const { page } = hands;
  await hands.open('#/law/results');
  const said = (await hands.said()).split(/\n+/);
  assert.ok(said.length >= 1 && said.length <= 5, said.join('\n'));
  const answer = hands.part('The answer');
  await hands.see(/^After day 3, Candidate A will shrink .* more, Candidate B .*, Candidate C .* µm\.$/, answer);
  await hands.see(/^3 panels each: /, answer);
  assert.match(said.at(-1), /say nothing about adhesion, corrosion protection, sanding or filling/);

  assert.deepEqual(await columns(hands), ['A', 'B', 'C']);
  const shares = await cells(hands, 'Total loss from the first weighing, of the wet coat');
  const areas = await cells(hands, 'Total loss from the first weighing, g/m²');
  const solids = await cells(hands, 'Solids by weight');
  const still = await cells(hands, 'Shrinkage after day 3');
  CANDIDATES.forEach(([name, leaves], i) => {
    holds(shares[i], 100 * leaves, 0.8, `${name}, of the coat`);
    holds(areas[i], mean(of(name).map((panel) => panel.coat * panel.leaves)) / AREA_M2, 2.5, `${name}, g/m²`);
    holds(solids[i], 100 * (1 - leaves), 0.8, `${name}, solids`);
    // A gram at 0.87 g/mL on 900 cm² is 12.8 µm.
    const gone = mean(of(name).map((panel) => panel.coat * panel.leaves - lost(panel, 72)));
    holds(still[i], (1e4 * gone) / (900 * 0.87), 3, `${name}, film still to go`);
  });

  // Sorted by a row, the columns change places; what has no value stands last.
  await hands.unfold('More rows');
  await hands.choose(/^Sorted by/, 'Total loss from the first weighing, of the wet coat');
  assert.deepEqual(await columns(hands), ['B', 'C', 'A']);
  await hands.tap('most first');
  assert.deepEqual(await columns(hands), ['A', 'C', 'B']);
  await hands.choose(/^Sorted by/, 'name');

  // Every row and every figure opens to its working.
  await hands.unfold('Total loss from the first weighing, g/m²');
  await hands.see(/^What went in$/);
  const card = await hands.panel('A1');
  await card.locator('dd summary').first().tap();
  await card.locator('.formula').first().waitFor();

  // The wanted build is set here, and the last rows follow.
  const before = await cells(hands, 'Wet film for 80 µm dry');
  await hands.unfold('Wanted build and sanding');
  await hands.fill('Wanted dry build', '160');
  const after = await cells(hands, 'Wet film for 160 µm dry');
  before.forEach((cell, i) => assert.ok(Math.abs(number(after[i].value) / number(cell.value) - 2) < 0.05, 'twice the build, twice the film'));

  await hands.assertDrawn();
  const charts = hands.part('Charts');
  await hands.tap('Weight', charts);
  await hands.unfold('More ways to look at it', charts);
  const chart = page.locator('canvas.chart');
  const box = await chart.boundingBox();
  const all = await hands.ink(chart);
  for (const choice of ['% of coat', 'per area', 'film', 'lost', 'even', 'log', '√ time']) {
    await hands.tap(choice, charts);
    await hands.assertDrawn(chart);
  }
  await hands.tap('Late days', hands.part('Charts'));
  await hands.see(/^From \d+ d to \d+ d after the wet weight\.$/);
  assert.notDeepEqual(await hands.ink(chart), all);
  await hands.tap('All', hands.part('Charts'));

  // Two fingers moved apart look closer, as two presses do.
  await pinch(page, box);
  await hands.see(/^From .* to .* after the wet weight\.$/);
  await hands.tap('All', hands.part('Charts'));

  // A point is found under the finger, read, and followed to its entry.
  await hands.choose(/^Panels drawn/, 'A1');
  const canvas = page.locator('canvas.chart');
  let read = false;
  for (let x = 0.35; x < 0.8 && !read; x += 0.02) {
    for (let y = 0.1; y < 0.6 && !read; y += 0.1) {
      await canvas.tap({ position: { x: box.width * x, y: box.height * y } });
      read = (await hands.pressable('Go to this entry').count()) > 0;
    }
  }
  assert.ok(read, 'no point was found on the curve');
  await hands.tap('Go to this entry');
  await hands.field('A1').waitFor();
  await hands.part('This round').waitFor();
}, opened());

async function pinch(page, box) {
  const debug = await page.context().newCDPSession(page);
  const finger = (x) => ({ x: box.x + x, y: box.y + box.height / 2 });
  const send = (type, touchPoints) => debug.send('Input.dispatchTouchEvent', { type, touchPoints });
  await page.locator('canvas.chart').scrollIntoViewIfNeeded();
  Object.assign(box, await page.locator('canvas.chart').boundingBox());
  await send('touchStart', [finger(180), finger(220)]);
  await send('touchMove', [finger(170), finger(230)]);
  await send('touchMove', [finger(150), finger(250)]);
  await send('touchEnd', []);
}

/** Down the whole page, and wherever the strips meet the bar of places, each place takes its own taps. */
async function assertBarIsFree(page) {
  const { met, covered } = await page.evaluate(() => {
    const [head, bar] = ['.strips', '.bar'].map((it) => document.querySelector(it));
    const main = document.querySelector('main');
    // As with notices above it: the strips begin below the screen, and comes up through the bar.
    main.style.paddingTop = `${innerHeight}px`;
    const covered = [];
    let met = 0;
    for (let top = 0; top < document.documentElement.scrollHeight; top += 12) {
      scrollTo({ top, behavior: 'instant' });
      const [above, below] = [head, bar].map((it) => it.getBoundingClientRect());
      if (above.top < below.bottom && above.bottom > below.top) met += 1;
      for (const place of bar.querySelectorAll('a')) {
        const { left, top: y, width, height } = place.getBoundingClientRect();
        const taken = document.elementFromPoint(left + width / 2, y + height / 2);
        if (!place.contains(taken)) covered.push(`${place.innerText}, scrolled ${top} px: ${taken?.tagName} ${taken?.innerText.slice(0, 30)}`);
      }
    }
    main.style.paddingTop = '';
    scrollTo({ top: 0, behavior: 'instant' });
    return { met, covered };
  });
  assert.deepEqual(covered, [], 'the bar of places is covered');
  assert.ok(met > 0, 'the strips never meet the bar');
}

for (const [where, size] of Object.entries({ phone: PHONE, tablet: TABLET, desk: DESK })) {
  scenario(`fits a ${where}`, async (hands) => {
    await hands.open('#/law/results');
    await hands.assertDrawn();
    await hands.assertFits();
    await hands.assertTargets();
    await assertBarIsFree(hands.page);
    await hands.shot('results-law');
    await hands.assertAccessible();
    for (const place of ['Weigh', 'Gauge']) {
      await hands.tap(place, hands.page.getByRole('navigation'));
      await hands.page.getByRole('heading', { level: 1, name: place }).waitFor();
      await hands.assertFits();
      await hands.shot(`${place}-law`);
    }
  }, { ...opened(), size });
}

scenario('hands a report to the printer and to a file that needs no scripts', async (hands) => {
  const { page } = hands;
  await hands.open('#/law/results');
  await page.evaluate(() => { globalThis.printed = 0; });
  await hands.tap('Print report');
  const frame = page.frameLocator('iframe.to-print');
  await frame.getByRole('heading', { level: 1, name: 'Three weeks' }).waitFor({ state: 'attached' });
  const size = await frame.locator('h1').evaluate((it) => getComputedStyle(it).fontFamily);
  assert.ok(size, 'the report has its style in the frame');

  const download = page.waitForEvent('download');
  await hands.tap('Save report');
  const file = await download;
  assert.equal(file.suggestedFilename(), 'Three weeks.report.html');
  const html = readFileSync(await file.path(), 'utf8');

  const browser = page.context().browser();
  const paper = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 360, height: 640 } });
  try {
    const reader = await paper.newPage();
    const asked = [];
    reader.on('request', (request) => asked.push(request.url()));
    await reader.setContent(html);
    assert.deepEqual(asked, [], 'the report asks nobody for anything');
    const { wide, screen } = await reader.evaluate(() => ({ wide: document.documentElement.scrollWidth, screen: innerWidth })).catch(() => ({ wide: 0, screen: 1 }));
    assert.ok(wide <= screen, `the report is ${wide} px wide on a screen of ${screen}`);
    const screens = await reader.locator('#appendix').evaluate((it) => it.getBoundingClientRect().top / innerHeight);
    console.log(`# the report of ${PANELS.length} panels: ${screens.toFixed(1)} screens before the appendix`);
    assert.ok(screens <= 12, `${screens} screens before the appendix`);
    const pictures = join(hands.pictures);
    mkdirSync(pictures, { recursive: true });
    for (const format of ['A4', 'Letter']) {
      const pdf = await reader.pdf({ format });
      assert.ok(pdf.length > 20_000);
      const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g).length;
      console.log(`# the report of ${PANELS.length} panels: ${pages} pages of ${format}`);
      assert.ok(pages <= 6, `${pages} pages of ${format} for ${PANELS.length} panels`);
      writeFileSync(join(pictures, `report-${format}.pdf`), pdf);
    }
    await reader.screenshot({ path: join(pictures, 'report-360x640.png'), fullPage: true });
    const text = await reader.locator('body').innerText();
    assert.doesNotMatch(text, /NaN|undefined|Infinity/);
    for (const panel of PANELS) assert.ok(text.includes(`${gross(panel, 504)}`), `${panel.label}'s last weight is in the report`);
  } finally {
    await paper.close();
  }
}, opened());

/** A record of so many candidates with so many panels each, the first three of the law again and again. */
function many(candidates, panels) {
  const whole = record('many', AGES);
  const letter = (place) => String.fromCharCode(65 + place);
  const all = Array.from({ length: candidates }, (_, place) => place);
  const of = (place) => whole.panels.filter((panel) => panel.candidate === letter(place % 3)).slice(0, panels);
  return {
    ...whole,
    candidates: all.map((place) => ({ id: letter(place), label: `Candidate ${letter(place)}` })),
    panels: all.flatMap((place) => of(place).map((panel, i) => ({ ...panel, id: `${letter(place)}${i + 1}`, label: `${letter(place)}${i + 1}`, candidate: letter(place), rack: '' }))),
  };
}

scenario('tells the answer on the first screen, for one candidate and for eight', async (hands) => {
  const { page } = hands;
  for (const [candidates, panels] of [[1, 1], [2, 1], [3, 3], [8, 3]]) {
    const text = JSON.stringify({ ...many(candidates, panels), id: `many-${candidates}` });
    await page.evaluate(([key, text]) => localStorage.setItem(key, text), [`comb-scale/test/many-${candidates}`, text]);
    await page.goto(`${hands.url}#/many-${candidates}/results`);
    await hands.reload();
    const answer = hands.part('The answer');
    await answer.locator('.evidence p, p.evidence').first().waitFor();
    await hands.assertDrawn(page.locator('canvas.bars'));
    const said = await answer.locator('p.sentence').innerText();
    assert.match(said, candidates > 4 ? /will shrink least, .* most, / : /will shrink/);
    const { bottom } = await answer.locator('p.sentence').evaluate((it) => it.getBoundingClientRect().toJSON());
    const bar = await page.locator('.bar').evaluate((it) => it.getBoundingClientRect().top);
    // Eight bars fill the screen: their sentence is one flick below.
    if (candidates < 8) assert.ok(bottom <= bar, `${candidates} candidates: the sentence ends at ${bottom}, the bar of places begins at ${bar}`);
    const told = await page.locator('canvas.bars').getAttribute('aria-label');
    for (let place = 0; place < candidates; place += 1) assert.ok(told.includes(`Candidate ${String.fromCharCode(65 + place)}: `));
    const rows = await page.locator('.strips').first().locator('.row').evaluateAll((rows) => rows.map((row) => row.getBoundingClientRect().height));
    assert.equal(rows.length, 5);
    for (const height of rows) assert.ok(height <= 96, `a row is ${height} px high`);
    await hands.assertFits();
    await hands.shot(`answer-${candidates}`);
  }
});

scenario('sends the answer and each chart as a picture, through the sheet where there is one and as a file where there is none', async (hands) => {
  const { page } = hands;
  await page.evaluate(() => {
    globalThis.handed = [];
    Object.defineProperty(navigator, 'canShare', { value: () => globalThis.sheet, configurable: true });
    Object.defineProperty(navigator, 'share', {
      value: async ({ files: [file], text }) => {
        const picture = await createImageBitmap(file);
        const canvas = Object.assign(document.createElement('canvas'), { width: 1, height: 1 }).getContext('2d');
        canvas.drawImage(picture, 0, 0);
        const paper = [...canvas.getImageData(0, 0, 1, 1).data].slice(0, 3);
        const { width, height } = picture;
        globalThis.handed.push({ name: file.name, type: file.type, width, height, text, paper });
      },
      configurable: true,
    });
    globalThis.sheet = false;
  });
  await page.evaluate(() => { location.hash = '#/worked-example/results'; });
  await hands.said();
  const download = page.waitForEvent('download');
  await hands.tap('Send this picture');
  const file = await download;
  assert.match(file.suggestedFilename(), /\.png$/);
  const bytes = readFileSync(await file.path());
  assert.equal(bytes.readUInt32BE(16), 1080, 'as wide as phones show one another');
  await page.evaluate(() => { globalThis.sheet = true; });
  await hands.tap('Send this picture');
  await page.waitForFunction(() => globalThis.handed.length === 1);
  const [handed] = await page.evaluate(() => globalThis.handed);
  assert.equal(handed.type, 'image/png');
  assert.equal(handed.width, 1080);
  assert.equal(handed.text.split('\n').length, 3);
  assert.match(handed.text, /will shrink/);
  for (const [chart, head] of [['Film', 'Film over time'], ['Weight', 'Weight lost over time']]) {
    await hands.tap(chart, hands.part('Charts'));
    await hands.tap('Send this chart');
    await page.waitForFunction((head) => globalThis.handed.at(-1).text.split('\n')[1] === head, head);
    const handed = await page.evaluate(() => globalThis.handed.at(-1));
    assert.deepEqual([handed.type, handed.width], ['image/png', 1080]);
    assert.ok(handed.height > 1080, 'words stand around the chart');
    assert.match(handed.name, new RegExp(`^Gate undercoats ${head}\\.png$`));
    assert.match(handed.text, /^Gate undercoats, .*\n.*\n.*will shrink/);
    assert.ok(handed.paper.every((part) => part > 240), `it is light: ${handed.paper}`);
  }
}, { everywhere: true, acceptDownloads: true, colorScheme: 'dark' });

scenario('of many candidates each mark stands on its interval', async (hands) => {
  const test = full('many');
  const [first] = test.candidates;
  const own = test.panels.filter((panel) => panel.candidate === first.id);
  for (const id of ['C', 'D', 'E']) {
    test.candidates.push({ ...first, id, label: `Candidate ${id}` });
    test.panels.push(...own.map((panel) => ({ ...panel, id: `${panel.id}${id}`, label: `${panel.label}${id}`, candidate: id })));
  }
  await store(hands.page, { 'comb-scale/test/many': JSON.stringify(test) });
  await to(hands, '/many/results');
  await hands.page.locator('.many .reach').first().waitFor();
  const off = await hands.page.locator('.many .lane:has(.reach)').evaluateAll((lanes) => lanes.map((lane) => {
    const middle = (part) => {
      const { y, height } = lane.querySelector(part).getBoundingClientRect();
      return y + height / 2;
    };
    return Math.abs(middle('.reach') - middle('.at'));
  }));
  assert.ok(off.length > 4, `${off.length} intervals`);
  assert.deepEqual(off.filter((by) => by > 2), [], 'so many px beside it');
}, { size: PHONE, setUp: prepare });
