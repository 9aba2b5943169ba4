import { duration } from '../text/duration.ts';
import { inThousands } from '../text/in-thousands.ts';
import { oneIn } from '../text/one-in.ts';
import { rounded } from '../text/rounded.ts';
import { inPercent } from '../verdicts/observed-limits.ts';
import type { Verified } from '../verdicts/verified-share.ts';
import {
  type RowFigures,
  type UnreadableBound,
  type VerifyFigures,
  verifyFigures,
} from '../verdicts/verify-figures.ts';
import type { HoverFact } from './hover-blocks.ts';
import type { HoverContext } from './hover-context.ts';

/**
 * What verification comes to: of the whole under `verify` itself, and in a row under the keys that each figure is made of. The share
 * is always that of all rows together.
 */
export function verifyFacts(context: HoverContext): readonly HoverFact[] {
  const { record, path, row, file } = context;
  if (record?.kind !== 'outcome' || path[0] !== 'verify' || !file.isIndexed) return [];
  const figures = verifyFigures(record, file.snapshot);
  const [, position] = path;
  const own = typeof position === 'number' ? figures.rows[position] : undefined;
  const isWhole = path.length === 1;
  const isOf = (keys: ReadonlySet<string>): boolean => isWhole || keys.has(row.name);
  return [
    ...(isOf(counted) ? shareFacts(figures.verified, file.snapshot.config.verifiedShare) : []),
    ...(isOf(bounding) ? boundFacts((isWhole ? figures : own)?.bound) : []),
    ...(isOf(timed) ? paceFacts(isWhole ? figures : own) : []),
  ];
}

/** The keys of a row that the share is made of. */
const counted: ReadonlySet<string> = new Set(['method', 'bytes', 'errors', 'passes']);

const bounding: ReadonlySet<string> = new Set(['bytes', 'errors', 'passes', 'where']);

const timed: ReadonlySet<string> = new Set(['bytes', 'minutes']);

function shareFacts(verified: Verified, wanted: number): readonly HoverFact[] {
  const text = shareText(verified, wanted);
  return text === undefined ? [] : [{ label: 'Verified', text: [text] }];
}

function shareText(verified: Verified, wanted: number): string | undefined {
  switch (verified.state) {
    case 'share':
      return `${inPercent(verified.share)} of the patient compared without error; this base asks for ${inPercent(wanted)}`;
    case 'errors':
      return 'nothing counts, as a comparing row has errors';
    case 'nothing_compared':
      return 'no row compares content';
    case 'not_known':
      return undefined;
  }
}

function boundFacts(bound: UnreadableBound | undefined): readonly HoverFact[] {
  if (!bound) return [];
  const { blocks, blockBytes, share } = bound;
  const seen = `${inThousands(blocks)} blocks of ${inThousands(blockBytes)} bytes showed no error`;
  return [{ label: 'Unreadable', text: [`at most ${oneIn(share)} (95 %), as ${seen}, if bad ones lie singly`] }];
}

function paceFacts(rowOrAll: RowFigures | VerifyFigures | undefined): readonly HoverFact[] {
  if (!rowOrAll) return [];
  const { fullPassMinutes } = rowOrAll;
  const perSecond = 'rows' in rowOrAll ? undefined : rowOrAll.bytesPerSecond;
  return [
    ...(perSecond === undefined ? [] : [{ label: 'Pace', text: [`${rounded(perSecond / 1e6, 1)} MB/s`] }]),
    ...(fullPassMinutes === undefined
      ? []
      : [{ label: 'Full pass', text: [`${duration(fullPassMinutes)} at the pace observed`] }]),
  ];
}
