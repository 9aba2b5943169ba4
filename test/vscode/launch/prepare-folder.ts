import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const knowledge = fileURLToPath(new URL('../../../knowledge', import.meta.url));

/** YAML of another kind, which would be a fault in a base. */
const notes = 'kind: outcome\nid: not-ours\nrom: chip_move\n';

/** A folder of its own for one window, with what removes it. */
export interface PreparedFolder {
  readonly path: string;
  readonly remove: () => void;
}

/** A folder with the demo base, in which one value is misspelt and one file untidy, beside YAML files that are no base's. */
export function prepareBase(): PreparedFolder {
  const folder = prepare();
  const { path } = folder;
  cpSync(knowledge, join(path, 'bench'), { recursive: true });
  const outcome = join(path, 'bench', 'outcomes', '2024-09-17-tansy-311-312.yaml');
  writeFileSync(outcome, readFileSync(outcome, 'utf8').replace('rom: left', 'rom: chip_move'));
  writeFileSync(join(path, 'bench', 'untidy.yaml'), 'kind:   maker\nid:  tidy\nname:    Tidy   \n\n\n\n');
  mkdirSync(join(path, 'elsewhere'));
  writeFileSync(join(path, 'elsewhere', 'notes.yaml'), notes);
  return folder;
}

/** A folder with a YAML file and no base. */
export function prepareBare(): PreparedFolder {
  const folder = prepare();
  writeFileSync(join(folder.path, 'notes.yaml'), notes);
  return folder;
}

function prepare(): PreparedFolder {
  const path = mkdtempSync(join(tmpdir(), 'swaplore-folder-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}
