// What a painter does in Plan, for the scenarios that need one.

import { unhurried } from './hands.mjs';

/** Unfolds a part by its summary. */
export const unfold = async (hands, summary, inside = hands.page) => {
  const part = inside.locator('summary').filter({ hasText: summary, visible: true }).first();
  await unhurried(hands.page);
  await part.tap();
};

export const card = (hands, name) => hands.page.getByRole('region', { name, exact: true });

/** A mix of 4 : 1 : 1 by volume, densities 1.45, 1.05 and 0.87 g/mL. */
const COMPONENTS = [['base', '4', '1.45'], ['hardener', '1', '1.05'], ['reducer', '1', '0.87']];

export async function mix(hands, candidate, { number = (text) => text, dense = number } = {}) {
  await unfold(hands, /^Mix:/, candidate);
  for (const [role, parts, density] of COMPONENTS) {
    await hands.tap(`Add ${role}`, candidate);
    const name = role[0].toUpperCase() + role.slice(1);
    await hands.see(new RegExp(`^${name}`), candidate);
    const part = candidate.locator('details').filter({ has: hands.page.locator('summary').filter({ hasText: new RegExp(`^${name}`) }) }).last();
    await hands.fill('Parts', number(parts), part);
    await hands.fill('Density', dense(density), part);
  }
}

/** The running totals as they stand: `[['Base', '290.0 g'], …]`. */
export const totals = (pour) => pour.locator('.totals li').evaluateAll((steps) => steps.map((step) => [
  step.querySelector('.what').innerText.trim(),
  step.querySelector('.total').innerText.replace(/\s+/g, ' ').trim(),
]));
