// The page comes up, says who it is, fits the screen, and does so from any folder of a static host.

import assert from 'node:assert/strict';
import { DESK, PHONE, scenario } from '../lib/scenario.mjs';

for (const [where, size] of Object.entries({ phone: PHONE, desk: DESK })) {
  scenario(`opens on a ${where}`, async (hands) => {
    const { page } = hands;
    assert.match(await page.title(), /Comb & Scale/);
    await page.getByRole('heading', { level: 1 }).first().waitFor();
    assert.equal(await page.locator('html').getAttribute('lang'), 'en');
    await hands.assertFits();
    await hands.assertTargets();
    await hands.shot('start');
  }, { size, everywhere: true });
}

scenario('works from a folder of a static host', async ({ page, url }) => {
  assert.match(page.url(), /\/shop\/worksheets\/$/);
  assert.equal(page.url(), url);
  await page.getByRole('heading', { level: 1 }).first().waitFor();
}, { base: '/shop/worksheets/', everywhere: true });
