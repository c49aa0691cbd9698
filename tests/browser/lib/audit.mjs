// The audit by axe-core, of what is on screen now.

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/**
 * What axe leaves to a person, and why it is well: marks, single letters and the letters of a drawn chart are measured by
 * `paleTexts` (look.mjs) and by the chart's own test of contrast; a row's name that spans the table has its cells in the rows
 * of its group.
 */
const KNOWN = [/^undecided color-contrast.*(non-text characters|too short)/, /^undecided color-contrast.*: <text /, /^undecided th-has-data-cells: <table/];

/** What a person may ask of their phone. */
export const MEDIA = {
  dark: { colorScheme: 'dark' },
  'more contrast': { contrast: 'more' },
  'dark, more contrast': { colorScheme: 'dark', contrast: 'more' },
  'forced colours': { forcedColors: 'active' },
};

/**
 * Violations of WCAG 2.2 A and AA, of text contrast 7:1 and of axe's best practice, one line each, and what axe could not
 * decide.
 */
export async function audit(page, where) {
  // By way of the debugger, not a script element: a strict content policy does not get in the way.
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(AXE);
  const found = await page.evaluate(async (tags) => {
    const run = { runOnly: tags, rules: { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } } };
    // The bar back where it stands in the page: axe takes what lies under it at the moment for hidden.
    const bar = document.querySelector('.bar');
    if (bar) bar.style.position = 'static';
    const { violations, incomplete } = await axe.run(document, { ...run, resultTypes: ['violations', 'incomplete'] });
    if (bar) bar.style.position = '';
    const lines = (list, kind) => list.flatMap(({ id, nodes }) => nodes.map((node) =>
      `${kind}${id}: ${node.html.slice(0, 160)} ${(node.any[0] ?? node.all[0] ?? node.none[0])?.message ?? ''}`));
    return [...lines(violations, ''), ...lines(incomplete, 'undecided ')];
  }, TAGS);
  return found.filter((line) => !KNOWN.some((known) => known.test(line))).map((line) => `${where}: ${line}`);
}
