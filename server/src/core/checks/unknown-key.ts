import type { Path } from '../syntax/tape.ts';
import { nearestPhrase } from '../text/near-names.ts';
import { quotedList } from '../text/quoted-list.ts';
import { defineCheck } from './define-check.ts';
import { describeFaults, recordLabel } from './fault-check.ts';
import type { DraftFix, FixKind } from './fix.ts';

/** A key that no schema knows. */
export const unknownKey = defineCheck({
  check: 'unknown-key',
  group: 'structure',
  severity: 'error',
  scope: 'file',
  why: 'A misspelt key is a value nobody reads: the firmware noted under `frimware` decides no rule, and no search finds it. Keys of a shop’s own begin with `x-`.',
  examples: () => [
    {
      title: 'A misspelt key',
      files: {
        'makers/wren.yaml': `kind: maker
id: wren
name: Wren
ouuis: [00-00-5E]
#<^^^ unknown-key: Maker \`wren\` has the key \`ouuis\`, which is not known; the nearest is \`ouis\`.
`,
      },
    },
    {
      title: 'A key inside a map, near to nothing',
      files: {
        'makers/wren.yaml': `kind: maker
id: wren
name: Wren
sources:
  - title: Price list
    binder: 4
#   ^^^^^^ unknown-key: Maker \`wren\` has the key \`binder\` in \`sources\`, which is not known; known there are \`title\`, \`url\`, \`seen\`.
`,
      },
    },
    {
      title: 'A key of the shop’s own',
      files: { 'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\nx-binder: 4\n' },
    },
  ],
  run: describeFaults('unknown-key', (fault, file) => {
    const key = String(fault.path.at(-1));
    const parent = fault.path.filter((step) => typeof step === 'string').at(-2);
    const place = parent === undefined ? '' : ` in \`${parent}\``;
    const label = recordLabel(file, fault.document);
    return {
      at: { file: file.path, document: fault.document, path: fault.path, side: 'key' },
      message: `${label} has the key \`${key}\`${place}, which is not known; ${knownKeys(fault.near, fault.known)}.`,
      help:
        fault.near.length === 1
          ? `Rename it to \`${fault.near[0]}\`, or to \`x-${key}\` for the shop's own use.`
          : undefined,
      fixes: [
        ...fault.near.map((name) => renaming(fault.path, name, fault.near.length === 1 ? 'fix' : 'ask')),
        renaming(fault.path, `x-${key}`, 'ask'),
      ],
    };
  }),
});

/** Lists longer than this are left to the key reference. */
const longestList = 12;

function knownKeys(near: readonly string[], known: readonly string[]): string {
  const nearest = nearestPhrase(near);
  if (nearest !== undefined) return nearest;
  if (known.length === 0) return 'no keys are known there';
  if (known.length > longestList) return 'the key reference lists those that are';
  return `known there are ${quotedList(known)}`;
}

function renaming(path: Path, name: string, kind: FixKind): DraftFix {
  return { title: `Rename it to \`${name}\``, kind, changes: [{ intent: 'rename', path, name }] };
}
