// Floor: every file through the `js-yaml` package, as plain values. A planted fault of syntax makes it give up on one file.
import { readFileSync } from 'node:fs';
import { loadAll } from 'js-yaml';
import { filesOfArgument } from './files-below.ts';

for (const file of filesOfArgument()) {
  try {
    loadAll(readFileSync(file, 'utf8'));
  } catch {}
}
