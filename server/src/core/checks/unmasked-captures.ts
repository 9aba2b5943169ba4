import { afterMasking, type CaptureFacts, maskingIntents } from '../captures/read-capture.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { OutcomeRecord } from '../model/record.ts';
import type { OutcomeCapture } from '../verdicts/identity-rows.ts';
import { capturesOf } from '../verdicts/outcome-captures.ts';
import type { Draft } from './define-check.ts';
import type { DraftFix, OtherChange } from './fix.ts';

/** Places in a capture that are named: a number that stands in many fields is masked in all of them. */
const mostPlaces = 10;

/** The captures of an outcome in which a serial number stands in full, each file once. */
export function* unmaskedCaptures(outcome: OutcomeRecord, snapshot: Snapshot): Generator<Draft> {
  const told = new Set<string>();
  const captures = capturesOf(outcome, snapshot);
  for (const { path, written, file, facts } of captures) {
    if (facts.serials.length === 0 || told.has(file)) continue;
    told.add(file);
    const fix = fixOf(captures.filter((capture) => capture.file === file));
    yield {
      at: { record: outcome, path, side: 'value' },
      message: `Capture \`${written}\` of outcome \`${outcome.id}\` holds a serial number that is not masked, but this base keeps serial numbers masked, as \`****\` with the last 1 to 4 characters or as a keyed digest.`,
      help: 'Mask it in the capture; what was pushed before stays in the history.',
      related: facts.serials.slice(0, mostPlaces).map((serial) => ({
        at: { file, document: 0, path: serial.path, side: 'value' },
        message: 'Here in the capture.',
      })),
      fixes: fix ? [fix] : [],
    };
  }
}

/** Masks a file, and records the sum it then has wherever this outcome records one; undefined where nobody can tell that sum. */
function fixOf(references: readonly OutcomeCapture[]): DraftFix | undefined {
  const [first] = references;
  if (!first) return undefined;
  const { written, facts } = first;
  const { maskedSha256: sum } = facts;
  const sumPaths = references.flatMap(({ sumPath, isRecorded }) => (sumPath && isRecorded ? [sumPath] : []));
  if (sum === undefined) return undefined;
  return {
    title: `Mask the serial number in \`${written}\``,
    kind: 'fix',
    changes: sumPaths.map((path) => ({ intent: 'set', path, value: sum })),
    others: [maskedFile(first, facts, sum)],
  };
}

function maskedFile({ file, contentId }: OutcomeCapture, facts: CaptureFacts, sha256: string): OtherChange {
  const becomes = { state: 'present', contentId: sha256, sha256, capture: afterMasking(facts) } as const;
  return { file, contentId, intents: maskingIntents(facts.serials), becomes };
}
