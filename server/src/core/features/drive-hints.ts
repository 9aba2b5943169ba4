import { dropInClosure } from '../conditions/evaluate.ts';
import { findRevision } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { DriveRecord } from '../model/record.ts';
import { formatSpan, parseDaySpan } from '../terms/calendar.ts';
import { exactBytes, fitsNominal, idemaGb } from '../terms/capacity.ts';
import { spanName } from '../terms/span-name.ts';
import { byteSize } from '../text/byte-size.ts';
import { inARow } from '../text/in-a-row.ts';
import { inThousands } from '../text/in-thousands.ts';
import { capacityFactsOf, contextOf, type DriveContext } from '../verdicts/drive-context.ts';
import { readDateCode } from '../verdicts/made-readings.ts';
import type { HintDraft } from './hint-draft.ts';

/** What a drive's date code, number of sectors and revision mean, each where the record does not say so itself. */
export function driveHints(drive: DriveRecord, snapshot: Snapshot): readonly HintDraft[] {
  const context = contextOf(drive, snapshot);
  return [...dateHints(context), ...sizeHints(context), ...revisionHints(context)];
}

function dateHints(context: DriveContext): HintDraft[] {
  const { drive, maker } = context;
  const code = readDateCode(context);
  if (code.state !== 'read' || !maker) return [];
  const made = drive.data.made === undefined ? undefined : parseDaySpan(drive.data.made);
  const spans = code.readings.map(({ span }) => span);
  // A date of manufacture within what the code leaves open says as much, and more.
  if (made && spans.some(({ first, last }) => first <= made.first && made.last <= last)) return [];
  const exact = [...new Set(spans.map(formatSpan))].join(' or ');
  return [
    {
      at: [['date_code']],
      text: [...new Set(spans.map(spanName))].join(' or '),
      detail: `Maker \`${maker.id}\` means ${exact} by this code.`,
    },
  ];
}

function sizeHints(context: DriveContext): HintDraft[] {
  const facts = capacityFactsOf(context);
  const bytes = exactBytes(facts);
  const { nominalGb, logicalSectorBytes, lbaCount } = facts;
  if (bytes === undefined || logicalSectorBytes === undefined || lbaCount === undefined) return [];
  if (nominalGb !== undefined && fitsNominal(bytes, nominalGb)) return [];
  const usual = idemaGb(lbaCount, logicalSectorBytes);
  const sum = `${inThousands(lbaCount)} sectors of ${inThousands(logicalSectorBytes)} bytes are ${inThousands(bytes)} bytes`;
  const of = usual === undefined ? '' : `, the usual number for a drive sold as ${inThousands(usual)} GB`;
  return [{ at: [['lba_count']], text: byteSize(usual === undefined ? bytes : usual * 1e9), detail: `${sum}${of}.` }];
}

function revisionHints({ board, revision }: DriveContext): HintDraft[] {
  const rev = revision?.rev;
  if (!board || rev === undefined) return [];
  const others = [...dropInClosure(board, rev)].flatMap((name) => findRevision(board, name)?.rev ?? []);
  const replaced = others.filter((name) => name !== rev);
  if (replaced.length === 0) return [];
  const detail = `By the claims of board \`${board.id}\`, revision \`${rev}\` works in place of ${inARow(replaced)}.`;
  return [{ at: [['board', 'rev']], text: `drop-in for ${replaced.join(', ')}`, detail }];
}
