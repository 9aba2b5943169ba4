import { expect, it } from 'vitest';
import { runCli } from '../server/src/cli/run-cli.ts';
import { resolveFindings } from '../server/src/core/checks/resolve-findings.ts';
import { findingsOf, runChecks } from '../server/src/core/checks/run-checks.ts';
import { Snapshot } from '../server/src/core/index/snapshot.ts';
import { readConfig } from '../server/src/core/model/config.ts';
import { readFileFacts } from '../server/src/core/model/file-facts.ts';
import { ruleResults } from '../server/src/core/reasoning/rule-results.ts';
import { readWithYaml } from '../server/src/core/syntax/read-with-yaml.ts';
import { findEntry } from '../server/src/core/syntax/tape.ts';
import { parseDate } from '../server/src/core/terms/calendar.ts';
import { decodeText } from '../server/src/core/text/decode.ts';
import { evidenceOf } from '../server/src/core/verdicts/evidence.ts';
import { drained } from './harness/drained.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

const outcome = `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
reached: reads
result: works
`;

const others = `kind: maker
id: wren
name: Wren
---
kind: family
id: tern-2
maker: wren
name: Tern 2
adaptives: {stored_in: rom_chip}
---
kind: drive
id: d-0117
family: tern-2
---
kind: drive
id: d-0118
family: tern-2
---
kind: rule
id: tern-rom-travels
claim: needs
when: {rom_travels: true}
`;

it('one outcome runs along the whole spine', async () => {
  // Text.
  const decoded = decodeText(bytesOf(outcome));
  const text = 'text' in decoded ? decoded.text : '';
  expect(text).toBe(outcome);

  // Tape.
  const { tape } = readWithYaml(text);
  const { entry } = findEntry(tape, tape.documents[0]?.root ?? -1, ['reached']);
  expect(text.slice(tape.entries[entry]?.start, tape.entries[entry]?.end)).toBe('reads');

  // Record.
  const facts = readFileFacts(bytesOf(outcome));
  const record = facts.records[0]?.record;
  expect(record?.kind === 'outcome' && record.data.reached).toBe('reads');

  // Snapshot.
  const snapshot = Snapshot.of({ contentId: 'c', reading: readConfig(bytesOf('swaplore: 1\n')) }, [
    { path: 'one.yaml', contentId: 'a', facts },
    { path: 'others.yaml', contentId: 'b', facts: readFileFacts(bytesOf(others)) },
  ]);
  const found = snapshot.find('outcome', 'one');
  expect(found).toBe(record);

  // Evidence and verdict.
  const evidence = found && evidenceOf(found, snapshot);
  expect(evidence?.swap?.patient.family?.id).toBe('tern-2');
  expect(evidence?.verdicts.reads.result).toBe('works');
  expect(evidence?.verdicts.verified.result).toBe('inconclusive');

  // Rule result and finding.
  expect(ruleResults(snapshot)[0]?.against).toEqual([evidence]);
  const checked = drained(runChecks(snapshot, { today: parseDate('2026-11-25') ?? 0 }));
  const [finding] = resolveFindings(findingsOf(checked), new Map([['one.yaml', tape]]));
  expect(finding).toMatchObject({
    check: 'outcome-breaks-rule',
    file: 'one.yaml',
    range: { start: { line: 6, character: 9 } },
  });

  // Adapter.
  let printed = '';
  const terminal = { out: (part: string) => (printed += part), err: () => {}, cwd: '/', columns: 80, hasColour: false };
  expect(await runCli(['check-id', finding?.check ?? ''], terminal, { version: '0.0.0' })).toBe(0);
  expect(printed).toContain('outcome-breaks-rule (error or warning)');
});
