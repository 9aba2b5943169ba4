import type { Truth } from '../conditions/truth.ts';
import { type FamilyRate, ratesByFamily } from '../odds/family-rates.ts';
import { type ColumnOf, defineTable } from './table.ts';

/** The odds of families. */
export const odds = defineTable<FamilyRate>({
  name: 'odds',
  describes:
    "How often swaps of a family's patients worked at the base's `works_at`, counted by pairs of drives, with what can be said of the true rate. Without a pair bounds are 0 and 1.",
  key: ['family', 'swaps'],
  columns: [
    {
      name: 'family',
      type: 'text',
      describes: 'Id of the family of the patients.',
      refersTo: 'families',
      read: ({ family }) => family,
    },
    {
      name: 'swaps',
      type: 'text',
      describes:
        'Which swaps the row counts. All of them include those of which it is not known whether the ROM travelled.',
      values: ['rom_travels', 'rom_stays', 'all'],
      read: ({ romTravels }) => swapsName(romTravels),
    },
    count('outcomes', 'Eligible outcomes.', ({ outcomes }) => outcomes),
    count('pairs', 'Pairs of drives in them.', (row) => row.count.pairs),
    {
      name: 'works',
      type: 'number',
      describes: 'Pairs that worked; a pair tried several times counts for the share that worked.',
      read: (row) => row.count.votes,
    },
    count('drives', 'Drives in these pairs.', (row) => row.count.drives),
    count(
      'independent_pairs',
      'The most pairs of which no two share a drive. Bounds rest on these.',
      (row) => row.count.independentPairs,
    ),
    count('uncontrolled_worked', 'Outcomes that worked and are not eligible.', (row) => row.uncontrolled.worked),
    count('uncontrolled_open', 'Outcomes that are inconclusive.', (row) => row.uncontrolled.open),
    ...bounds('exact', 'Exact 95 % interval of the rate', (row) => row.exact),
    ...bounds('wilson', 'Wilson 95 % interval of the rate', (row) => row.wilson),
    ...bounds('jeffreys', 'Jeffreys 95 % interval of the rate', (row) => row.jeffreys),
    ...bounds('without_one_drive', 'Rate when any one drive is left out', (row) => row.leaveOneDriveOut),
    {
      name: 'pooled_mean',
      type: 'number',
      describes: 'The rate to expect in the light of all families.',
      read: (row) => row.pooled.mean,
    },
    ...bounds('pooled', 'Interval of that rate', (row) => row.pooled.interval),
  ],
  *items({ snapshot }) {
    for (const rows of ratesByFamily(snapshot).values()) yield* rows;
  },
});

function swapsName(romTravels: Truth): string {
  if (romTravels === undefined) return 'all';
  return romTravels ? 'rom_travels' : 'rom_stays';
}

function count(name: string, describes: string, read: (row: FamilyRate) => number): ColumnOf<FamilyRate> {
  return { name, type: 'integer', describes, read };
}

function bounds(
  name: string,
  describes: string,
  read: (row: FamilyRate) => readonly [number, number] | undefined,
): readonly ColumnOf<FamilyRate>[] {
  return [
    {
      name: `${name}_low`,
      type: 'number',
      describes: `${describes}: the lower end, 0 to 1.`,
      read: (row) => read(row)?.[0],
    },
    {
      name: `${name}_high`,
      type: 'number',
      describes: `${describes}: the upper end, 0 to 1.`,
      read: (row) => read(row)?.[1],
    },
  ];
}
