// Floor: every file read, nothing done with it.
import { readFileSync } from 'node:fs';
import { filesOfArgument } from './files-below.ts';

for (const file of filesOfArgument()) readFileSync(file);
