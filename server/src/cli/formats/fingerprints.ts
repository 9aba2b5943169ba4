import { createHash } from 'node:crypto';
import type { ResolvedFinding } from '../../core/checks/resolve-findings.ts';
import type { LintedBase } from './linted-base.ts';

/** A finding to print with the name by which a later run knows it again. */
export interface Fingerprinted {
  readonly base: LintedBase;
  readonly finding: ResolvedFinding;
  /** 32 hex digits, no two alike in one run. */
  readonly fingerprint: string;
}

/**
 * The findings to print, base by base, each with its fingerprint. That is made of base, check, record (the file, where there is none)
 * and message, so lines that move and files that are renamed leave it alone; equal findings are told apart by their order.
 */
export function fingerprinted(bases: readonly LintedBase[]): Fingerprinted[] {
  const seen = new Map<string, number>();
  return bases.flatMap((base) =>
    base.shown.map((finding) => {
      const name = JSON.stringify([base.root, finding.check, finding.record ?? finding.file, finding.message]);
      const nth = seen.get(name) ?? 0;
      seen.set(name, nth + 1);
      const fingerprint = createHash('sha256').update(`${name}${nth}`).digest('hex').slice(0, 32);
      return { base, finding, fingerprint };
    }),
  );
}
