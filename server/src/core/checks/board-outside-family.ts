import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import { quotedList } from '../text/quoted-list.ts';
import { contextOf } from '../verdicts/drive-context.ts';
import { isBoardOutside, isModelOutside } from '../verdicts/family-fit.ts';
import { defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

const families = {
  'families/tern.yaml':
    'kind: family\nid: tern-1\nmaker: wren\nname: Tern 1\n---\nkind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
};

function board(families: string): string {
  return `kind: board\nid: kestrel\nmaker: wren\npart_number: K-40\nfamilies: [${families}]\nrevisions: [{rev: A}]\n`;
}

const drive = 'kind: drive\nid: d-0117\nfamily: tern-2\nboard: {id: kestrel, rev: A}\n';

/** A drive with a board that was never found on its family. */
export const boardOutsideFamily = defineCheck({
  check: 'board-outside-family',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['drive'],
  why: 'The drive may have been swapped before it came in, so that its ROM belongs to another unit, or it is filed under the wrong family. Rules would compare a board that is not its own.',
  examples: () => [
    {
      title: 'A board of another family',
      files: {
        ...exampleBase,
        ...families,
        'boards/kestrel.yaml': board('tern-1'),
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
board: {id: kestrel, rev: A}
#           ^^^^^^^ board-outside-family: Board \`kestrel\` of drive \`d-0117\` is recorded for \`tern-1\`, not for family \`tern-2\`.
`,
      },
    },
    {
      title: 'A board of both',
      files: { ...exampleBase, ...families, 'boards/kestrel.yaml': board('tern-1, tern-2'), 'drives/tern.yaml': drive },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind !== 'drive') return;
    const context = contextOf(record, snapshot);
    const { board, family } = context;
    // A family that is not recorded is reported as such.
    if (!board || !family || !isBoardOutside(context) || isModelOutside(context)) return;
    const recorded = quotedList(board.data.families ?? []);
    yield {
      at: { record, path: ['board', 'id'], side: 'value' },
      message: `Board \`${board.id}\` of drive \`${record.id}\` is recorded for ${recorded}, not for family \`${family.id}\`.`,
      help: 'If the board is known to be its own, add the family to the board.',
      related: [{ at: { record: board, path: ['families'], side: 'key' }, message: 'The families of the board.' }],
    };
  },
});
