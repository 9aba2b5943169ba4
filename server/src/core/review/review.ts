import type { Finding } from '../checks/finding.ts';
import type { DonorGroup } from '../donors/donor-verdict.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, DriveRecord, OutcomeRecord } from '../model/record.ts';
import type { FamilyOdds } from '../odds/family-odds.ts';
import type { RuleResult } from '../reasoning/rule-results.ts';
import type { Path } from '../syntax/tape.ts';
import type { Evidence } from '../verdicts/evidence.ts';

/** Two states of a base to be held against each other, and what becomes of the second where the first has moved on meanwhile. */
export interface Change {
  /** The base before the change: where the two revisions parted. */
  readonly before: Snapshot;
  /** The base with the change. */
  readonly after: Snapshot;
  /** What the base has become meanwhile without the change, and what it becomes with it. */
  readonly merge?: { readonly theirs: Snapshot; readonly merged: Snapshot } | undefined;
}

/** What a change comes to. */
export interface Review {
  readonly change: Change;
  readonly records: RecordChanges;
  /** Outcomes whose verdict differs at some stage, by id; those that came or went among them. */
  readonly verdicts: readonly VerdictChange[];
  readonly findings: FindingChanges;
  /** Rules of which the outcomes say something else than before, by id. */
  readonly rules: readonly RuleChange[];
  /** Families whose odds differ, by id. */
  readonly odds: readonly OddsChange[];
  readonly standings: StandingChanges;
  /** Settings that differ, in the order of the settings. */
  readonly config: readonly SettingChange[];
  /** What whoever accepts the change should ask, gravest first. */
  readonly questions: readonly Question[];
  /** Findings that neither side has alone; undefined where nothing was merged. */
  readonly onMerge: readonly MergeFinding[] | undefined;
}

/** Records that differ, each list by kind and id. Where a record stands is no part of it, and neither are its notes. */
export interface RecordChanges {
  readonly added: readonly PlacedChange[];
  readonly changed: readonly ChangedRecord[];
  readonly removed: readonly RemovedRecord[];
}

/** A record on one side. */
export interface PlacedChange {
  readonly record: AnyRecord;
  /** Path of its file in the base. */
  readonly file: string;
}

/** A record that is no longer found. */
export interface RemovedRecord extends PlacedChange {
  /** `unread`: its id still stands in a file, and what it says cannot be read. `renamed`: an added record says the same. */
  readonly how: 'gone' | 'unread' | { readonly renamed: string };
}

/** A record of both sides. */
export interface ChangedRecord extends PlacedChange {
  /** As it was; `record` is as it is now. */
  readonly before: AnyRecord;
  /** At least one, in the order of the keys of the schema. */
  readonly changes: readonly ValueChange[];
  /** Whether it was withdrawn, or counts again. */
  readonly turn: 'retracted' | 'restored' | undefined;
}

/** A value of a record that differs. */
export interface ValueChange {
  /** In the record as it is now; an entry that is gone from a list, as it was. */
  readonly path: Path;
  /** As in the file; undefined where there was none, or none that could be used. */
  readonly before: unknown;
  readonly after: unknown;
  /** The side on which something stands there that cannot be used; absent where that is neither or both. */
  readonly unusable?: 'before' | 'after';
}

/** The evidence of an outcome on both sides; undefined where it counts nowhere: not recorded, or retracted. */
export interface VerdictChange {
  readonly outcome: OutcomeRecord;
  readonly before: Evidence | undefined;
  readonly after: Evidence | undefined;
}

/** Findings of both sides, matched by check, record, path and message. */
export interface FindingChanges {
  readonly new: readonly Finding[];
  readonly gone: readonly Finding[];
  /** Number of those that both sides have. */
  readonly still: number;
}

/** What the outcomes say of a rule on both sides; undefined where it cannot be applied: not recorded, retracted, or not readable. */
export interface RuleChange {
  readonly id: string;
  readonly before: RuleResult | undefined;
  readonly after: RuleResult | undefined;
}

/** The odds of a family on both sides. */
export interface OddsChange {
  readonly family: string;
  readonly before: FamilyOdds;
  readonly after: FamilyOdds;
}

/** What donors and rules are taken for on both sides. */
export interface StandingChanges {
  /** By patient, then donor. */
  readonly donors: readonly DonorFlip[];
  /** Patients that the change may touch and that were not looked at, being too many. */
  readonly patientsLeftOut: number;
  /** By id. */
  readonly rules: readonly RuleFlip[];
}

/** A donor whose group for a patient differs; undefined where it is not offered. */
interface DonorFlip {
  readonly patient: DriveRecord;
  readonly donor: DriveRecord;
  readonly before: DonorGroup | undefined;
  readonly after: DonorGroup | undefined;
}

/** `against`: outcomes break it. `impossible`: nothing can meet it, or nothing break it. `untested`: no outcome decides it. */
export type RuleStanding = 'stands' | 'against' | 'impossible' | 'untested';

/** A rule that is taken for something else; undefined where it cannot be applied. */
export interface RuleFlip {
  readonly id: string;
  readonly before: RuleStanding | undefined;
  readonly after: RuleStanding | undefined;
}

/** A setting that differs. */
export interface SettingChange {
  /** In `swaplore.yaml`. */
  readonly path: Path;
  /** With defaults filled in; undefined for a severity that is the check's own. */
  readonly before: unknown;
  readonly after: unknown;
  /** Findings of the base with the change that would be graver, or that would be there at all, under the severity before. */
  readonly hides: readonly Finding[];
}

/** Something to be asked of whoever made the change: one question for each cause. */
export interface Question {
  /** `kind/id`, or undefined where it is about the settings. */
  readonly record: string | undefined;
  /** A sentence that names the record. */
  readonly text: string;
}

/** A finding that comes of a merge alone. */
export interface MergeFinding {
  readonly finding: Finding;
  /** Who brought the records it is about, in the order in which it names them. */
  readonly brought: readonly { readonly record: string; readonly file: string; readonly by: Side }[];
}

/** `change`: this change brought it. `base`: the base did, meanwhile. `both`: both touched it. `neither`: it was there before. */
export type Side = 'change' | 'base' | 'both' | 'neither';
