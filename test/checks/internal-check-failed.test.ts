import { expect, it } from 'vitest';
import { type Check, defineCheck } from '../../server/src/core/checks/define-check.ts';
import { schema } from '../../server/src/core/checks/schema.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { lintFiles, loadFiles } from '../harness/lint-files.ts';

const files = {
  'makers/wren.yaml': 'kind: maker\nid: wren\n',
  'families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\n',
};

const common = {
  check: 'unlucky',
  group: 'across',
  severity: 'info',
  why: 'To see it fail.',
  examples: () => [],
} as const;

function crash(): never {
  throw new Error('the belt slipped');
}

const missingName = 'makers/wren.yaml: schema: Maker `wren` has no `name`; text is needed.';

async function findingsBeside(unlucky: Check, config = 'swaplore: 1\n'): Promise<string[]> {
  const findings = await lintFiles({ ...files, 'swaplore.yaml': config }, { checks: [unlucky, schema] });
  return findings.map(({ file, check, message }) => `${file}: ${check}: ${message}`);
}

it('a check of the base: one finding that names it, and the other checks still run', async () => {
  expect(await findingsBeside(defineCheck({ ...common, scope: 'base', run: crash }))).toEqual([
    missingName,
    'swaplore.yaml: internal-check-failed: Check `unlucky` failed here: the belt slipped.',
  ]);
});

it('a check of the config', async () => {
  expect(await findingsBeside(defineCheck({ ...common, scope: 'config', run: crash }))).toEqual([
    missingName,
    'swaplore.yaml: internal-check-failed: Check `unlucky` failed here: the belt slipped.',
  ]);
});

it('a check of files fails at the file', async () => {
  expect(await findingsBeside(defineCheck({ ...common, scope: 'file', run: crash }))).toEqual([
    'makers/wren.yaml: internal-check-failed: Check `unlucky` failed here: the belt slipped.',
    missingName,
  ]);
});

it('a check of records fails at the file of the record, and goes on with the next', async () => {
  const run: Extract<Check, { scope: 'record' }>['run'] = (record) =>
    record.kind === 'maker' ? crash() : [{ at: { record, path: ['id'], side: 'value' }, message: 'Seen.' }];
  expect(await findingsBeside(defineCheck({ ...common, scope: 'record', run }))).toEqual([
    'families/tern.yaml: unlucky: Seen.',
    'makers/wren.yaml: internal-check-failed: Check `unlucky` failed here: the belt slipped.',
    missingName,
  ]);
});

it('a check that fails half way', async () => {
  const check = defineCheck({
    ...common,
    scope: 'base',
    *run() {
      yield { at: { file: 'swaplore.yaml', start: 0, end: 1 }, message: 'Seen.' };
      crash();
    },
  });
  expect(await findingsBeside(check)).toContain(
    'swaplore.yaml: internal-check-failed: Check `unlucky` failed here: the belt slipped.',
  );
});

it('a check that points at a record of another base', async () => {
  const [foreign] = (await loadFiles(files)).records('family');
  const check = defineCheck({
    ...common,
    scope: 'base',
    *run(snapshot: Snapshot) {
      for (const record of foreign ? [foreign] : snapshot.records('family'))
        yield { at: { record, path: ['id'], side: 'value' } as const, message: 'Seen.' };
    },
  });
  expect(await findingsBeside(check)).toEqual([
    missingName,
    'swaplore.yaml: internal-check-failed: Check `unlucky` failed here: family/tern-2 is not a record of this snapshot.',
  ]);
});

it('what is thrown need not be an error', async () => {
  const run = (): never => {
    throw 'a wrench';
  };
  expect(await findingsBeside(defineCheck({ ...common, scope: 'base', run }))).toContain(
    'swaplore.yaml: internal-check-failed: Check `unlucky` failed here: a wrench.',
  );
});

it('is an error whatever severity the base gives the check', async () => {
  const check = defineCheck({ ...common, check: 'unknown-revision', scope: 'base', run: crash });
  const config = 'swaplore: 1\nseverity: {unknown-revision: info}\n';
  const findings = await lintFiles({ ...files, 'swaplore.yaml': config }, { checks: [check] });
  expect(findings.map((finding) => [finding.check, finding.severity])).toEqual([['internal-check-failed', 'error']]);
});

it('does not happen to a check that is switched off', async () => {
  const check = defineCheck({ ...common, check: 'unknown-revision', scope: 'base', run: crash });
  expect(await findingsBeside(check, 'swaplore: 1\nseverity: {unknown-revision: off}\n')).toEqual([missingName]);
});
