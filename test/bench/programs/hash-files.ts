// Floor: every file read and its SHA-1 taken, which is what telling changed files by content costs.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { filesOfArgument } from './files-below.ts';

for (const file of filesOfArgument()) createHash('sha1').update(readFileSync(file)).digest('hex');
