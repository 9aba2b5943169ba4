import type { Finding } from '../../server/src/core/checks/finding.ts';
import { checks } from '../../server/src/core/checks/registry.ts';
import { resolveFindings } from '../../server/src/core/checks/resolve-findings.ts';
import { findingsOf, runChecks } from '../../server/src/core/checks/run-checks.ts';
import { readConfig } from '../../server/src/core/model/config.ts';
import { readFileFacts, readRecordFile } from '../../server/src/core/model/file-facts.ts';
import { readFast } from '../../server/src/core/syntax/read-fast.ts';
import { readWithYaml } from '../../server/src/core/syntax/read-with-yaml.ts';
import type { Tape } from '../../server/src/core/syntax/tape.ts';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { decodeText } from '../../server/src/core/text/decode.ts';
import { drained } from '../harness/drained.ts';
import { configFileOf, fileOf, snapshotOf, withSeen } from '../harness/snapshot-of.ts';
import { ternBench } from '../harness/tern-bench.ts';
import { agree, agreeFromCache, demand, isSentence } from './agree.ts';
import type { Target } from './target.ts';
import { recordSeeds, yamlSeeds } from './yaml-seeds.ts';

const today = parseDate('2026-11-25') ?? 0;

/** Throws where a tape is not laid out as its own documentation says. */
function demandTape({ text, entries, documents }: Tape): void {
  for (const [at, { keyStart, keyEnd, start, end, skip, target, kind }] of entries.entries()) {
    const isWithin =
      -1 <= keyStart && keyStart <= keyEnd && start <= end && end <= text.length && keyEnd <= text.length;
    demand(isWithin && skip > at && skip <= entries.length, 'a tape holds entries within text and tape', entries[at]);
    demand(kind === 'alias' || target === -1, 'only aliases have targets', entries[at]);
    demand(target < at, 'an alias repeats what stands before it', entries[at]);
  }
  for (const { root } of documents) demand(root < entries.length, 'a document has its root on the tape', documents);
}

/** Both readers, and facts from bytes. */
function runLoader(bytes: Uint8Array): void {
  const { facts, tape, isFast } = readRecordFile(bytes);
  demandTape(tape);
  agree('facts of the same bytes', readFileFacts(bytes), facts);
  agreeFromCache('facts from a cache', facts);
  const gaveUp = facts.faults.find((fault) => fault.kind === 'syntax' && /gave up/.test(fault.reason));
  demand(gaveUp === undefined, 'the reader does not give up', gaveUp);
  const decoded = decodeText(bytes);
  if (!('text' in decoded)) return;
  const { tape: recovered, faults } = readWithYaml(decoded.text);
  demandTape(recovered);
  const fast = readFast(decoded.text);
  demand(isFast === (fast !== undefined), 'the fast reader reads it or does not', isFast);
  if (!fast) return;
  agree('faults of what the fast reader reads', faults, []);
  agree('both tapes', fast, recovered);
}

const bench = snapshotOf(ternBench);
const path = 'zz/fuzzed.yaml';

/** Throws where what is said is no sentence of words. */
function demandWords({ check, message, help }: Pick<Finding, 'check' | 'message' | 'help'>): void {
  demand(isSentence(message), `\`${check}\` gives a sentence`, message);
  for (const text of [message, help ?? '']) {
    demand(!/\[object |\bNaN\b(?!`)/.test(text.replaceAll(/`[^`]*`/g, '')), `\`${check}\` gives words`, text);
  }
}

/** A file beside a small base: what is found on top of a run and afresh, and what is said. */
function runChecked(bytes: Uint8Array): void {
  const file = fileOf(path, bytes);
  const texts = { ...ternBench, [path]: bytes };
  const added = withSeen(bench.with([{ path, file }]), texts);
  const before = drained(runChecks(bench, { today }));
  const found = findingsOf(drained(runChecks(added, { today, before })));
  const fresh = snapshotOf(texts);
  const { tape } = readRecordFile(bytes);
  const tapes = new Map([[path, tape]]);
  const resolved = resolveFindings(found, tapes);
  agree('findings', resolved, resolveFindings(findingsOf(drained(runChecks(fresh, { today }))), tapes));
  for (const finding of found) demandWords(finding);
  for (const { check, message } of found) demand(check !== 'internal-check-failed', 'no check fails', message);
  for (const { file: at, start, end, check } of resolved) {
    if (at === path)
      demand(0 <= start && start <= end && end <= tape.text.length, `\`${check}\` has a place`, [start, end]);
  }
  const removed = added.with([{ path, file: undefined }]);
  agree('records after the file went', removed.records('drive'), bench.records('drive'));
}

/** What the schemas say of a file, as messages. */
function runSchema(bytes: Uint8Array): void {
  const file = fileOf(path, bytes);
  for (const check of checks) {
    if (check.scope !== 'file') continue;
    for (const { message, help } of check.run(file)) {
      demandWords({ check: check.check, message, help });
    }
  }
}

function runConfig(bytes: Uint8Array): void {
  const reading = readConfig(bytes);
  agree('a config of the same bytes', readConfig(bytes), reading);
  agreeFromCache('a config from a cache', reading);
  const { verifiedShare, keptPoweredMinutes } = reading.config;
  demand(verifiedShare > 0 && verifiedShare <= 1 && keptPoweredMinutes >= 0, 'settings are usable', reading.config);
  for (const { check, message } of findingsOf(drained(runChecks(snapshotOf({ 'swaplore.yaml': bytes }), { today })))) {
    demand(check !== 'internal-check-failed', 'no check fails', message);
  }
  agree('a config of a base', configFileOf(bytes).reading, reading);
}

const configs = [
  'swaplore: 1\nname: Harbour Street bench\nworks_at: reads\nverified_share: 0.02\nserials: masked\nkept_powered_minutes: 0.5\n',
  'swaplore: 1\nignore: [imports/**, "*.tmp"]\nseverity: {rule-untested: off, schema: info}\n',
];

/** What reads files and says what is wrong with them. */
export const loaderTargets: readonly Target[] = [
  {
    ...{ kind: 'bytes', name: 'yaml', mostBytes: 300, runsInSuite: 500, runs: 20_000, limitMs: 1_000 },
    feeds: 'bytes from the YAML test suite',
    holds: 'both readers agree, tapes are laid out as they should be, facts are the same again and from a cache',
    seeds: yamlSeeds,
    run: runLoader,
  },
  {
    ...{ kind: 'bytes', name: 'loader', mostBytes: 1_500, runsInSuite: 150, runs: 8_000, limitMs: 1_000 },
    feeds: 'bytes from records',
    holds: 'the same',
    seeds: recordSeeds,
    run: runLoader,
  },
  {
    ...{ kind: 'bytes', name: 'messages', mostBytes: 1_500, runsInSuite: 250, runs: 20_000, limitMs: 1_000 },
    feeds: 'bytes from records',
    holds: 'what checks of a file say are sentences of words',
    seeds: recordSeeds,
    run: runSchema,
  },
  {
    ...{ kind: 'bytes', name: 'checks', mostBytes: 1_500, runsInSuite: 25, runs: 5_000, limitMs: 4_000 },
    feeds: 'bytes from records, as one more file of a small base',
    holds: 'no check fails, a run on top of another finds what a fresh one finds, places lie in the text',
    seeds: recordSeeds,
    run: runChecked,
  },
  {
    ...{ kind: 'bytes', name: 'config', mostBytes: 600, runsInSuite: 200, runs: 10_000, limitMs: 1_000 },
    feeds: 'bytes from configs',
    holds: 'settings are usable and the same again, no check fails',
    seeds: () => configs.map((text) => new TextEncoder().encode(text)),
    run: runConfig,
  },
];
