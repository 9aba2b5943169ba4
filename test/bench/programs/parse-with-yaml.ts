// Floor: every file through the `yaml` package into its own documents, with its default settings.
import { readFileSync } from 'node:fs';
import { parseAllDocuments } from 'yaml';
import { filesOfArgument } from './files-below.ts';

for (const file of filesOfArgument()) parseAllDocuments(readFileSync(file, 'utf8'));
