// A spray test of three candidates whose drying law is known, so that what the page says can be held against it. Invented.

const H = 3_600_000;
export const START = Date.parse('2026-03-02T08:00:00+01:00');
export const at = (hours) => new Date(START + hours * H);
export const moment = (hours) => at(hours).toISOString();

/** Name, and the parts of the coat that leave: in all, and of that the part that leaves slowly. */
export const CANDIDATES = [['A', 0.44, 0.22], ['B', 0.38, 0.3], ['C', 0.41, 0.12]];
export const AREA_M2 = 0.09;
const FAST_H = 5;
const SLOW_H = 110;

/** Three panels of each: bare, wet coat, and the part of the coat that leaves. */
export const PANELS = CANDIDATES.flatMap(([name, leaves, slow], c) => [1, 2, 3].map((i) => ({
  label: `${name}${i}`, candidate: name, bare: 555.3 + 4.7 * (3 * c + i), coat: 25.2 + 0.4 * i + 0.3 * c, leaves, slow,
})));

/** Grams lost `age` hours after the last coat; two hours in the sun count as five. */
export const lost = ({ coat, leaves, slow }, age, sun = 0) => {
  const t = age + 1.5 * sun;
  return coat * leaves * ((1 - slow) * (1 - Math.exp(-t / FAST_H)) + slow * (1 - Math.exp(-t / SLOW_H)));
};
export const gross = (panel, age, sun) => (panel.bare + panel.coat - lost(panel, age, sun)).toFixed(1);

/** The test with its wet weights, and a round at each of these ages, h after the last coat. */
export const record = (id, ages = []) => ({
  format: 'spray-test', version: 1, id, title: 'Three weeks', created: moment(-2),
  wanted: { sanding_h: 72, dry_build_um: 80 },
  balances: [{ id: 'scale', label: 'Scale', division_g: 0.1, repeatability_g: 0.05 }],
  combs: [{ id: 'comb', label: 'Comb', edges: [{ teeth_um: [100, 125, 150, 175, 200, 225, 250, 300] }] }],
  candidates: CANDIDATES.map(([name]) => ({ id: name, label: `Candidate ${name}` })),
  rounds: ages.map((age) => ({ id: `round-${age}`, at: moment(age), place: 'Shop', balance: 'scale' })),
  blanks: [{
    id: 'blank', label: 'Blank',
    weigh_ins: [{ at: moment(0.4), gross_g: 561.4 }, ...ages.map((age) => ({ round: `round-${age}`, gross_g: 561.4 }))],
  }],
  panels: PANELS.map((panel, i) => ({
    id: panel.label, label: panel.label, candidate: panel.candidate, rack: `${(i * 4) % 9 + 1}`,
    width_mm: 300, length_mm: 300, bare: [{ at: moment(-1), gross_g: Number(panel.bare.toFixed(1)) }], coats: [{ at: moment(0) }],
    dabs: [1, 2, 3].map(() => ({ at: moment(0.1), wetted_um: 225, dry_um: 250 })),
    weigh_ins: [
      { at: moment(0.5), gross_g: Number(gross(panel, 0)) },
      ...ages.map((age) => ({ round: `round-${age}`, gross_g: Number(gross(panel, age)) })),
    ],
  })),
});

/** Panels in the order of their places in the rack. */
export const RACK = [...record('rack').panels].sort((a, b) => a.rack - b.rack).map(({ label }) => PANELS.find((panel) => panel.label === label));

/** Puts a record into the page's storage before it is opened, unless it is there. */
export const put = (page, record) => page.addInitScript(([key, text]) => {
  if (!localStorage.getItem(key)) localStorage.setItem(key, text);
}, [`comb-scale/test/${record.id}`, JSON.stringify(record)]);
