// What a full test takes of browser storage: 9 panels weighed 25 times, as the page itself writes it.

import { readFileSync } from 'node:fs';
import { begin, open, put } from './browser.mjs';
import { record } from './records.mjs';

const [PANELS, WEIGH_INS] = [9, 25];
/** What the page allows itself, in the characters that browsers count. */
const ALLOWED = Number(/ALLOWED: u32 = ([\d_]+)/.exec(readFileSync(new URL('../../../src/store/shelf.rs', import.meta.url), 'utf8'))[1].replaceAll('_', ''));

/** `{ characters, tests }`: of one test with its summary, and how many of them there is room for. */
export async function room(folder) {
  const { url, phone, close } = await begin(folder);
  const own = await phone();
  await put(own, url, { 'comb-scale/test/full': JSON.stringify(record('full', PANELS, WEIGH_INS - 1)) });
  const { page } = await open(own);
  // One round more, typed: from then on the text is the page's own.
  await page.goto(`${url}#/full/weigh`);
  await page.getByRole('button', { name: 'Begin a round' }).click();
  const done = page.getByText(/^Done: /);
  for (let i = 0; i <= PANELS; i += 1) {
    await page.locator('.up input').waitFor();
    const was = Number(/was ([\d.]+)/.exec(await page.locator('.up .hint').innerText())[1]);
    await page.keyboard.type(was.toFixed(1));
    await page.keyboard.press('Enter');
    const next = page.getByRole('button', { name: 'Next', exact: true });
    await page.waitForTimeout(300);
    if (await next.isVisible()) await next.click();
  }
  await done.waitFor();
  const characters = await page.evaluate(() => Object.entries(localStorage).filter(([key]) => /\/(test|shelf)/.test(key)).reduce((sum, [key, text]) => sum + key.length + text.length, 0));
  await close();
  return { characters, tests: Math.floor(ALLOWED / characters) };
}
