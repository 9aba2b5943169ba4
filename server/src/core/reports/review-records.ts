import { recordBrief } from '../features/record-brief.ts';
import { placeIn } from '../features/record-places.ts';
import { nameOf } from '../model/record.ts';
import { changesInWords } from '../review/change-words.ts';
import type { ChangedRecord, PlacedChange, RemovedRecord, Review } from '../review/review.ts';
import { plural } from '../text/plural.ts';
import { withShortQuotes } from '../text/with-short-quotes.ts';
import type { Block, Item } from './document.ts';

/** Records that are spelt out under each heading. */
const mostRecords = 100;

/** Every record that differs, in words. */
export function recordsSection({ records: { added, changed, removed }, change: { after } }: Review): Block[] {
  const place = (one: PlacedChange): Pick<Item, 'place'> => ({ place: placeIn(after.locate(one.record), ['id']) });
  return [
    ...section(
      'Added records',
      added.map((one) => ({ name: quoted(one), lines: briefOf(one), ...place(one) })),
    ),
    ...section(
      'Changed records',
      changed.map((one) => ({ ...changedItem(one), ...place(one) })),
    ),
    ...section('Removed records', removed.map(removedItem)),
  ];
}

function section(title: string, items: readonly Item[]): Block[] {
  if (items.length === 0) return [];
  const left = items.length - mostRecords;
  return [
    { kind: 'heading', level: 2, text: title },
    { kind: 'items', items: items.slice(0, mostRecords) },
    ...(left > 0
      ? [
          {
            kind: 'paragraph',
            text: `${plural(left, 'more record')} ${left === 1 ? 'is' : 'are'} left out; the JSON output has all.`,
          } as const,
        ]
      : []),
  ];
}

function quoted({ record }: Pick<PlacedChange, 'record'>): string {
  return `\`${nameOf(record)}\``;
}

function briefOf({ record }: PlacedChange): string[] {
  const brief = withShortQuotes(recordBrief(record));
  return brief === '' ? [] : [brief];
}

function changedItem(changed: ChangedRecord): Item {
  const turn =
    changed.turn === undefined
      ? []
      : [
          changed.turn === 'retracted'
            ? 'Withdrawn: it counts nowhere any more.'
            : 'No longer withdrawn: it counts again.',
        ];
  return { name: quoted(changed), lines: [...turn, ...changesInWords(changed)] };
}

function removedItem({ record, file, how }: RemovedRecord): Item {
  const what =
    how === 'gone'
      ? []
      : [
          how === 'unread'
            ? 'Still there, but it can no longer be read.'
            : `Stands as \`${how.renamed}\` now, with the same content.`,
        ];
  return { name: `${quoted({ record })} (\`${file}\`)`, lines: [...what, ...briefOf({ record, file })] };
}
