import { performance } from 'node:perf_hooks';
import type { ResolvedFinding } from '../core/checks/resolve-findings.ts';
import { byCodeUnits } from '../core/text/by-code-units.ts';

/** The parts of a run whose time is told apart, in the order they come. */
const phases = ['find', 'load', 'check', 'locate', 'print'] as const;

/** A part of a run. */
export type Phase = (typeof phases)[number];

/** How large a base is, and how much of it had to be parsed. */
type BaseSize = Readonly<Record<(typeof sizes)[number], number>>;

const sizes = ['files', 'attachments', 'records', 'bytes', 'parsed', 'gaveUp'] as const;

/** What a run of `lint` did and how long it took. */
export class LintStats {
  private readonly size: Record<keyof BaseSize, number> = {
    files: 0,
    attachments: 0,
    records: 0,
    bytes: 0,
    parsed: 0,
    gaveUp: 0,
  };
  private readonly milliseconds = new Map<Phase, number>();
  private readonly findings: ResolvedFinding[] = [];

  /** Runs a part and adds its time. Parts do not contain one another. */
  async time<T>(phase: Phase, work: () => Promise<T> | T): Promise<T> {
    const start = performance.now();
    try {
      return await work();
    } finally {
      this.milliseconds.set(phase, (this.milliseconds.get(phase) ?? 0) + performance.now() - start);
    }
  }

  /** Adds the size of one base, with the files that were not remembered and those of them the fast reader gave up on. */
  addBase(size: BaseSize): void {
    for (const name of sizes) this.size[name] += size[name];
  }

  /** Adds what was found in one base. */
  addFindings(findings: readonly ResolvedFinding[]): void {
    for (const finding of findings) this.findings.push(finding);
  }

  /** The figures as two columns. */
  toText(): string {
    const { files, attachments, records, bytes, parsed, gaveUp } = this.size;
    const rows = [
      ['files', String(files)],
      ['other files named', String(attachments)],
      ['records', String(records)],
      ['bytes', String(bytes)],
      ['files parsed', String(parsed)],
      ['  by the slow reader', share(gaveUp, parsed)],
      ...phases.map((phase) => [`${phase} ms`, (this.milliseconds.get(phase) ?? 0).toFixed(1)]),
      ['findings', String(this.findings.length)],
      ...this.countByCheck().map(([check, count]) => [`  ${check}`, String(count)]),
    ] as const;
    const left = Math.max(...rows.map(([name = '']) => name.length));
    const right = Math.max(...rows.map(([, figure = '']) => figure.length));
    return rows.map(([name = '', figure = '']) => `${name.padEnd(left)}  ${figure.padStart(right)}\n`).join('');
  }

  private countByCheck(): [string, number][] {
    const counts = new Map<string, number>();
    for (const { check } of this.findings) counts.set(check, (counts.get(check) ?? 0) + 1);
    return [...counts].sort(([a], [b]) => byCodeUnits(a, b));
  }
}

/** A part of a whole with its share: `3 (0.5 %)`. */
function share(part: number, whole: number): string {
  return whole === 0 ? '0' : `${part} (${((100 * part) / whole).toFixed(1)} %)`;
}
