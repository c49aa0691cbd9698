// Downloads of the browsers that do not tell of them: the folder they go to is watched.

import { mkdtempSync, readdirSync, renameSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** What a browser has not finished, by the names that Firefox and WebKitGTK give it. */
const UNFINISHED = /\.(part|wkdownload)$/;

/**
 * The next file that comes whole, as playwright's Download has it. It is taken out of the folder, or the next of that name would
 * be called another.
 */
export async function nextFile(folder, { patience = 60_000 } = {}) {
  const isWhole = (name) => !UNFINISHED.test(name) && statSync(join(folder, name)).size > 0;
  for (const end = Date.now() + patience; Date.now() < end;) {
    const names = readdirSync(folder);
    if (names.length === 1 && isWhole(names[0])) {
      const path = join(mkdtempSync(join(tmpdir(), 'comb-scale-download-')), names[0]);
      renameSync(join(folder, names[0]), path);
      return { suggestedFilename: () => names[0], path: async () => path };
    }
    await new Promise((later) => { setTimeout(later, 30); });
  }
  throw new Error('no download came');
}
