import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../harness/source-files.ts';

function folderOf(target: string): string {
  return join(projectRoot, 'test/fuzz/corpus', target);
}

/** The inputs the repository keeps for a target, always in one order; none where it has no folder. */
export function readCorpus(target: string): readonly Uint8Array[] {
  const folder = folderOf(target);
  const names = readdirSync(join(folder, '..')).includes(target) ? readdirSync(folder).sort() : [];
  return names.map((name) => readFileSync(join(folder, name)));
}

/** Puts these in place of what the repository keeps for a target, each named by its digest. */
export function writeCorpus(target: string, inputs: readonly Uint8Array[]): void {
  const folder = folderOf(target);
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  for (const input of inputs) {
    writeFileSync(join(folder, createHash('sha256').update(input).digest('hex').slice(0, 12)), input);
  }
}
