// The accessibility audit: axe-core in every state of every place, in light and dark, under more contrast and forced colours.

import assert from 'node:assert/strict';
import { audit, MEDIA } from '../lib/audit.mjs';
import { PHONE, scenario } from '../lib/scenario.mjs';
import { prepare, walk } from '../lib/states.mjs';

const PLAIN = { colorScheme: 'light', contrast: null, forcedColors: null };

scenario('every state of every place keeps the rules for everyone', async (hands) => {
  const found = [];
  await walk(hands, async (name) => {
    found.push(...(await audit(hands.page, name)));
    for (const [media, wish] of Object.entries(MEDIA)) {
      // axe takes the colour of a button's text for the one that forced colours have taken away; paleTexts sees it right.
      if (wish.forcedColors) continue;
      await hands.page.emulateMedia({ ...PLAIN, ...wish });
      found.push(...(await audit(hands.page, `${name}, ${media}`, { colours: true })));
    }
    await hands.page.emulateMedia(PLAIN);
  }, process.env.ONLY && new RegExp(process.env.ONLY));
  for (const line of found) console.log(`# ${line}`);
  assert.equal(found.length, 0, 'see the lines above');
}, { size: PHONE, setUp: prepare, timeout: 600_000 });
