import { performance } from 'node:perf_hooks';
import type { ResolvedFinding } from '../core/checks/resolve-findings.ts';
import { byCodeUnits } from '../core/index/snapshot.ts';
import type { Host, Listing, ReadFile } from '../host/host.ts';

/** The parts of a run whose time is told apart, in the order they come. */
const phases = ['find', 'read', 'parse', 'check', 'locate', 'print'] as const;

/** A part of a run. */
export type Phase = (typeof phases)[number];

/** What a run of `lint` did and how long it took. */
export class LintStats {
  private files = 0;
  private records = 0;
  private bytes = 0;
  private readonly milliseconds = new Map<Phase, number>();
  private readonly findings: ResolvedFinding[] = [];

  /** Runs a part and adds its time. Parts do not contain one another. */
  async time<T>(phase: Phase, work: () => Promise<T> | T): Promise<T> {
    const start = performance.now();
    try {
      return await work();
    } finally {
      this.addTime(phase, performance.now() - start);
    }
  }

  /** Adds to a part's time; a negative time takes away what another part has counted. */
  addTime(phase: Phase, milliseconds: number): void {
    this.milliseconds.set(phase, (this.milliseconds.get(phase) ?? 0) + milliseconds);
  }

  /** Adds the size of one base. */
  addBase({
    files,
    records,
    bytes,
  }: {
    readonly files: number;
    readonly records: number;
    readonly bytes: number;
  }): void {
    this.files += files;
    this.records += records;
    this.bytes += bytes;
  }

  /** Adds what was found in one base. */
  addFindings(findings: readonly ResolvedFinding[]): void {
    for (const finding of findings) this.findings.push(finding);
  }

  /** The figures as two columns. */
  toText(): string {
    const rows = [
      ['files', String(this.files)],
      ['records', String(this.records)],
      ['bytes', String(this.bytes)],
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

/** A host that notes how many bytes were read and how long that took. */
export class MeteredHost implements Host {
  bytes = 0;
  milliseconds = 0;

  constructor(private readonly host: Host) {}

  list(ignore: readonly string[]): Promise<Listing> {
    return this.meter(() => this.host.list(ignore));
  }

  async readMany(paths: readonly string[]): Promise<readonly ReadFile[]> {
    const files = await this.meter(() => this.host.readMany(paths));
    for (const file of files) if ('bytes' in file) this.bytes += file.bytes.length;
    return files;
  }

  private async meter<T>(work: () => Promise<T>): Promise<T> {
    const start = performance.now();
    const result = await work();
    this.milliseconds += performance.now() - start;
    return result;
  }
}
