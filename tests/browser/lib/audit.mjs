// The audit by axe-core, of what is on screen now.

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
const COLOURS = ['color-contrast', 'color-contrast-enhanced', 'link-in-text-block'];

// Marks and single letters, of which axe says that it cannot tell whether they are text; `paleTexts` (look.mjs) measures them.
const NO_TEXT = /^undecided color-contrast.*(non-text characters|too short)/;

/** What a person may ask of their phone. */
export const MEDIA = {
  dark: { colorScheme: 'dark' },
  'more contrast': { contrast: 'more' },
  'dark, more contrast': { colorScheme: 'dark', contrast: 'more' },
  'forced colours': { forcedColors: 'active' },
};

/**
 * Violations of WCAG 2.2 A and AA, of text contrast 7:1 and of axe's best practice, one line each, and what axe could not
 * decide. With `colours`, of the rules about colour alone.
 */
export async function audit(page, where, { colours = false } = {}) {
  // By way of the debugger, not a script element: a strict content policy does not get in the way.
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(AXE);
  const found = await page.evaluate(async ([tags, only]) => {
    const run = only
      ? { runOnly: { type: 'rule', values: only } }
      : { runOnly: tags, rules: { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } } };
    const { violations, incomplete } = await axe.run(document, { ...run, resultTypes: ['violations', 'incomplete'] });
    const lines = (list, kind) => list.flatMap(({ id, nodes }) => nodes.map((node) =>
      `${kind}${id}: ${node.html.slice(0, 160)} ${(node.any[0] ?? node.all[0] ?? node.none[0])?.message ?? ''}`));
    return [...lines(violations, ''), ...lines(incomplete, 'undecided ')];
  }, [TAGS, colours && COLOURS]);
  return found.filter((line) => !NO_TEXT.test(line)).map((line) => `${where}: ${line}`);
}
