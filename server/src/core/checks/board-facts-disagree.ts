import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, type BoardRecord, isRetracted } from '../model/record.ts';
import { foldText } from '../text/fold.ts';
import { quotedList } from '../text/quoted-list.ts';
import { contextOf, type DriveContext } from '../verdicts/drive-context.ts';
import { isBoardOutside } from '../verdicts/family-fit.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

const board = {
  'boards/kestrel.yaml': `kind: board
id: kestrel
maker: wren
part_number: K-40
revisions:
  - {rev: A, controller: KR5120, motor_driver: [MD6-314, QX-290]}
`,
};

/** Markings that a drive's board does not have by its revision, or a plug its family does not have. */
export const boardFactsDisagree = defineCheck({
  check: 'board-facts-disagree',
  group: 'record',
  severity: 'warning',
  scope: 'record',
  kinds: ['board', 'drive'],
  why: 'Donors are compared by controller and motor driver. If the marking on the drive is not one of its revision, either the revision is copied wrongly, or a second source has turned up that the board record should know.',
  examples: () => [
    {
      title: 'Another motor driver than the revision was built with',
      files: {
        ...exampleBase,
        ...board,
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
board: {id: kestrel, rev: A, controller: KR5120, motor_driver: UB-77}
#                                                              ^^^^^ board-facts-disagree: Drive \`d-0117\` has the \`motor_driver\` \`UB-77\`, but \`kestrel/A\` is recorded with \`MD6-314\` or \`QX-290\`.
`,
      },
    },
    {
      title: 'One of the two alternatives',
      files: {
        ...exampleBase,
        ...board,
        'drives/tern.yaml':
          'kind: drive\nid: d-0117\nfamily: tern-2\nboard: {id: kestrel, rev: A, controller: kr5120, motor_driver: QX-290}\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    if (record.kind === 'board') yield* plugs(record, snapshot);
    if (record.kind !== 'drive') return;
    const context = contextOf(record, snapshot);
    if (isBoardOutside(context)) return;
    for (const key of ['controller', 'motor_driver'] as const) {
      const draft = marking(context, key);
      if (draft) yield draft;
    }
  },
});

function marking({ drive, board, revision }: DriveContext, key: 'controller' | 'motor_driver'): Draft | undefined {
  const own = drive.data.board?.[key];
  const built = revision?.[key];
  if (!board || !revision || own === undefined || built === undefined) return undefined;
  const choices = typeof built === 'string' ? [built] : built;
  if (choices.some((choice) => foldText(choice) === foldText(own))) return undefined;
  const position = board.data.revisions?.indexOf(revision) ?? 0;
  return {
    at: { record: drive, path: ['board', key], side: 'value' },
    message: `Drive \`${drive.id}\` has the \`${key}\` \`${own}\`, but \`${board.id}/${revision.rev}\` is recorded with ${quotedList(choices, ' or ')}.`,
    related: [
      { at: { record: board, path: ['revisions', position, key], side: 'value' }, message: 'What the revision has.' },
    ],
  };
}

/** A board's plug is that of the families it was found on as the original. */
function* plugs(board: BoardRecord, snapshot: Snapshot): Generator<Draft> {
  const own = board.data.interface;
  if (own === undefined) return;
  for (const id of board.data.families ?? []) {
    const family = snapshot.find('family', id);
    const plug = family?.data.interface;
    if (!family || isRetracted(family) || plug === undefined || plug === own) continue;
    yield {
      at: { record: board, path: ['interface'], side: 'value' },
      message: `Board \`${board.id}\` has the interface \`${own}\`, but family \`${id}\`, on which it was found, has \`${plug}\`.`,
      related: [{ at: { record: family, path: ['interface'], side: 'value' }, message: 'The plug of the family.' }],
    };
  }
}
