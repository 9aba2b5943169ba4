import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** A module that defines something: its file name, and the name it must export that by. */
export interface DefiningModule {
  readonly file: string;
  readonly name: string;
}

/** The modules of a folder that call `define`, by file name; empty where there is no such folder. */
export function findModules(folder: string, define: string): readonly DefiningModule[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((file) => file.endsWith('.ts') && readFileSync(join(folder, file), 'utf8').includes(`${define}({`))
    .sort()
    .map((file) => ({ file, name: toExportName(file) }));
}

/** What a module exports by that name; undefined where it does not. Throws where the module cannot be loaded. */
export async function loadExport(folder: string, { file, name }: DefiningModule): Promise<unknown> {
  const { [name]: value } = await importModule(join(folder, file));
  return value;
}

async function importModule(path: string): Promise<Readonly<Record<string, unknown>>> {
  try {
    return (await import(pathToFileURL(path).href)) as Readonly<Record<string, unknown>>;
  } catch (cause) {
    const help = 'Where a generated file is at fault, delete that file and run `npm run gen`.';
    throw new Error(`${path} cannot be loaded. ${help}`, { cause });
  }
}

function toExportName(file: string): string {
  return file.slice(0, -'.ts'.length).replace(/-([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());
}
