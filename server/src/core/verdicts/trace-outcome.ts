import type { FamilyIdentityData } from '../../../../schemas/gen/records.ts';
import { captureColumns, type TracedCapture } from '../captures/assembly.ts';
import type { SerialPolicy } from '../captures/mask-serials.ts';
import { type TraceResult, traceOf } from '../captures/trace.ts';
import { tracedFrom } from '../captures/traced-capture.ts';
import { type NamedAttachment, namedAttachments } from '../index/attachments.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { hasUnusable, type OutcomeRecord } from '../model/record.ts';
import { byteSize } from '../text/byte-size.ts';
import { pairOf } from './drive-context.ts';
import { didRomStay } from './identity-follows.ts';

/** What the captures of an outcome come to, and what has to be known of the outcome to say it. */
export interface OutcomeTrace {
  readonly result: TraceResult;
  readonly subject: TraceSubject;
}

/** What a trace is of, as far as an outcome says it. */
export interface TraceSubject {
  /** Id of the outcome. */
  readonly outcome?: string | undefined;
  /** Whether every board kept the ROM it came with; undefined where nobody said. */
  readonly didRomStay?: boolean | undefined;
  /** Where the family keeps its values, as far as it is recorded. */
  readonly identity?: FamilyIdentityData | undefined;
}

/**
 * The captures that an outcome names, traced. Of one that cannot be had, or is not the one that was named, nothing counts and that is
 * said. Undefined where it names none.
 */
export function traceOutcome(
  outcome: OutcomeRecord,
  snapshot: Snapshot,
  serials: SerialPolicy = snapshot.config.serials,
): OutcomeTrace | undefined {
  const named = namedAttachments(outcome, snapshot);
  const captures = captureColumns.flatMap(({ role, column }) => {
    const capture = named.find(({ path }) => path[0] === 'captures' && path[1] === column);
    return capture ? [[role, tracedAt(capture)] as const] : [];
  });
  if (captures.length === 0) return undefined;
  const identity = pairOf(outcome, snapshot).patient?.family?.data.identity;
  const isRomSaid = outcome.data.rom !== undefined && !hasUnusable(outcome, 'rom');
  return {
    result: traceOf(Object.fromEntries(captures), { serials, identity }),
    subject: { outcome: outcome.id, didRomStay: isRomSaid ? didRomStay(outcome) : undefined, identity },
  };
}

function tracedAt({ inBase, found, sha256 }: NamedAttachment): TracedCapture {
  if (inBase === undefined || found?.state === 'outside') return without('The capture lies outside of the base.');
  if (!found) return without('The capture was not read.');
  switch (found.state) {
    case 'missing':
      return without('The capture is not there.');
    case 'unreadable':
      return without(`The capture cannot be read: ${found.reason}.`);
    case 'too-large':
      return without(`The capture holds ${byteSize(found.bytes)}, more than is read.`);
    case 'present': {
      const isOther = sha256 !== undefined && found.sha256 !== sha256.sum;
      if (isOther) return without('The capture is not the one whose `sha256` the outcome records.');
      return found.capture ? tracedFrom(found.capture) : without('The capture was not read.');
    }
  }
}

function without(message: string): TracedCapture {
  return { values: {}, problems: [{ severity: 'error', message }] };
}
