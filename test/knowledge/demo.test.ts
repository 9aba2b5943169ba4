import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { demoBase, demoTexts } from '../harness/demo-base.ts';
import { lintFiles, loadFiles } from '../harness/lint-files.ts';

const conditionEntries = [
  'same',
  'different',
  'rom_travels',
  'revision',
  'patient',
  'donor',
  'family_is',
  'made_within_weeks',
  'any',
  'none',
];

describe('the demo base', () => {
  it('has no error and no warning, and the notes it is meant to have', async () => {
    const findings = await lintFiles(demoBase());
    const notes = findings.map(({ severity, check, record }) => `${severity} ${check} ${record}`);
    expect(notes.filter((note) => !note.startsWith('info control-missing'))).toEqual([
      'info outcomes-disagree outcome/2024-06-20-sorrel-504-501',
      'info outcomes-disagree outcome/2025-10-14-carrick-1203-1204',
      'info law-thin rule/chert-written-into-a-fitting-board',
      'info law-thin rule/marram-same-release-runs',
      'info law-thin rule/prusik-same-issue-same-code',
      'info law-thin rule/sorrel-three-alike-suffice',
    ]);
    expect(notes.filter((note) => note.startsWith('info control-missing'))).toEqual(
      [
        '2023-09-13-gabbro-603-601',
        '2024-08-28-gabbro-612-605',
        '2024-11-08-tansy-313-312',
        '2025-01-28-cringle-1006-1003',
        '2025-02-11-marram-209-208',
        '2025-02-25-basalt-901-902',
        '2025-05-06-gabbro-605-606',
        '2025-07-02-basalt-904-903',
      ].map((id) => `info control-missing outcome/${id}`),
    );
  });

  it('gives every rule something to stand on', async () => {
    const results = ruleResults(await loadFiles(demoTexts()));
    expect(results.length).toBeGreaterThanOrEqual(20);
    for (const { rule, support } of results) expect(support.length, rule.record.id).toBeGreaterThan(0);
  });

  it.each(['rules/sata-pads.yaml', 'rules/dunvarrow.yaml'])('needs the exception in %s', async (path) => {
    const text = demoTexts()[path] ?? '';
    const findings = await lintFiles({ ...demoBase(), [path]: text.replace(/^exceptions:[\s\S]*/m, '') });
    expect(findings.map((finding) => finding.check)).toContain('outcome-breaks-rule');
  });

  it('uses every entry a condition can have', async () => {
    const conditions = JSON.stringify((await loadFiles(demoTexts())).records('rule').map((rule) => rule.data.when));
    for (const entry of conditionEntries) expect(conditions).toContain(`"${entry}":`);
  });

  it('shows its boards as the drawing tool draws them', () => {
    const { status, stderr } = spawnSync(process.execPath, ['server/tools/draw-photos.mjs', '--check'], {
      encoding: 'utf8',
    });
    expect(stderr).toBe('');
    expect(status).toBe(0);
  });

  it('repeats no eight words in a row from record to record', () => {
    const seen = new Map<string, string>();
    for (const [path, text] of Object.entries(demoTexts()).filter(([path]) => path.endsWith('.yaml'))) {
      for (const [position, record] of text.split(/^---$/m).entries()) {
        const name = `${path}#${position}`;
        for (const run of runsOfEight(proseOf(record))) {
          expect(seen.get(run) ?? name, `"${run}" stands in ${seen.get(run)} and ${name}`).toBe(name);
          seen.set(run, name);
        }
      }
    }
  });
});

/** The text under `notes`, `because` and `shows`, single-line or folded. */
function proseOf(record: string): string[] {
  return [...record.matchAll(/(?:notes|because|shows): *(?:[>|]-?\n((?:[ ]+.*\n?)+)|(.*))/g)].map(
    ([, folded, line]) => folded ?? line ?? '',
  );
}

function runsOfEight(prose: readonly string[]): Set<string> {
  const runs = new Set<string>();
  for (const text of prose) {
    const words = text.toLowerCase().match(/[\p{L}\p{N}'-]+/gu) ?? [];
    for (let from = 0; from + 8 <= words.length; from++) runs.add(words.slice(from, from + 8).join(' '));
  }
  return runs;
}
