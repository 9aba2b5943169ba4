import { resolve } from 'node:path';
import { configPath } from '../core/checks/config-invalid.ts';
import { readConfig } from '../core/model/config.ts';
import { findBaseAbove } from '../host/disk/find-bases.ts';
import { readDiskFile } from '../host/disk/read-disk-file.ts';
import type { Arguments, Option } from './command.ts';
import { UsageError } from './exit-codes.ts';
import { noBase, shownPath } from './open-base.ts';
import type { Terminal } from './terminal.ts';

/** The options that say how serial numbers are printed. */
export const serialOptions: readonly Option[] = [
  {
    name: 'serials',
    value: 'masked|full',
    describe: 'Print serial numbers so (default: as the base keeps them, masked outside a base).',
  },
  {
    name: 'folder',
    value: 'DIR',
    describe: 'The base whose policy on serial numbers counts (default: the nearest swaplore.yaml upward).',
  },
];

/** Whether serial numbers are printed in full. A base that keeps them masked has the last word. */
export async function serialPolicy({ values }: Arguments, terminal: Terminal): Promise<'masked' | 'full'> {
  const { serials: asked, folder } = values;
  if (asked !== undefined && asked !== 'masked' && asked !== 'full') {
    throw new UsageError(`--serials is masked or full, not \`${String(asked)}\`.`);
  }
  const start = typeof folder === 'string' ? resolve(terminal.cwd, folder) : terminal.cwd;
  const root = await findBaseAbove(start);
  if (root === undefined) {
    if (typeof folder === 'string') throw noBase(start, terminal);
    return asked ?? 'masked';
  }
  const kept = policyOf(root);
  if (asked === 'full' && kept === 'masked') {
    const shown = shownPath(root, terminal);
    throw new UsageError(
      `The base ${shown === '.' ? 'here' : shown} keeps serial numbers masked, so they are not printed in full.`,
      'Run the command outside the base, or write "serials: full" in its swaplore.yaml.',
    );
  }
  return asked ?? kept;
}

/** A config that cannot be read or used allows nothing. */
function policyOf(root: string): 'masked' | 'full' {
  const file = readDiskFile(root, configPath);
  if (!('bytes' in file)) return 'masked';
  const { config, isUsable } = readConfig(file.bytes);
  return isUsable ? config.serials : 'masked';
}
