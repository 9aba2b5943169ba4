import type { Snapshot } from '../index/snapshot.ts';
import { type AnyRecord, labelOf } from '../model/record.ts';
import { type Reference, referencesIn } from '../schema/references.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { splitRevision } from '../terms/revision-name.ts';
import { nearestClause, nearNames } from '../text/near-names.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

/** A reference to a record that is not there. */
export const danglingReference = defineCheck({
  check: 'dangling-reference',
  group: 'structure',
  severity: 'error',
  scope: 'record',
  restsOnAbsence: true,
  why: 'An outcome whose donor is not recorded proves nothing about any board, and a rule for a family nobody recorded applies to no drive.',
  examples: () => [
    {
      title: 'A misspelt id',
      files: {
        'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
        'families/tern.yaml': `kind: family
id: tern-2
maker: wern
#      ^^^^ dangling-reference: Maker \`wern\` is not recorded in this base; the nearest is \`wren\`.
name: Tern 2
`,
      },
    },
    {
      title: 'A record of another kind, named in a condition',
      files: {
        ...exampleFamily(),
        'rules/tern.yaml': `kind: rule
id: tern-donors
claim: needs
when: {donor: {family: wren}}
#                      ^^^^ dangling-reference: \`wren\` is a maker, but \`family\` names a family.
`,
      },
    },
    {
      title: 'The record stands in a file that YAML cannot read: one fault, not two',
      files: {
        'makers/wren.yaml': `kind: maker
id: wren
name: Wren: Drives
#     ^ yaml-syntax: A second \`:\` makes a map inside a value here; a text that contains \`: \` has to be quoted, a nested map belongs on its own lines.
`,
        'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
      },
    },
  ],
  *run(record: AnyRecord, snapshot: Snapshot) {
    for (const reference of referencesIn(record.kind, record.data)) {
      const draft =
        reference.refersTo === 'revision' ? boardOf(record, reference, snapshot) : lookUp(record, reference, snapshot);
      if (draft) yield draft;
    }
  },
});

function lookUp(record: AnyRecord, { refersTo, row, id, path }: Reference, snapshot: Snapshot): Draft | undefined {
  if (refersTo === 'revision' || isRecorded(refersTo, id, snapshot)) return undefined;
  const at = { record, path, side: 'value' } as const;
  const other = kinds.find((kind) => snapshot.find(kind, id));
  if (other) return { at, message: `\`${id}\` is a ${other}, but \`${row.name}\` names a ${refersTo}.` };
  return { at, ...notRecorded(refersTo, id, snapshot) };
}

/** The board of a revision; the revision itself is looked up by `unknown-revision`. */
function boardOf(record: AnyRecord, { id, path }: Reference, snapshot: Snapshot): Draft | undefined {
  const { board } = splitRevision(id);
  if (isRecorded('board', board, snapshot)) return undefined;
  return { at: { record, path, side: 'value' }, ...notRecorded('board', board, snapshot) };
}

function isRecorded(kind: Kind, id: string, snapshot: Snapshot): boolean {
  return snapshot.find(kind, id) !== undefined || snapshot.hasBareId(kind, id) || snapshot.mayMissIds;
}

function notRecorded(kind: Kind, id: string, snapshot: Snapshot): { message: string; help?: string } {
  const near = nearNames(
    id,
    snapshot.records(kind).map((candidate) => candidate.id),
  );
  const nearest = nearestClause(near);
  const message = `${labelOf({ kind, id })} is not recorded in this base${nearest}.`;
  return near.length === 1 ? { message, help: `Use \`${near[0]}\`, or record the ${kind}.` } : { message };
}
