// Reading: every state of every place on small and large screens and with letters of twice the size; nothing sticks out, is
// cut or overlaps; things to press are large enough and apart; text stands 7 : 1 on its ground in every theme.

import assert from 'node:assert/strict';
import { MEDIA } from '../lib/audit.mjs';
import { crowded, paleTexts, tight } from '../lib/look.mjs';
import { PHONE, scenario } from '../lib/scenario.mjs';
import { prepare, walk } from '../lib/states.mjs';

const PLAIN = { colorScheme: 'light', contrast: null, forcedColors: null };
/** 180 px is a phone of 360 px zoomed to 200 %. */
const SIZES = [[360, 640], [320, 640], [180, 320], [820, 1180], [1280, 800]];

scenario('every state of every place can be read and pressed, at every size and in every theme', async (hands) => {
  const { page } = hands;
  const found = [];
  const note = (where, lines) => found.push(...lines.map((line) => `${where}: ${line}`));
  await walk(hands, async (name) => {
    for (const [width, height] of SIZES) {
      await page.setViewportSize({ width, height });
      await page.waitForTimeout(30);
      note(`${name}, ${width} px`, await crowded(page));
      note(`${name}, ${width} px`, await tight(page));
    }
    await page.setViewportSize(PHONE.viewport);
    await page.evaluate(() => { document.documentElement.style.fontSize = '200%'; });
    note(`${name}, letters of twice the size`, await crowded(page));
    await page.evaluate(() => { document.documentElement.style.fontSize = ''; });
    for (const [media, wish] of Object.entries({ light: {}, ...MEDIA })) {
      await page.emulateMedia({ ...PLAIN, ...wish });
      note(`${name}, ${media}`, await paleTexts(page));
    }
    await page.emulateMedia(PLAIN);
  }, process.env.ONLY && new RegExp(process.env.ONLY));
  for (const line of found) console.log(`# ${line}`);
  assert.equal(found.length, 0, 'see the lines above');
}, { size: PHONE, setUp: prepare });
