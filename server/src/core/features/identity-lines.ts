import type { Snapshot } from '../index/snapshot.ts';
import { type IdentityTally, identityTally } from '../verdicts/identity-tally.ts';
import { joined, type Phrase, phrase } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';

/** What the outcomes of a family show of a value, under its key in the family's `identity`, beside what is recorded there. */
export function identityLines({ record, path: [first, value], file }: HoverContext): readonly Phrase[] {
  if (record?.kind !== 'family' || first !== 'identity') return [];
  const tally = identityTally(record.id, file.snapshot);
  const row = tally.find((one) => one.value === value);
  if (!row) return value === undefined ? identitySummary(record.id, file.snapshot) : [];
  const said = record.data.identity?.[row.value];
  const against = said === 'platters' ? row.board : said === 'board' ? row.platters : 0;
  const seen = countWords(row);
  return seen.length === 0
    ? []
    : [
        [
          ...phrase`In the outcomes of ${record.id}: `,
          ...joined(seen),
          against > 0 ? `; ${against} against what is recorded.` : '.',
        ],
      ];
}

/** Which values the outcomes of a family show to follow what, in a line; nothing where none does. */
export function identitySummary(family: string, snapshot: Snapshot): readonly Phrase[] {
  const tally = identityTally(family, snapshot);
  const halves = (['platters', 'board'] as const).flatMap((half) => {
    const shown = tally.filter((row) => row[half] > 0).map((row) => [...phrase`${row.value}`, ` ${row[half]}`]);
    return shown.length === 0 ? [] : [[`the ${half}: `, ...joined(shown)]];
  });
  if (halves.length === 0) return [];
  return [
    [
      ...phrase`Seen in ${family} to follow `,
      ...halves.flatMap((half, at) => (at === 0 ? half : ['; ', ...half])),
      '.',
    ],
  ];
}

function countWords({ platters, plattersOrRom, board, sameOnBoth, neither }: IdentityTally): readonly Phrase[] {
  const parts: readonly (readonly [number, string])[] = [
    [platters, 'followed the platters'],
    [plattersOrRom, 'came with the platters or their ROM'],
    [board, 'followed the board'],
    [sameOnBoth, 'alike on both'],
    [neither, 'of neither drive'],
  ];
  return parts.flatMap(([count, words]) => (count === 0 ? [] : [[`${count} ${words}`]]));
}
