import { describe, expect, it } from 'vitest';
import { exceptionNotNeeded } from '../../server/src/core/checks/exception-not-needed.ts';
import { jointContradiction } from '../../server/src/core/checks/joint-contradiction.ts';
import { notDecided } from '../../server/src/core/checks/not-decided.ts';
import { allControls, board, chain, chainBase, chainFiles, chainOutcome } from '../harness/chain-base.ts';
import { lintFiles } from '../harness/lint-files.ts';

/** What the joint checks say of files, with the file each finding points at. */
async function found(files: Readonly<Record<string, string>>): Promise<string[]> {
  const findings = await lintFiles(files, { checks: [jointContradiction, exceptionNotNeeded, notDecided] });
  return findings.map(({ check, severity, file, message }) => `${severity} ${check} ${file}: ${message}`);
}

/** How many contradictions there are. */
async function count(files: Readonly<Record<string, string>>): Promise<number> {
  return (await found(files)).filter((line) => line.includes(' joint-contradiction ')).length;
}

function rules(...lines: readonly string[]): Record<string, string> {
  const text = lines.map(
    (line, position) => `{kind: rule, id: rule-${position + 1}, applies_to: {families: [tern-2]}, ${line}}\n`,
  );
  return { 'rules/tern.yaml': text.join('---\n') };
}

function outcomes(
  ...swaps: readonly (readonly [patient: string, donor: string, works: boolean])[]
): Record<string, string> {
  return Object.fromEntries(
    swaps.map(([patient, donor, works]) => {
      const id = `${patient}-with-${donor}`;
      return [`outcomes/${id}.yaml`, chainOutcome(id, { patient, donor, works })];
    }),
  );
}

describe('a chain of swaps', () => {
  it('is reported at its last outcome, with the others beside it', async () => {
    const [finding, ...others] = await lintFiles(chainFiles(), { checks: [jointContradiction] });
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ severity: 'error', file: 'outcomes/c-with-b.yaml', record: 'outcome/c-with-b' });
    expect(finding?.related.map(({ file, message }) => `${file}: ${message}`)).toEqual([
      'outcomes/b-with-a.yaml: Outcome `b-with-a`.',
      'outcomes/c-with-a.yaml: Outcome `c-with-a`.',
      'rules/tern.yaml: Rule `tern-enough`.',
      'rules/tern.yaml: Rule `tern-preamp`.',
    ]);
  });

  it('is reported alike whatever the order of files', async () => {
    const entries = Object.entries(chainFiles());
    const turned = [entries.toReversed(), [...entries.slice(4), ...entries.slice(0, 4)]].map(
      Object.fromEntries<string>,
    );
    const expected = await found(chainFiles());
    for (const files of turned) expect(await found(files)).toEqual(expected);
    expect(expected).toHaveLength(1);
  });

  it.each(['donor_on_own_board', 'patient_on_own_board'])(
    'is no contradiction without %s of the failure',
    async (control) => {
      const controls = allControls.replace(`${control}: works`, `${control}: not_tested`);
      expect(await found(chainFiles({ ...chain, 'c-with-a': { ...chain['c-with-a']!, controls } }))).toEqual([]);
    },
  );

  it.each(['tern-enough', 'tern-preamp'])('is no contradiction without rule %s', async (id) => {
    const kept = chainBase['rules/tern.yaml'].split('---\n').filter((text) => !text.includes(id));
    expect(await found({ ...chainFiles(), 'rules/tern.yaml': kept.join('---\n') })).toEqual([]);
  });

  it.each(Object.keys(chain))('is no contradiction without outcome %s', async (id) => {
    const { [`outcomes/${id}.yaml`]: _, ...files } = chainFiles();
    expect(await found(files)).toEqual([]);
  });

  it('is a warning unless every rule was measured or is the word of the maker', async () => {
    const weak = chainBase['rules/tern.yaml'].replace('basis: measured', 'basis: hearsay');
    expect(await found({ ...chainFiles(), 'rules/tern.yaml': weak })).toEqual([expect.stringMatching(/^warning /)]);
    const word = chainBase['rules/tern.yaml'].replace('basis: measured', 'basis: maker_document');
    expect(await found({ ...chainFiles(), 'rules/tern.yaml': word })).toEqual([expect.stringMatching(/^error /)]);
  });

  it('is left to the rule that is broken where the values are recorded', async () => {
    const drives = chainBase['drives/tern.yaml'].replaceAll('family: tern-2\n', 'family: tern-2\npreamp: Q1\n');
    expect(await found({ ...chainFiles(), 'drives/tern.yaml': drives })).toEqual([]);
    const findings = await lintFiles({ ...chainFiles(), 'drives/tern.yaml': drives });
    expect(findings.map(({ check }) => check)).toContain('outcome-breaks-rule');
  });

  it('ends where an exception takes an outcome out', async () => {
    const excepted = chainBase['rules/tern.yaml'].replace(
      'basis: measured\n',
      'basis: measured\nexceptions: [{outcome: c-with-a, because: The power failed.}]\n',
    );
    // The exception is needed, as there would be a contradiction without it.
    expect(await found({ ...chainFiles(), 'rules/tern.yaml': excepted })).toEqual([]);
  });

  it('is left alone where an outcome is said to have reached what was not seen', async () => {
    const files = chainFiles();
    const contradicted = `${files['outcomes/b-with-a.yaml']}observed: {reads: false}\n`;
    expect(await found({ ...files, 'outcomes/b-with-a.yaml': contradicted })).toEqual([]);
  });
});

describe('boards of one revision', () => {
  const shared = {
    ...chainBase,
    ...rules('claim: prevents, when: {same: [controller]}, basis: measured'),
    ...outcomes(['b', 'a', true]),
  };

  it('are assumed to have the same controller, by name', async () => {
    const findings = await lintFiles(shared, { checks: [jointContradiction] });
    expect(findings.map(({ message, help, related }) => [message, help, related.at(-1)?.message])).toEqual([
      [
        'Outcome `b-with-a` cannot be right if rule `rule-1` holds and all boards of `kestrel/A1` have the same `controller`: `b-with-a` works at `reads`, which by `rule-1` rules out `same: [controller]`.',
        'Check the bench notes of `b-with-a` first: without it nothing here is at odds; then the rules. Where boards of `kestrel/A1` do differ, list what is met under `controller`.',
        'Revision `A1`, of which no `controller` is recorded.',
      ],
    ]);
  });

  it('may differ where the revision lists alternatives', async () => {
    expect(await found({ ...shared, 'boards/kestrel.yaml': board('{rev: A1, controller: [KR1, KR2]}') })).toEqual([]);
  });

  it('have no more controllers than the list', async () => {
    const files = { ...shared, 'boards/kestrel.yaml': board('{rev: A1, controller: [KR1, KR2]}') };
    expect(await count({ ...files, ...outcomes(['a', 'b', true], ['b', 'c', true]) })).toBe(0);
    expect(await count({ ...files, ...outcomes(['a', 'b', true], ['b', 'c', true], ['c', 'a', true]) })).toBe(1);
  });

  it('do not share what a drive records for itself', async () => {
    const own = chainBase['drives/tern.yaml'].replace('rev: A1', 'rev: A1, controller: KR1');
    expect(await found({ ...shared, 'drives/tern.yaml': own })).toEqual([]);
  });

  it('give a drive their parts once its revision follows', async () => {
    const files = {
      ...chainBase,
      'drives/tern.yaml': chainBase['drives/tern.yaml'].replaceAll(', rev: A1', ''),
      ...rules(
        'claim: needs, when: {donor: {rev: kestrel/A1}}, basis: measured',
        'claim: prevents, when: {donor: {contact_pads: 18}}, basis: measured',
      ),
      ...outcomes(['b', 'a', true]),
    };
    expect(await count(files)).toBe(1);
    expect(await count({ ...files, 'boards/kestrel.yaml': board('{rev: A1, contact_pads: 20}') })).toBe(0);
  });

  it('stand in for what they claim, also once a revision follows', async () => {
    const files = {
      ...chainBase,
      'boards/kestrel.yaml': board('{rev: A1, drop_in_for: [B1]}\n  - {rev: B1}'),
      'drives/tern.yaml': chainBase['drives/tern.yaml'].replaceAll(', rev: A1', ''),
      ...rules(
        'claim: needs, when: {donor: {rev: kestrel/B1}, patient: {rev: kestrel/A1}}, basis: measured',
        'claim: needs, when: {revision: drop_in}, basis: measured',
      ),
      ...outcomes(['b', 'a', true]),
    };
    expect(await count(files)).toBe(1);
    const turned = board('{rev: A1}\n  - {rev: B1, drop_in_for: [A1]}');
    expect(await count({ ...files, 'boards/kestrel.yaml': turned })).toBe(0);
  });
});

describe('values of which there are only so many', () => {
  const three = outcomes(['a', 'b', true], ['b', 'c', true], ['c', 'a', true]);

  it.each([
    [
      'a range of whole numbers',
      'claim: needs, when: {patient: {heads: {from: 2, to: 3}}}',
      'claim: prevents, when: {same: [heads]}',
      1,
    ],
    [
      'a wider one',
      'claim: needs, when: {patient: {heads: {from: 2, to: 4}}}',
      'claim: prevents, when: {same: [heads]}',
      0,
    ],
    [
      'a range of any numbers',
      'claim: needs, when: {patient: {capacity_gb: {from: 2, to: 3}}}',
      'claim: prevents, when: {same: [capacity_gb]}',
      0,
    ],
    ['a list', 'claim: needs, when: {patient: {site: [X, Y]}}', 'claim: prevents, when: {same: [site]}', 1],
    [
      'days too far apart',
      'claim: needs, when: {made_within_weeks: 1, patient: {made: {from: 2012-08-01}}}',
      'claim: prevents, when: {any: [{patient: {made: {from: 2000}}}]}',
      1,
    ],
  ])('%s', async (_, a, b, expected) => {
    const found = await count({ ...chainBase, ...rules(`${a}, basis: measured`, `${b}, basis: measured`), ...three });
    expect(Math.min(found, 1)).toBe(expected);
  });

  it('too many for the effort are not decided, which is said', async () => {
    const drives = Array.from({ length: 10 }, (_, number) => `d${number}`);
    const pairs = drives.flatMap((patient, position) =>
      drives.slice(0, position).map((donor) => [patient, donor, true] as const),
    );
    const lines = await found({
      ...chainBase,
      'drives/tern.yaml': drives.map((id) => `kind: drive\nid: ${id}\nfamily: tern-2\n`).join('---\n'),
      ...rules('claim: prevents, when: {same: [rom_package]}'),
      ...outcomes(...pairs),
    });
    expect(lines).toEqual([
      'warning not-decided outcomes/d9-with-d8.yaml: Whether outcomes `d1-with-d0`, `d2-with-d0` and 43 more can all be right was not decided within 109,000 steps.',
    ]);
  });
});

describe('exceptions', () => {
  const twoSites = (patient: string, donor: string): string =>
    ['a', 'b']
      .map((id, position) => `kind: drive\nid: ${id}\nfamily: tern-2\n${[patient, donor][position]}`)
      .join('---\n');
  const base = (patient: string, donor: string, rule: string, works = true): Record<string, string> => ({
    ...chainBase,
    'drives/tern.yaml': twoSites(patient, donor),
    ...rules(`${rule}, exceptions: [{outcome: a-with-b, because: so}]`),
    ...outcomes(['a', 'b', works]),
  });
  const needs = 'claim: needs, when: {same: [site]}';

  it.each([
    ['would stand against the rule', base('site: X\n', 'site: Y\n', needs), undefined],
    ['supports it', base('site: X\n', 'site: x\n', needs), 'supports it'],
    ['says nothing', base('site: X\n', 'site: X\n', needs, false), 'it says nothing about'],
    ['is open', base('site: X\n', '', needs), 'nothing recorded sets against it'],
  ])('an outcome that %s', async (_, files, reason) => {
    const lines = (await found(files)).filter((line) => line.includes('exception-not-needed'));
    expect(lines).toEqual(
      reason === undefined
        ? []
        : [
            `warning exception-not-needed rules/tern.yaml: Rule \`rule-1\` needs no exception for outcome \`a-with-b\`, which ${reason}.`,
          ],
    );
  });

  it('of a rule that names what is not recorded are left alone', async () => {
    const rule = 'claim: needs, when: {same: [site], donor: {board: nowhere}}';
    expect(await found(base('site: X\n', '', rule))).toEqual([]);
    expect(await found(base('site: X\n', '', rule.replace('nowhere', 'kestrel')))).toHaveLength(1);
  });

  it('for what proves nothing, is retracted or out of scope are not needed; for what is not recorded nothing is said', async () => {
    const files = base('site: X\n', 'site: Y\n', 'claim: enough, when: {different: [site]}', false);
    const text = files['outcomes/a-with-b.yaml']!;
    const open = { ...files, 'outcomes/a-with-b.yaml': text.replace('donor_on_own_board: works, ', '') };
    expect(await found(open)).toEqual([expect.stringContaining('which proves nothing at `reads`')]);
    const withdrawn = `${text}retracted: {on: 2026-04-01, because: Wrong drive.}\n`;
    expect(await found({ ...files, 'outcomes/a-with-b.yaml': withdrawn })).toEqual([
      expect.stringContaining('which is retracted and counts nowhere'),
    ]);
    const elsewhere = files['rules/tern.yaml']!.replace('[tern-2]', '[tern-3]');
    const family = 'kind: family\nid: tern-3\nmaker: wren\nname: Tern 3\n';
    expect(await found({ ...files, 'rules/tern.yaml': elsewhere, 'families/other.yaml': family })).toEqual([
      expect.stringContaining('which does not lie in its scope'),
    ]);
    const { 'outcomes/a-with-b.yaml': _, ...without } = files;
    expect(await found(without)).toEqual([]);
  });
});
