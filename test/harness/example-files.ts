import { fileURLToPath } from 'node:url';
import { checks } from '../../server/src/core/checks/registry.ts';
import type { TextFiles } from './checked-files.ts';
import { splitExpectations } from './expectations.ts';
import { readMarkedBase } from './marked-base.ts';

/** A small base and what it is called. */
export interface NamedFiles {
  readonly name: string;
  readonly files: TextFiles;
}

/** The bases of all examples of checks, without the comments that say what is expected; what is no text is left out. */
export function exampleFiles(): readonly NamedFiles[] {
  return checks.flatMap(({ check, examples }) =>
    examples().map(({ title, files }) => ({ name: `${check}: ${title}`, files: unmarked(files) })),
  );
}

/** A base of seeded faults, likewise. */
export function faultFiles(name: 'saltmarket' | 'old-laptop'): TextFiles {
  return unmarked(readMarkedBase(fileURLToPath(new URL(`../fixtures/faults/${name}`, import.meta.url))));
}

function unmarked(files: Readonly<Record<string, unknown>>): TextFiles {
  return Object.fromEntries(
    Object.entries(files).flatMap(([path, file]) =>
      typeof file === 'string' ? [[path, splitExpectations(path, file).text] as const] : [],
    ),
  );
}
