// Records for the timings, as this page would have written them: the worked example's candidates, with as many panels and
// weigh-ins as asked for. The curves are invented: two stages of loss and a scatter without a generator.

import { readFileSync } from 'node:fs';

export const EXAMPLE = JSON.parse(readFileSync(new URL('../../../src/record/example.spraytest.txt', import.meta.url), 'utf8'));
const GOLDEN = 0.618033988749895;
const tenths = (grams) => Math.round(grams * 10) / 10;
const text = (ms) => new Date(ms).toISOString().replace('.000Z', '+00:00');

/** Hours after the last coat of round `i` of `n`: often on the first day, then twice a day. */
const age = (i) => [0.5, 1, 2, 4, 8][i] ?? 8 + 12 * (i - 4);

/** What panel `which` weighs in round `i`, g. */
export function weight(which, i) {
  const t = age(i);
  const scatter = 0.2 * (((i + 7 * which + 1) * GOLDEN) % 1) - 0.1;
  return tenths(592 + 1.7 * which - 5 * (1 - Math.exp(-t / 2)) - 4 * (1 - Math.exp(-t / 30)) - 2 * (1 - Math.exp(-t / 400)) + scatter);
}

/** What the blank weighs in round `i`, g. */
export const blankWeight = (i) => tenths(561.4 + 0.1 * (((i + 3) * GOLDEN) % 1) - 0.05);

/** A test of `panels` panels with `rounds` weigh-ins each besides the wet weight, stamped and with ids throughout. The next
 * round is due now: a clock that a test runner sets would take the frames with it that are timed. */
export function record(id, panels, rounds) {
  let n = 1000;
  const next = () => ({ id: `abcdefg-${(n += 1)}-1`, stamp: `${n}@abcdefg` });
  const begun = Math.floor(Date.now() / 60_000) * 60_000 - age(rounds) * 3_600_000;
  const at = (hours) => text(begun + hours * 3_600_000);
  const visits = Array.from({ length: rounds }, (_, i) => ({ ...next(), at: at(age(i)), balance: 'scale', place: 'shop' }));
  const weighed = (of) => visits.map((visit, i) => ({ ...next(), at: visit.at, round: visit.id, balance: 'scale', gross_g: of(i) }));
  const candidates = ['Grey undercoat', 'Buff undercoat', 'White undercoat'].map((label, i) => ({ ...EXAMPLE.candidates[i % 2], ...next(), label }));
  const sprayed = Array.from({ length: panels }, (_, i) => ({
    ...next(), label: `P${i + 1}`, candidate: candidates[i % candidates.length].id, rack: `${i + 1}`,
    width_mm: 300, length_mm: 300, thickness_mm: 1, coated_cm2: 900,
    bare: [{ ...next(), at: at(-1), gross_g: 565 + 1.7 * i, balance: 'scale' }],
    coats: [{ ...next(), at: at(-0.5) }, { ...next(), at: at(0) }],
    dabs: [200, 225, 225].map((um) => ({ ...next(), at: at(0.02), comb: 'comb', wetted_um: um, dry_um: um + 25 })),
    weigh_ins: [{ ...next(), at: at(0.05), balance: 'scale', gross_g: 592 + 1.7 * i }, ...weighed((round) => weight(i, round))],
  }));
  const blanks = [{ ...next(), label: 'Blank', weigh_ins: weighed(blankWeight) }];
  return { ...EXAMPLE, id, invented: false, title: `${panels} panels`, candidates, mixes: [], panels: sprayed, blanks, rounds: visits, moves: [], air: [], notes: [] };
}
