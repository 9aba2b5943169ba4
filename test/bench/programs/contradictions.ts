/**
 * What joint reasoning takes on a base in which contradictions are planted, each in a family of its own, and whether it finds them and
 * nothing besides. Prints one line of JSON. The argument says how many are planted.
 */
import { type CheckedBase, findingsOf, runChecks } from '../../../server/src/core/checks/run-checks.ts';
import { type BaseFile, Snapshot } from '../../../server/src/core/index/snapshot.ts';
import { readConfig } from '../../../server/src/core/model/config.ts';
import { readFileFacts } from '../../../server/src/core/model/file-facts.ts';
import { jointResults } from '../../../server/src/core/reasoning/joint-contradictions.ts';
import { ruleRelations } from '../../../server/src/core/reasoning/rule-relations.ts';
import { ruleResults } from '../../../server/src/core/reasoning/rule-results.ts';
import { parseDate } from '../../../server/src/core/terms/calendar.ts';
import { makeContradictions, outcomesPerContradiction, rulesPerContradiction } from '../base/contradictions.ts';
import { configText, makeBase, toBaseFile } from '../base/make-base.ts';
import { sizes } from '../base/sizes.ts';

const [count = '50'] = process.argv.slice(2);
const today = parseDate('2026-03-15') ?? 0;
const encoder = new TextEncoder();

function fileOf(path: string, text: string, contentId: string): BaseFile {
  return { path, contentId, facts: readFileFacts(encoder.encode(text)) };
}

function check(snapshot: Snapshot, before?: CheckedBase): CheckedBase {
  const run = runChecks(snapshot, { today, before });
  for (let step = run.next(); ; step = run.next()) if (step.done) return step.value;
}

function timed(work: () => void): number {
  const start = process.hrtime.bigint();
  work();
  return Number(process.hrtime.bigint() - start) / 1e6;
}

const { L } = sizes;
const planted = makeContradictions(Number(count));
const counts = {
  ...L,
  families: L.families - Number(count),
  outcomes: L.outcomes - outcomesPerContradiction * Number(count),
  rules: L.rules - rulesPerContradiction * Number(count),
};
const texts = new Map(
  [...makeBase(counts, '1').files.map(toBaseFile), ...planted.files].map(({ path, text }) => [path, text]),
);
let snapshot = Snapshot.of(
  { contentId: 'config', reading: readConfig(encoder.encode(configText)) },
  [...texts].map(([path, text]) => fileOf(path, text, path)),
);
ruleResults(snapshot);
ruleRelations(snapshot);
const before = process.memoryUsage().heapUsed;
let results = 0;
const coldMs = timed(() => {
  for (const result of jointResults(snapshot)) if (result) results++;
});
const heapBytes = process.memoryUsage().heapUsed - before;
let checked = check(snapshot);
const joint: ReadonlySet<string> = new Set(['joint-contradiction', 'exception-not-needed', 'not-decided']);
const found = findingsOf(checked).filter(({ check: id }) => joint.has(id));
const expected = new Set(planted.planted.map(({ path }) => path));
const right = found.filter(({ check: id, place }) => id === 'joint-contradiction' && expected.has(place.file));
/** What a whole run takes after an edit of an outcome that a contradiction is about; and of that, joint reasoning. The first few warm up. */
const editMs: number[] = [];
const jointMs: number[] = [];
const warmUp = 20;
for (const { path } of [...planted.planted, ...planted.planted]) {
  const text = texts.get(path) ?? '';
  const edited = text.replace(/reached: \w+/, editMs.length % 2 === 0 ? 'reached: spins' : 'reached: detected');
  editMs.push(
    timed(() => {
      snapshot = snapshot.with([{ path, file: fileOf(path, edited, `edit ${editMs.length}`) }]);
      ruleResults(snapshot);
      ruleRelations(snapshot);
      jointMs.push(timed(() => [...jointResults(snapshot)].length));
      checked = check(snapshot, checked);
    }),
  );
}
process.stdout.write(
  JSON.stringify({
    ...{ records: [...snapshot.allRecords()].length, drives: snapshot.records('drive').length },
    ...{ outcomes: snapshot.records('outcome').length, rules: snapshot.records('rule').length },
    ...{ planted: planted.planted.length, found: right.length, besides: found.length - right.length, groups: results },
    ...{
      coldMs,
      heapBytes,
      peakBytes: 1024 * process.resourceUsage().maxRSS,
      editMs: editMs.slice(warmUp),
      jointMs: jointMs.slice(warmUp),
    },
  }),
);
