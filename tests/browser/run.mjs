// Runs the browser scenarios: `node run.mjs [PART OF A FILE'S NAME]`. As many files at a time as AT_ONCE says, each in a process
// and a browser of its own. Closes with the counts of node's own test runner, which tests/setup/tally.sh reads.
//
// Environment: ENGINE is chromium (as where nothing is said), firefox or webkit, of which the latter two run only what is marked
// `everywhere`; CHROME and FIREFOX name a browser; HEADED=1 shows it; PAGE names another folder than dist/ to test; AT_ONCE=1 runs one
// file after another.

import { readFileSync, readdirSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname, join } from 'node:path';
import { run } from 'node:test';
import { spec } from 'node:test/reporters';
import { fileURLToPath } from 'node:url';
import { ENGINE } from './lib/engines.mjs';

/** What takes a minute or more goes first, so that no core stands idle at the end. */
const LONG = ['size', 'attacks-presses', 'tabs', 'killed', 'attacks-leaving', 'job', 'damaged', 'reading'];
/** A browser keeps more than a core busy; more than so many would only take turns. */
const MOST_AT_ONCE = 4;

const scenarios = join(dirname(fileURLToPath(import.meta.url)), 'scenarios');
const part = process.argv[2] ?? '';
const isFor = (name) => ENGINE === 'chromium' || readFileSync(join(scenarios, name), 'utf8').includes('everywhere: true');
const names = readdirSync(scenarios).filter((name) => name.endsWith('.test.mjs') && name.includes(part) && isFor(name)).sort();
if (names.length === 0) {
  console.error(`no scenario file for ${ENGINE} has '${part}' in its name`);
  process.exit(1);
}
const isLong = (name) => LONG.includes(name.replace('.test.mjs', ''));
const files = [...LONG.map((long) => `${long}.test.mjs`).filter((name) => names.includes(name)), ...names.filter((name) => !isLong(name))];

// What the service worker asks of the network is watched as well.
process.env.PW_EXPERIMENTAL_SERVICE_WORKER_NETWORK_EVENTS = '1';
const atOnce = Number(process.env.AT_ONCE ?? Math.min(availableParallelism(), MOST_AT_ONCE));
run({ files: files.map((name) => join(scenarios, name)), concurrency: atOnce })
  .on('test:fail', () => { process.exitCode = 1; })
  .compose(spec)
  .pipe(process.stdout);
