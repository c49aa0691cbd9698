// Runs the browser scenarios: `node run.mjs [PART OF A FILE'S NAME]`. One file after another, since each drives a whole
// browser. Closes with the counts of node's own test runner, which tests/setup/tally.sh reads.
//
// Environment: CHROME names the browser; HEADED=1 shows it; PAGE names another folder than dist/ to test.

import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const scenarios = join(dirname(fileURLToPath(import.meta.url)), 'scenarios');
const part = process.argv[2] ?? '';
const files = readdirSync(scenarios)
  .filter((name) => name.endsWith('.test.mjs') && name.includes(part))
  .sort()
  .map((name) => join(scenarios, name));
if (files.length === 0) {
  console.error(`no scenario file has '${part}' in its name`);
  process.exit(1);
}

const options = ['--test', '--test-concurrency=1', '--test-reporter=spec'];
// What the service worker asks of the network is watched as well.
const env = { ...process.env, PW_EXPERIMENTAL_SERVICE_WORKER_NETWORK_EVENTS: '1' };
const { status } = spawnSync(process.execPath, [...options, ...files], { stdio: 'inherit', env });
process.exit(status ?? 1);
