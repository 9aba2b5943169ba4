import type { Finding, Place } from '../checks/finding.ts';
import { severities } from '../terms/severities.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { pathText } from './record-tables.ts';
import { defineTable } from './table.ts';

interface Positioned {
  readonly position: number;
  readonly finding: Finding;
}

/** What the checks found. */
export const findings = defineTable<Positioned>({
  name: 'findings',
  describes: 'What the checks found, by file, path, check and message.',
  key: ['position'],
  columns: [
    {
      name: 'position',
      type: 'integer',
      describes: 'Position among the findings, from 0.',
      read: ({ position }) => position,
    },
    { name: 'check', type: 'text', describes: 'Id of the check.', read: ({ finding }) => finding.check },
    {
      name: 'severity',
      type: 'text',
      describes: 'How grave it is in this base.',
      values: severities,
      read: ({ finding }) => finding.severity,
    },
    {
      name: 'record',
      type: 'text',
      describes: 'Kind and id of the record it is about, such as `drive/d-0117`; null where there is none.',
      read: ({ finding }) => finding.record,
    },
    {
      name: 'file',
      type: 'text',
      describes: 'File, from the folder of the base.',
      read: ({ finding }) => finding.place.file,
    },
    {
      name: 'path',
      type: 'text',
      describes:
        'Path of the key or value in the record, such as `controls/swapped_back`; null where it is about text.',
      read: ({ finding }) => pathOf(finding.place),
    },
    {
      name: 'message',
      type: 'text',
      describes: 'What was seen.',
      isFree: true,
      read: ({ finding }) => finding.message,
    },
    {
      name: 'help',
      type: 'text',
      describes: 'What to do about it.',
      isFree: true,
      read: ({ finding }) => finding.help,
    },
    {
      name: 'related',
      type: 'json',
      describes: 'Further places, each with its file, path and message.',
      isFree: true,
      read: ({ finding }) =>
        finding.related.map(({ place, message }) => ({ file: place.file, path: pathOf(place) ?? null, message })),
    },
  ],
  *items({ findings: found }) {
    const sorted = found.map((finding) => ({ finding, order: orderOf(finding) }));
    sorted.sort((a, b) => byCodeUnits(a.order, b.order));
    for (const [position, { finding }] of sorted.entries()) yield { position, finding };
  },
});

function pathOf({ target }: Place): string | undefined {
  return 'path' in target ? pathText(target.path) : undefined;
}

/** Files, documents and offsets sort as they stand, then paths, checks and messages. */
function orderOf({ place: { file, target }, check, message }: Finding): string {
  const first = 'path' in target ? target.document : target.start;
  return [file, String(first).padStart(12, '0'), 'path' in target ? pathText(target.path) : '', check, message].join(
    '\0',
  );
}
