// `make bench`: everything that DESIGN's budgets speak of, measured and printed as a table: `node table.mjs DIST MINIMAL`.
// Times are medians of several runs; a busy machine makes them longer, and what else runs is said at the head.

import { cpus, loadavg } from 'node:os';
import { entries, work } from './page/entry.mjs';
import { median } from './page/browser.mjs';
import { room } from './page/room.mjs';
import { screens } from './page/screens.mjs';
import { sum, weighed } from '../setup/first-load.mjs';
import { forecasts, growth } from './wasm.mjs';

const RUNS = Number(process.env.RUNS ?? 5);
const [dist, minimal] = process.argv.slice(2);
const rows = [];
const row = (what, measured, budget = '', stretch = '') => rows.push([what, measured, budget, stretch]);
const ms = (times) => `${median(times).toFixed(0)} ms (best ${Math.min(...times).toFixed(0)})`;
const kb = (bytes) => `${(bytes / 1000).toFixed(1)} kB`;

const load = loadavg()[0];
const [ours, least] = [weighed(dist), weighed(minimal)];
const program = (files) => sum(files.filter(({ name }) => name.endsWith('.wasm')));
const waited = ours.filter(({ first }) => first);
row('first screen, all its files, brotli', kb(sum(waited).sent), '200 kB', '150 kB');
row('… and all that comes behind it', kb(sum(ours).sent));
row('the program, raw / brotli', `${kb(program(ours).raw)} / ${kb(program(ours).sent)}`);
row('… of that for the first screen', `${kb(program(waited).raw)} / ${kb(program(waited).sent)}`);
row('a minimal leptos page: program, raw / brotli', `${kb(program(least).raw)} / ${kb(program(least).sent)}`);
row('… our first screen / all of ours in such pages', `${(sum(waited).sent / sum(least).sent).toFixed(1)} / ${(sum(ours).sent / sum(least).sent).toFixed(1)}`);

for (const { name, ms: own, native, bounded, unbounded } of await forecasts()) {
  const shown = name.endsWith('shown');
  row(`forecast of 20 weigh-ins in WASM, ${name}`, `${own.toFixed(2)} ms`, shown ? '3 ms' : '', shown ? '1 ms' : '');
  row('… in native runs', (own / native).toFixed(2));
  if (bounded) row("… in scipy's double exponential fits, bounded / not", `${(own / bounded).toFixed(2)} / ${(own / unbounded).toFixed(2)}`);
}
const grown = await growth();
const steps = (list) => list.map(([count, time]) => `${count}: ${time.toFixed(1)}`).join(', ');
row('growth with readings of one panel, ms', steps(grown.readings), 'linear');
row('… every fifth of them a slip', steps(grown.slips), 'at most quadratic');
row('growth with panels of 20 weigh-ins, ms', steps(grown.panels), 'linear');

const entry = await entries(dist, RUNS);
row("a panel's weight to its effect, 4× slowed, 12 × 30", ms(entry.panel), '100 ms', '50 ms');
row('… its processor time, four times', ms((await work(dist)).map((time) => 4 * time)));
row("a blank's weight to its effect", ms(entry.blank), '100 ms', '50 ms');
row('… to what the curve expects of the next panel', ms(entry.next));
row('… to all panels worked out again', ms(entry.all));
row('Results, asked for straight after a blank', ms(entry.results));

for (const { name, fresh, cached } of await screens(dist, RUNS)) {
  row(`${name}: 4× slowed, cached`, ms(cached), '500 ms', '300 ms');
  row('… on fast 4G, nothing cached', ms(fresh), '2000 ms', '1200 ms');
}

const { characters, tests } = await room(dist);
row('full tests (9 × 25) that there is room for', `${tests} of ${(characters / 1000).toFixed(1)} k characters`, '60', '100');

const head = ['what', 'measured', 'budget', 'stretch'];
const widths = head.map((name, i) => Math.max(name.length, ...rows.map((cells) => cells[i].length)));
const line = (cells) => console.log(`| ${cells.map((cell, i) => cell.padEnd(widths[i])).join(' | ')} |`);
console.log(`\n${cpus().length} processors (${load.toFixed(1)} at work when this began), Chromium ${entry.version}\n`);
line(head);
line(widths.map((width) => '-'.repeat(width)));
rows.forEach(line);
