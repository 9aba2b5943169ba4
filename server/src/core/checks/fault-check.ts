import type { BaseFile } from '../index/snapshot.ts';
import type { Fault } from '../model/fault.ts';
import { labelOf } from '../model/record.ts';
import type { Draft } from './define-check.ts';

type FaultOf<Kind extends Fault['kind']> = Extract<Fault, { readonly kind: Kind }>;

/** The run of a check that puts one kind of fault into words. */
export function describeFaults<Kind extends Fault['kind']>(
  kind: Kind,
  describe: (fault: FaultOf<Kind>, file: BaseFile) => Draft,
): (file: BaseFile) => Draft[] {
  return (file) =>
    file.facts.faults
      .filter((fault): fault is FaultOf<Kind> => fault.kind === kind)
      .map((fault) => describe(fault, file));
}

/** How a message names the record a document holds: "Outcome `2026-03-14-tern-117-118`", or "This record". */
export function recordLabel(file: BaseFile, document: number): string {
  const placed = file.facts.records.find((candidate) => candidate.document === document);
  return placed ? labelOf(placed.record) : 'This record';
}
