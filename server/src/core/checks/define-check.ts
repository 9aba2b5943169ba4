import type { Derivation } from '../index/derivation.ts';
import type { BaseFile, ConfigFile, Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import type { Day } from '../terms/calendar.ts';
import type { Kind } from '../terms/kinds.ts';
import type { Severity } from '../terms/severities.ts';
import type { DraftFix } from './fix.ts';

/** The groups of checks, in the order the documentation lists them. */
export type CheckGroup = 'file' | 'structure' | 'record' | 'across' | 'internal';

/**
 * Where a finding points: a stretch of one file, or a key path in a document or record, at its key or its value. A path that leads
 * nowhere means the nearest key above it that exists, at top level the `kind` line.
 */
export type Spot =
  | { readonly file: string; readonly start: number; readonly end: number }
  | { readonly file: string; readonly document: number; readonly path: Path; readonly side: 'key' | 'value' }
  | { readonly record: AnyRecord; readonly path: Path; readonly side: 'key' | 'value' };

/** A finding as a check gives it. */
export interface Draft {
  readonly at: Spot;
  /** One sentence that makes sense alone: what was seen, then what was expected. */
  readonly message: string;
  /** What to do, only where that is sure. */
  readonly help?: string | undefined;
  /** Where it differs from the check's own. */
  readonly severity?: Severity;
  readonly related?: readonly { readonly at: Spot; readonly message: string }[];
  /** What would mend it, the likeliest first. */
  readonly fixes?: readonly DraftFix[] | undefined;
}

/** A small base that shows a check firing or staying quiet. Lines such as `#  ^^^ check-id: message` mark what is expected. */
export interface Example {
  readonly title: string;
  /** Text by path; `swaplore.yaml` is added where it is not given. */
  readonly files: Readonly<Record<string, string | { readonly unreadable: string }>>;
  /** Findings about a file as a whole, which no line of it can carry: `path: check-id: message`. */
  readonly wholeFile?: readonly string[];
}

interface Common<Id extends string> {
  readonly check: Id;
  readonly group: CheckGroup;
  readonly severity: Severity;
  /** A second severity that some findings of this check have. */
  readonly alsoSeverity?: Severity;
  /** Why it matters: what goes wrong on the bench or in the data if it stays. */
  readonly why: string;
  /** At least one base in which the check fires and one near miss in which it does not. A function, so that nothing is built at start. */
  readonly examples: () => readonly Example[];
}

/**
 * What a check is given, and how it is run. A check sees nothing else. What it `restsOn` is derived before, in small steps: what is
 * missing there is right all the same, but holds everybody up while it is worked out.
 */
type Runner =
  | { readonly scope: 'config'; readonly run: (config: ConfigFile) => Iterable<Draft> }
  | { readonly scope: 'file'; readonly run: (file: BaseFile) => Iterable<Draft> }
  /** `today` is for what only time can tell; a check that depends on it is never an error. */
  | {
      readonly scope: 'record';
      /** Kinds of record it looks at; absent: all. */
      readonly kinds?: readonly Kind[];
      /** What it finds follows from which ids there are in the whole base, not only from the records that lead to one another. */
      readonly restsOnAbsence?: true;
      readonly restsOn?: readonly Derivation<unknown>[];
      readonly run: (record: AnyRecord, snapshot: Snapshot, today: Day) => Iterable<Draft>;
    }
  /** Gives undefined where it may be interrupted. */
  | {
      readonly scope: 'base';
      readonly restsOn?: readonly Derivation<unknown>[];
      readonly run: (snapshot: Snapshot) => Iterable<Draft | undefined>;
    }
  /** Raised by the run of the other checks. */
  | { readonly scope: 'run' };

/** A check: its id, its documentation, its examples and its code in one place. */
export type Check<Id extends string = string> = Common<Id> & Runner;

/** Declares a check. It does nothing but keep the id's literal type, from which the list of ids is made. */
export function defineCheck<const Id extends string>(check: Check<Id>): Check<Id> {
  return check;
}
