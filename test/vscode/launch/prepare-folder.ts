import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { hostileBase } from '../../harness/hostile-base.ts';

const knowledge = fileURLToPath(new URL('../../../knowledge', import.meta.url));
const tour = fileURLToPath(new URL('../../fixtures/tour', import.meta.url));

/** YAML of another kind, which would be a fault in a base. */
const notes = 'kind: outcome\nid: not-ours\nrom: chip_move\n';

/** A folder of its own for one window, with what removes it. */
export interface PreparedFolder {
  readonly path: string;
  readonly remove: () => void;
}

/**
 * A folder with the demo base, in which one value is misspelt, one file untidy and another too large for an image of a ROM, beside YAML
 * files that are no base's.
 */
export function prepareBase(): PreparedFolder {
  const folder = prepare();
  cpSync(knowledge, join(folder.path, 'bench'), { recursive: true });
  plantFaults(folder.path);
  return folder;
}

/** The same, with a history that knows nothing of what is amiss. */
export function prepareRepository(): PreparedFolder {
  const folder = prepare();
  cpSync(knowledge, join(folder.path, 'bench'), { recursive: true });
  commitAll(folder.path);
  plantFaults(folder.path);
  return folder;
}

function plantFaults(path: string): void {
  const outcome = join(path, 'bench', 'outcomes', '2024-09-17-tansy-311-312.yaml');
  writeFileSync(outcome, readFileSync(outcome, 'utf8').replace('rom: left', 'rom: chip_move'));
  writeFileSync(join(path, 'bench', 'untidy.yaml'), 'kind:   maker\nid:  tidy\nname:    Tidy   \n\n\n\n');
  const tooLarge = join(path, 'bench', 'roms', 'whole-drive.bin');
  writeFileSync(tooLarge, '');
  truncateSync(tooLarge, 65 * 2 ** 20);
  mkdirSync(join(path, 'elsewhere'));
  writeFileSync(join(path, 'elsewhere', 'notes.yaml'), notes);
}

/** A folder with the base of the README's tour, which has three slips in it. */
export function prepareTour(): PreparedFolder {
  const folder = prepare();
  cpSync(tour, join(folder.path, 'tour'), { recursive: true });
  return folder;
}

/** A folder with a base whose history is empty, and whose texts would do something wherever they were taken for more than text. */
export function prepareHostile(): PreparedFolder {
  const folder = prepare();
  writeFileSync(join(folder.path, 'swaplore.yaml'), 'swaplore: 1\n');
  commitAll(folder.path);
  for (const [path, text] of Object.entries(hostileBase())) {
    const file = join(folder.path, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
  return folder;
}

/** A folder with a small base in which no outcome can be written, as a file stands where their folder would be. */
export function prepareUnwritable(): PreparedFolder {
  const folder = prepare();
  const { path } = folder;
  mkdirSync(join(path, 'drives'));
  writeFileSync(join(path, 'swaplore.yaml'), 'swaplore: 1\nname: Full bench\n');
  writeFileSync(join(path, 'drives', 'two.yaml'), 'kind: drive\nid: d-0001\n---\nkind: drive\nid: d-0002\n');
  writeFileSync(join(path, 'outcomes'), 'no folder\n');
  return folder;
}

/** A folder with a YAML file and no base. */
export function prepareBare(): PreparedFolder {
  const folder = prepare();
  writeFileSync(join(folder.path, 'notes.yaml'), notes);
  return folder;
}

/** Makes a folder a repository, with all that is in it on the branch `main`. */
function commitAll(folder: string): void {
  const who = ['-c', 'user.name=Bench', '-c', 'user.email=bench@example.org'];
  const git = (...words: string[]) => execFileSync('git', [...who, ...words], { cwd: folder, stdio: 'pipe' });
  // A browser is sent every file of a folder.
  git('init', '--quiet', '--initial-branch=main', '--template=');
  git('add', '.');
  git('commit', '--quiet', '--message', 'Begin');
  git('gc', '--quiet');
}

function prepare(): PreparedFolder {
  const path = mkdtempSync(join(tmpdir(), 'swaplore-folder-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}
