import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Check } from '../../server/src/core/checks/define-check.ts';

const notChecks = ['registry.ts', 'define-check.ts', 'run-checks.ts'];

/** A module that defines a check: its file name, and the name it must export the check by. */
export interface CheckFile {
  readonly file: string;
  readonly name: string;
}

/** The modules of a folder that define a check, by file name; empty where there is no such folder. */
export function findCheckFiles(folder: string): readonly CheckFile[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((file) => file.endsWith('.ts') && !notChecks.includes(file))
    .filter((file) => readFileSync(join(folder, file), 'utf8').includes('defineCheck({'))
    .sort()
    .map((file) => ({ file, name: toExportName(file) }));
}

/** The checks that the modules define, in the same order. Throws where a module lacks its export. */
export async function loadChecks(folder: string, files: readonly CheckFile[]): Promise<readonly Check[]> {
  return Promise.all(files.map((file) => loadCheck(folder, file)));
}

async function loadCheck(folder: string, { file, name }: CheckFile): Promise<Check> {
  const { [name]: check } = await importModule(join(folder, file));
  if (!isCheck(check)) throw new Error(`${file} does not export the check \`${name}\`.`);
  return check;
}

async function importModule(path: string): Promise<Readonly<Record<string, unknown>>> {
  try {
    return (await import(pathToFileURL(path).href)) as Readonly<Record<string, unknown>>;
  } catch (cause) {
    const help = 'Where a generated file is at fault, delete that file and run `npm run gen`.';
    throw new Error(`${path} cannot be loaded. ${help}`, { cause });
  }
}

function isCheck(value: unknown): value is Check {
  return typeof value === 'object' && value !== null && 'check' in value && 'group' in value && 'examples' in value;
}

function toExportName(file: string): string {
  return file.slice(0, -'.ts'.length).replace(/-([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());
}
