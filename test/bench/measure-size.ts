import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type CachedBase, cacheFolder } from './base/base-cache.ts';
import { type Measurement, measure } from './measure.ts';
import type { SizeResult } from './size-result.ts';
import type { Subject } from './subjects.ts';

/** Measures subjects on a base, each so many times. They take turns (A B C A B C …), so that all suffer alike from a busy machine. */
export function measureSize(base: CachedBase, size: string, all: readonly Subject[], runs: number): SizeResult {
  readAll(base.folder);
  readAll(base.twin.folder);
  const found = new Map(all.map((subject) => [subject, [] as Measurement[]]));
  for (let run = 1; run <= runs; run++) {
    for (const [subject, measurements] of found) {
      process.stderr.write(`size ${size}, run ${run} of ${runs}: ${subject.name}\n`);
      subject.prepare?.(base);
      measurements.push(measure(subject.steps(base), subject.exitCodes));
      subject.tidy?.(base);
    }
  }
  const series = [...found].map(([subject, measurements]) => ({
    subject,
    bytes: subject.bytes(base),
    runs: measurements,
  }));
  return { size, series };
}

/** A base of one file, which shows what starting takes. */
export function baseOfOneFile(): CachedBase {
  const folder = join(cacheFolder, 'one');
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'swaplore.yaml'), 'swaplore: 1\n');
  const text = 'kind: maker\nid: wren\nname: Wren\n';
  writeFileSync(join(folder, 'wren.yaml'), text);
  return { folder, files: 1, bytes: text.length, planted: [], twin: { folder, files: 1, bytes: text.length } };
}

/** Brings the files into the system's cache, so that the first to be measured does not pay for the rest. */
function readAll(folder: string): void {
  for (const entry of readdirSync(folder, { withFileTypes: true, recursive: true })) {
    if (entry.isFile()) readFileSync(join(entry.parentPath, entry.name));
  }
}
