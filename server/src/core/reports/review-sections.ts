import type { Finding } from '../checks/finding.ts';
import { placeIn } from '../features/record-places.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { readName } from '../model/record.ts';
import type { MergeFinding, Review, Side } from '../review/review.ts';
import { grouped } from '../terms/grouped.ts';
import { severities } from '../terms/severities.ts';
import { plural } from '../text/plural.ts';
import type { Block, Item } from './document.ts';
import { section } from './section.ts';

/** What to ask before the change is accepted, those about one record together. */
export function questionsSection({ questions, change: { after } }: Review): Block[] {
  if (questions.length === 0) return [];
  const items = [...grouped(questions, ({ record }) => record)].map(([record, group]): Item => {
    const place = record === undefined ? undefined : placeOfRecord(record, after);
    return {
      name: `\`${record ?? 'swaplore.yaml'}\``,
      lines: group.map(({ text }) => text),
      ...(place ? { place } : {}),
    };
  });
  return section('To be asked before this is accepted', [{ kind: 'items', items }]);
}

/** Where a record named `kind/id` declares its id; undefined where it is not recorded. */
function placeOfRecord(name: string, snapshot: Snapshot): Item['place'] {
  const named = readName(name);
  const [standing] = named ? snapshot.standings(named.kind, named.id) : [];
  return standing && placeIn(standing, ['id']);
}

/** What comes up only once both sides are put together; nothing where nothing was merged or nothing comes up. */
export function mergeSection({ onMerge = [] }: Review): Block[] {
  if (onMerge.length === 0) return [];
  const worstFirst = [...onMerge].sort(
    (a, b) => severities.indexOf(a.finding.severity) - severities.indexOf(b.finding.severity),
  );
  return [
    { kind: 'heading', level: 2, text: 'Only once both sides are merged' },
    { kind: 'paragraph', text: 'Each side is sound by itself; together they are not.' },
    { kind: 'items', items: worstFirst.map(mergeItem) },
  ];
}

const broughtWords: Readonly<Record<Side, string>> = {
  change: 'comes with this change',
  base: 'has come into the base meanwhile',
  both: 'was touched by both sides',
  neither: 'was there before',
};

function mergeItem({ finding, brought }: MergeFinding): Item {
  return {
    name: headOf(finding),
    lines: [
      finding.message,
      ...brought.map(({ record, file, by }) => `\`${record}\` (\`${file}\`) ${broughtWords[by]}.`),
      ...(finding.help === undefined ? [] : [finding.help]),
    ],
  };
}

/** Findings that are listed when they are gone. */
const mostGone = 50;

/** What is no longer found; what a setting hides is told apart from what was mended. */
export function goneSection({ findings: { gone }, change: { after } }: Review): Block[] {
  if (gone.length === 0) return [];
  const left = gone.length - mostGone;
  const items = gone.slice(0, mostGone).map((finding): Item => {
    const isOff = after.config.severity[finding.check] === 'off';
    return {
      name: headOf(finding),
      lines: [finding.message, ...(isOff ? ['Not mended: the check is switched off.'] : [])],
    };
  });
  return [
    { kind: 'heading', level: 2, text: 'Findings that are gone' },
    { kind: 'items', items },
    ...(left > 0
      ? [
          {
            kind: 'paragraph',
            text: `${plural(left, 'more finding')} ${left === 1 ? 'is' : 'are'} gone; the JSON output has them all.`,
          } as const,
        ]
      : []),
  ];
}

function headOf({ severity, record, check, place }: Finding): string {
  return `${severity}: \`${record ?? check}\` (\`${place.file}\`)`;
}
