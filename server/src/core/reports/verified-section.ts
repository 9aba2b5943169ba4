import { placeIn } from '../features/record-places.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { isRetracted, type OutcomeRecord } from '../model/record.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { duration } from '../text/duration.ts';
import { inThousands } from '../text/in-thousands.ts';
import { oneIn } from '../text/one-in.ts';
import { inPercent } from '../verdicts/observed-limits.ts';
import type { Verified } from '../verdicts/verified-share.ts';
import { type VerifyFigures, verifyFigures } from '../verdicts/verify-figures.ts';
import { type Block, type Cell, placedCell } from './document.ts';

/** Most outcomes the section lists, those with the least compared. */
const mostOutcomes = 200;

/** How well the outcomes said to be verified were verified, the least compared first; nothing where there are none. */
export function verifiedSection(snapshot: Snapshot): Block[] {
  const verified = snapshot
    .records('outcome')
    .filter((outcome) => outcome.data.reached === 'verified' && !isRetracted(outcome))
    .map((outcome) => ({ outcome, figures: verifyFigures(outcome, snapshot) }))
    .sort((a, b) => shareOf(a.figures) - shareOf(b.figures) || byCodeUnits(a.outcome.id, b.outcome.id));
  if (verified.length === 0) return [];
  const shown = verified.slice(0, mostOutcomes);
  return [
    { kind: 'heading', level: 2, text: 'How well outcomes were verified' },
    {
      kind: 'table',
      caption: 'Outcomes that reached verified, the least compared first',
      columns: [
        { title: 'outcome', align: 'left' },
        { title: 'compared', align: 'right' },
        { title: 'unreadable, at most', align: 'right' },
        { title: 'full pass', align: 'right' },
      ],
      rows: shown.map(({ outcome, figures }) => cellsOf(outcome, figures, snapshot)),
    },
    { kind: 'paragraph', text: [...leftOut(verified.length - shown.length), legend].join(' ') },
  ];
}

function leftOut(count: number): string[] {
  return count === 0 ? [] : [`${inThousands(count)} more are not shown; hovers on \`verify\` say the same of each.`];
}

const legend =
  'Compared: the share of the capacity in rows that compare content, each pass counted once. Unreadable: the exact upper 95 % bound on ' +
  'unreadable blocks, where the whole drive or blocks spread over it were read or compared without error; it takes bad ones to lie ' +
  'singly, and a weak head spoils many at once. A block is a physical sector, 4,096 bytes where nobody recorded its size. Full pass: ' +
  'comparing the whole drive at the pace observed.';

function cellsOf(outcome: OutcomeRecord, figures: VerifyFigures, snapshot: Snapshot): Cell[] {
  const { verified, bound, fullPassMinutes } = figures;
  return [
    placedCell(outcome.id, placeIn(snapshot.locate(outcome), ['id'])),
    comparedText(verified),
    bound ? oneIn(bound.share) : notKnown,
    fullPassMinutes === undefined ? notKnown : duration(fullPassMinutes),
  ];
}

const notKnown = 'not known';

function comparedText(verified: Verified): string {
  switch (verified.state) {
    case 'share':
      return inPercent(verified.share);
    case 'errors':
      return 'with errors';
    case 'nothing_compared':
      return 'nothing';
    case 'not_known':
      return notKnown;
  }
}

/** What a doubtful one stands before. */
function shareOf({ verified }: VerifyFigures): number {
  return verified.state === 'share' ? verified.share : -1;
}
