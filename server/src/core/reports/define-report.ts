import type { Finding } from '../checks/finding.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Block } from './document.ts';

/** What reports of a base are made from. */
export interface ReportInput {
  readonly snapshot: Snapshot;
  /** What all checks have found, by file, place in the file, check and message. */
  readonly findings: readonly Finding[];
  /** What to call the base. */
  readonly baseName: string;
}

/** A report about a whole base: what it is called and what it says in one place. */
export interface Report<Name extends string = string> {
  /** What requests and pages know it by, and what its file is named for; `shelf` where its module is `shelf-report.ts`. */
  readonly name: Name;
  /** What pages call it. */
  readonly title: string;
  /** What it shows, in a few words that end a sentence of help: "all findings". */
  readonly shows: string;
  /** Set for the page somebody opens first: it is named first, the others after it by name. */
  readonly isIndex?: true;
  /** The document: it begins with its title, a heading of level 1, and has no other. */
  readonly document: (input: ReportInput) => readonly Block[];
}

/** Declares a report about a whole base. It does nothing but keep the name's literal type. */
export function defineReport<const Name extends string>(report: Report<Name>): Report<Name> {
  return report;
}

/** A report about one record: its name is that of a report with the id of the record behind it, as in `donors/d-0117`. */
export interface RecordReport<Name extends string = string> {
  /** What stands before the id; `donors` where its module is `donors-report.ts`. */
  readonly name: Name;
  /** What stands before the id in the title of a panel; empty where the id says enough. */
  readonly titleBefore: string;
  /** The document, as that of a report about a whole base; undefined where no such record is there. */
  readonly document: (id: string, input: ReportInput) => readonly Block[] | undefined;
}

/** Declares a report about one record, as `defineReport` does one about a whole base. */
export function defineRecordReport<const Name extends string>(report: RecordReport<Name>): RecordReport<Name> {
  return report;
}
