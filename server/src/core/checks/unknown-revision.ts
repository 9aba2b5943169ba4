import { findRevision } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, type BoardRecord, hasUnusable } from '../model/record.ts';
import { revisionReferencesIn } from '../schema/revision-references.ts';
import type { Path } from '../syntax/tape.ts';
import { nearestPhrase, nearNames } from '../text/near-names.ts';
import { quotedList } from '../text/quoted-list.ts';
import { type Draft, defineCheck } from './define-check.ts';

/** A revision that its board does not list. */
export const unknownRevision = defineCheck({
  check: 'unknown-revision',
  group: 'structure',
  severity: 'error',
  scope: 'record',
  kinds: ['board', 'drive', 'rule'],
  why: 'What a revision says about its parts and drop-ins reaches a drive only by its name. A revision the board does not list is either a slip of the pen or a find worth recording.',
  examples: () => [
    {
      title: 'A drive whose revision is not listed, and a drop-in for one that is not',
      files: {
        'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
        'boards/kestrel.yaml': `kind: board
id: kestrel
maker: wren
part_number: K-40
revisions:
  - {rev: A1}
  - {rev: A2, drop_in_for: [A1, B1]}
#                               ^^ unknown-revision: Board \`kestrel\` lists no revision \`B1\`; it lists \`A1\`, \`A2\`.
`,
        'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
        'drives/tern.yaml': `kind: drive
id: d-0117
family: tern-2
board: {id: kestrel, rev: C7}
#                         ^^ unknown-revision: Board \`kestrel\` lists no revision \`C7\`; it lists \`A1\`, \`A2\`.
`,
      },
    },
    {
      title: 'Written in other letters',
      files: {
        'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
        'boards/kestrel.yaml': 'kind: board\nid: kestrel\nmaker: wren\npart_number: K-40\nrevisions: [{rev: Rev A1}]\n',
        'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
        'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\nboard: {id: kestrel, rev: rev  a1}\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    for (const { board: id, rev, path } of revisionReferencesIn(record.kind, record.data)) {
      const board = record.kind === 'board' ? record : snapshot.find('board', id);
      if (!board || hasUnusable(board, 'revisions') || findRevision(board, rev)) continue;
      yield unlisted(record, board, rev, path);
    }
  },
});

function unlisted(record: AnyRecord, board: BoardRecord, rev: string, path: Path): Draft {
  const names = (board.data.revisions ?? []).flatMap((revision) => revision.rev ?? []);
  const nearest = nearestPhrase(nearNames(rev, names)) ?? `it lists ${quotedList(names) || 'none'}`;
  return {
    at: { record, path, side: 'value' },
    message: `Board \`${board.id}\` lists no revision \`${rev}\`; ${nearest}.`,
    related: [{ at: { record: board, path: ['revisions'], side: 'key' }, message: 'The revisions of the board.' }],
  };
}
