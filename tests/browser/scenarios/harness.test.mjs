// The harness itself: what it claims to catch, it catches. No page is involved but the ones made up here, and so the page's
// content policy is passed over: it would stop most of what is made up.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { parseFigure, parseNumber } from '../lib/figure.mjs';
import { scenario } from '../lib/scenario.mjs';

test('reads figures as the page writes them', () => {
  assert.deepEqual(parseFigure('212 µm (196 to 229)'), { value: 212, unit: 'µm', low: 196, high: 229 });
  assert.deepEqual(parseFigure('−0.2 g'), { value: -0.2, unit: 'g' });
  assert.deepEqual(parseFigure('3,2 g (2,9 to 3,4)'), { value: 3.2, unit: 'g', low: 2.9, high: 3.4 });
  assert.deepEqual(parseFigure('38.1 % of wet coat'), { value: 38.1, unit: '% of wet coat' });
  assert.deepEqual(parseFigure('0.4 (0.1 to 1.1) g'), { value: 0.4, unit: 'g', low: 0.1, high: 1.1 });
  assert.equal(parseNumber('1\u202f234.5'), 1234.5);
  for (const bad of ['–', '', 'about 3 g', '3 g or 4 g']) assert.throws(() => parseFigure(bad), /not a/);
});

const draw = (page, script) =>
  page.evaluate((script) => {
    document.querySelector('canvas')?.remove();
    const canvas = document.createElement('canvas');
    Object.assign(canvas, { width: 900, height: 600 });
    canvas.style.cssText = 'width: 300px; height: 200px; display: block';
    document.body.prepend(canvas);
    new Function('pen', script)(canvas.getContext('2d'));
  }, script);

scenario('tells a drawing from a blank, a corner and a coarse one', async (hands) => {
  await draw(hands.page, 'pen.fillStyle = "#fbfaf6"; pen.fillRect(0, 0, 900, 600)');
  await assert.rejects(hands.assertDrawn(), /blank/);
  await draw(hands.page, 'pen.fillRect(0, 0, 90, 60)');
  await assert.rejects(hands.assertDrawn(), /corner/);
  await draw(hands.page, 'pen.lineWidth = 6; pen.moveTo(30, 30); pen.lineTo(870, 570); pen.stroke()');
  await hands.assertDrawn();
  await hands.page.evaluate(() => { document.querySelector('canvas').style.width = '340px'; });
  await assert.rejects(hands.assertDrawn(), /coarse/);
}, { bypassCSP: true });

scenario('notices what sticks out and what is too small to press', async (hands) => {
  await hands.page.evaluate(() => { document.body.innerHTML = '<button style="display: block; width: 20px; height: 20px; min-width: 0; min-height: 0; padding: 0">x</button>'; });
  await assert.rejects(hands.assertTargets(), /x: 20 × 20/);
  await hands.page.evaluate(() => { document.body.innerHTML = '<div style="width: 500px">wide</div>'; });
  await assert.rejects(hands.assertFits(), /500|5\d\d px wide/);
}, { bypassCSP: true });

scenario('audits: an unnamed field and pale text are found', async (hands) => {
  await hands.page.evaluate(() => {
    document.body.innerHTML = '<main><h1>Test</h1><input type="text"><p style="color: #777; background: #fff">pale</p></main>';
  });
  await assert.rejects(hands.assertAccessible(), (error) => /label/.test(error.message) && /contrast/.test(error.message));
}, { bypassCSP: true });

scenario('hears errors and failed requests', async ({ page }) => {
  await page.evaluate(() => { setTimeout(() => { throw new Error('a fault made on purpose'); }); });
  await page.evaluate(() => fetch('missing.json'));
}, { expectErrors: [/uncaught: .*a fault made on purpose/, /404/] });

scenario('hears requests to another origin, and stops them', async ({ page }) => {
  const answer = await page.evaluate(() => fetch('https://elsewhere.example/').then(() => 'answered', () => 'stopped'));
  assert.equal(answer, 'stopped');
}, { bypassCSP: true, expectErrors: [/another origin: https:\/\/elsewhere\.example/, /ERR_NAME_NOT_RESOLVED/] });

scenario('a press is over when the page is where it leads, and so is going back', async (hands) => {
  const isList = () => hands.pressable('New spray test').count();
  await hands.tap('New spray test');
  for (let nth = 0; nth < 10; nth += 1) {
    await hands.tap('All tests');
    assert.equal(await isList(), 1, 'the list is up');
    await hands.back();
    assert.equal(await isList(), 0, 'the test is up');
  }
});
