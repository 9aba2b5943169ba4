/**
 * What one edit takes where the base is in memory already, as in an editor: the edited file read into facts, the next snapshot, and
 * all checks on what the edit can have changed. Prints milliseconds as JSON. The edits go to different outcomes; the first few warm up.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type CheckedBase, runChecks } from '../../../server/src/core/checks/run-checks.ts';
import type { Snapshot } from '../../../server/src/core/index/snapshot.ts';
import { readFileFacts } from '../../../server/src/core/model/file-facts.ts';
import { parseDate } from '../../../server/src/core/terms/calendar.ts';
import { DiskBase } from '../../../server/src/host/disk-base.ts';

const [folder = ''] = process.argv.slice(2);
const today = parseDate('2026-03-14') ?? 0;
const edits = 120;
const warmUp = 20;

function check(snapshot: Snapshot, before?: CheckedBase): CheckedBase {
  const run = runChecks(snapshot, { today, before });
  for (let step = run.next(); ; step = run.next()) if (step.done) return step.value;
}

const base = await DiskBase.survey(folder, { cache: undefined, loader: undefined });
let snapshot = await base.snapshot();
let checked = check(snapshot);
const paths = [...snapshot.files.keys()].filter((path) =>
  readFileSync(join(folder, path), 'utf8').includes('\nreached: '),
);
const milliseconds: number[] = [];
for (let edit = 0; edit < edits; edit++) {
  const path = paths[Math.floor((edit * paths.length) / edits)] ?? '';
  const text = readFileSync(join(folder, path), 'utf8');
  const edited = text.replace(/\nreached: .*/, (line) =>
    line.includes('nothing') ? '\nreached: spins' : '\nreached: nothing',
  );
  const bytes = new TextEncoder().encode(edited);
  const start = process.hrtime.bigint();
  snapshot = snapshot.with([{ path, file: { path, contentId: `edit-${edit}`, facts: readFileFacts(bytes) } }]);
  checked = check(snapshot, checked);
  milliseconds.push(Number(process.hrtime.bigint() - start) / 1e6);
}
process.stdout.write(JSON.stringify(milliseconds.slice(warmUp)));
