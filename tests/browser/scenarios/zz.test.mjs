import { PHONE, scenario } from '../lib/scenario.mjs';
import { prepare, walk } from '../lib/states.mjs';
scenario('pics', async (hands) => {
  const { page } = hands; let i = 0;
  await walk(hands, async (name) => {
    await hands.shot(`p ${name}`, { whole: false });
    await page.setViewportSize({ width: 180, height: 900 });
    await hands.shot(`p ${name}`, { whole: false });
    await page.setViewportSize({ width: 360, height: 1000 });
    await page.evaluate(() => { document.documentElement.style.fontSize = '200%'; scrollTo(0, 700) });
    await hands.shot(`big ${name}`, { whole: false });
    await page.evaluate(() => { document.documentElement.style.fontSize = ''; scrollTo(0,0) });
    await page.setViewportSize(PHONE.viewport);
  }, /^(spray: comb|weigh: an odd|weigh: a round|results: full, folds)/);
}, { size: { ...PHONE, deviceScaleFactor: 1 }, setUp: prepare });
