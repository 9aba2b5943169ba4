import { describe, expect, it } from 'vitest';
import { folderOf, runCommand, swaplore, transcript } from '../harness/run-cli.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

const maker = 'kind: maker\nid: wren\nname: Wren\n';

describe('text', () => {
  it('says that nothing was found', () => {
    expect(swaplore(ternBench, ['lint'])).toMatchInlineSnapshot(`
      "Harbour Street bench: nothing found (6 files, 6 records)
      exit 0"
    `);
  });

  it('shows place, severity, check, message, help and what it is related to, in 80 columns', () => {
    const files = {
      ...ternBench,
      'makers/again.yaml': 'kind: maker\nid: wren\nname: Wren Storage\nouuis: [00-00-5E]\n',
      'outcomes/left.yaml': outcome('2026-03-15-tern-117-118', 'left'),
      'outcomes/slip.yaml': outcome('slip', 'chip_moved').replace('d-0118', 'd-0181'),
    };
    const shown = swaplore(files, ['lint']);
    expect(shown).toMatchInlineSnapshot(`
      "makers/again.yaml:4:1  error  unknown-key
        Maker \`wren\` has the key \`ouuis\`, which is not known; the nearest is \`ouis\`.
          Rename it to \`ouis\`, or to \`x-ouuis\` for the shop's own use.

      makers/wren.yaml:2:5  error  duplicate-id
        Maker id \`wren\` is already taken; each maker needs its own id.
          Give the later record a new id.
          see makers/again.yaml:2:5 First use.

      outcomes/left.yaml:7:10  error  outcome-breaks-rule
        Outcome \`2026-03-15-tern-117-118\` reached \`reads\`, but rule \`tern-rom-travels\`
        says that needs \`rom_travels: true\`: the ROM was \`left\` (this family keeps its
        adaptives in \`rom_chip\`).
          Check the bench notes; correct the record, or give the rule an exception
          with its reason.
          see rules/tern.yaml:4:8 Rule \`tern-rom-travels\`.

      outcomes/slip.yaml:5:8  error  dangling-reference
        Drive \`d-0181\` is not recorded in this base; the nearest is \`d-0118\`.
          Use \`d-0118\`, or record the drive.

      Harbour Street bench: 4 errors, 0 warnings, 0 notes (9 files, 9 records)
      exit 1"
    `);
    expect(Math.max(...shown.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it('fails on errors only', () => {
    const files = {
      ...ternBench,
      'rules/tern.yaml': ternBench['rules/tern.yaml'].replace('basis: measured\n', ''),
      'outcomes/left.yaml': outcome('left', 'left'),
    };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "outcomes/left.yaml:7:10  warning  outcome-breaks-rule
        Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
        \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in
        \`rom_chip\`).
          Check the bench notes; correct the record, or give the rule an exception
          with its reason.
          see rules/tern.yaml:4:8 Rule \`tern-rom-travels\`.

      Harbour Street bench: 0 errors, 1 warning, 0 notes (7 files, 7 records)
      exit 0"
    `);
  });

  it('takes a severity from the config', () => {
    const files = {
      ...ternBench,
      'swaplore.yaml': 'swaplore: 1\nseverity: {dangling-reference: info, unknown-key: off}\n',
      'makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\nouuis: [00-00-5E]\n',
      'drives/new.yaml': 'kind: drive\nid: d-0119\nfamily: tern-3\n',
    };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "drives/new.yaml:3:9  info  dangling-reference
        Family \`tern-3\` is not recorded in this base; the nearest is \`tern-2\`.
          Use \`tern-2\`, or record the family.

      .: 0 errors, 0 warnings, 1 note (7 files, 7 records)
      exit 0"
    `);
  });
});

describe('json', () => {
  it('has the documented shape', () => {
    const files = {
      'swaplore.yaml': 'swaplore: 1\nname: Small\n',
      'a.yaml': maker,
      'b.yaml': 'kind: maker\nid: wren\nname: Wren Storage\n---\nkind: family\nid: tern-2\nmaker: wern\nname: Tern 2\n',
    };
    const { stdout, stderr, code } = runCommand(folderOf(files), ['lint', '--format', 'json']);
    expect({ stderr, code }).toEqual({ stderr: '', code: 1 });
    expect(JSON.parse(stdout)).toEqual({
      version: 1,
      bases: [{ root: '.', name: 'Small', files: 3, records: 3 }],
      findings: [
        {
          check: 'duplicate-id',
          severity: 'error',
          file: 'b.yaml',
          range: { start: { line: 1, character: 4 }, end: { line: 1, character: 8 } },
          message: 'Maker id `wren` is already taken; each maker needs its own id.',
          help: 'Give the later record a new id.',
          record: 'maker/wren',
          related: [
            {
              file: 'a.yaml',
              range: { start: { line: 1, character: 4 }, end: { line: 1, character: 8 } },
              message: 'First use.',
            },
          ],
        },
        {
          check: 'dangling-reference',
          severity: 'error',
          file: 'b.yaml',
          range: { start: { line: 6, character: 7 }, end: { line: 6, character: 11 } },
          message: 'Maker `wern` is not recorded in this base; the nearest is `wren`.',
          help: 'Use `wren`, or record the maker.',
          record: 'family/tern-2',
          related: [],
        },
      ],
      summary: { error: 2, warning: 0, info: 0 },
    });
  });

  it('has the same shape where there is nothing to say', () => {
    const { stdout, code } = runCommand(folderOf({ 'swaplore.yaml': 'swaplore: 1\n' }), ['lint', '--format=json']);
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toEqual({
      version: 1,
      bases: [{ root: '.', files: 1, records: 0 }],
      findings: [],
      summary: { error: 0, warning: 0, info: 0 },
    });
  });

  it('names no record for a fault of the config', () => {
    const { stdout, code } = runCommand(folderOf({ 'swaplore.yaml': 'swaplore: 2\n' }), ['lint', '--format=json']);
    expect(code).toBe(2);
    const [finding, ...others] = JSON.parse(stdout).findings;
    expect(others).toEqual([]);
    expect(finding).toMatchObject({ check: 'config-invalid', file: 'swaplore.yaml' });
    expect(finding).not.toHaveProperty('record');
  });
});

describe('which bases', () => {
  const two = {
    'north/swaplore.yaml': 'swaplore: 1\nname: North\n',
    'north/makers/wren.yaml': maker,
    'south/swaplore.yaml': 'swaplore: 1\n',
    'south/makers/wren.yaml': 'kind: maker\nid: wren\n',
  };

  it('checks every base below', () => {
    expect(swaplore(two, ['lint'])).toMatchInlineSnapshot(`
      "North: nothing found (2 files, 1 record)

      south/makers/wren.yaml:1:1  error  schema
        Maker \`wren\` has no \`name\`; text is needed.

      south: 1 error, 0 warnings, 0 notes (2 files, 1 record)
      exit 1"
    `);
  });

  it('checks the bases of the folders it is given, each once, by path', () => {
    expect(swaplore(two, ['lint', 'south', './north/makers', 'north'])).toMatchInlineSnapshot(`
      "North: nothing found (2 files, 1 record)

      south/makers/wren.yaml:1:1  error  schema
        Maker \`wren\` has no \`name\`; text is needed.

      south: 1 error, 0 warnings, 0 notes (2 files, 1 record)
      exit 1"
    `);
  });

  it('looks upward, and shows paths from the working folder', () => {
    expect(swaplore(two, ['lint'], { from: 'south/makers' })).toMatchInlineSnapshot(`
      "../makers/wren.yaml:1:1  error  schema
        Maker \`wren\` has no \`name\`; text is needed.

      ..: 1 error, 0 warnings, 0 notes (2 files, 1 record)
      exit 1"
    `);
  });

  it('finds the base of a file', () => {
    expect(swaplore(two, ['lint', 'north/makers/wren.yaml'])).toMatchInlineSnapshot(`
      "North: nothing found (2 files, 1 record)
      exit 0"
    `);
  });

  it('checks a base inside another one too, each file in one of them', () => {
    const nested = {
      ...ternBench,
      'attic/swaplore.yaml': 'swaplore: 1\nname: Attic\n',
      'attic/makers/wren.yaml': maker,
    };
    expect(swaplore(nested, ['lint'])).toMatchInlineSnapshot(`
      "Harbour Street bench: nothing found (6 files, 6 records)

      Attic: nothing found (2 files, 1 record)
      exit 0"
    `);
    expect(swaplore(nested, ['lint', 'attic'])).toMatchInlineSnapshot(`
      "Attic: nothing found (2 files, 1 record)
      exit 0"
    `);
  });

  it('counts both in the json of several bases', () => {
    const { stdout } = runCommand(folderOf(two), ['lint', '--format', 'json']);
    const { bases, findings, summary } = JSON.parse(stdout);
    expect(bases).toEqual([
      { root: 'north', name: 'North', files: 2, records: 1 },
      { root: 'south', files: 2, records: 1 },
    ]);
    expect(findings.map(({ file }: { file: string }) => file)).toEqual(['south/makers/wren.yaml']);
    expect(summary).toEqual({ error: 1, warning: 0, info: 0 });
  });

  it('cannot run without a base', () => {
    expect(swaplore({ 'makers/wren.yaml': maker }, ['lint'])).toMatchInlineSnapshot(`
      "! swaplore: There is no swaplore.yaml in, above or below this folder.
      ! A base is the folder that holds a swaplore.yaml with the line "swaplore: 1".
      exit 2"
    `);
    expect(swaplore({ 'makers/wren.yaml': maker }, ['lint', 'makers'])).toMatchInlineSnapshot(`
      "! swaplore: There is no swaplore.yaml in, above or below makers.
      ! A base is the folder that holds a swaplore.yaml with the line "swaplore: 1".
      exit 2"
    `);
  });

  it('cannot run on a folder that does not exist, even where a base lies around it', () => {
    expect(swaplore(ternBench, ['lint', 'drivs'])).toMatchInlineSnapshot(`
      "! swaplore: The folder drivs cannot be read: nothing is there.
      exit 2"
    `);
  });
});

describe('a config that cannot be used', () => {
  it('unsupported version: says so, checks nothing else, exit 2', () => {
    const files = { 'swaplore.yaml': 'swaplore: 2\n', 'a.yaml': 'kind: drvie\n' };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "swaplore.yaml:1:11  error  config-invalid
        \`swaplore\` cannot be \`2\`; \`1\` is needed.

      .: 1 error, 0 warnings, 0 notes (not checked: its config cannot be used)
      exit 2"
    `);
  });

  it('no version', () => {
    expect(swaplore({ 'swaplore.yaml': 'name: Bench\n' }, ['lint'])).toMatchInlineSnapshot(`
      "swaplore.yaml:1:1  error  config-invalid
        The config has no \`swaplore\`; \`1\` is needed.

      .: 1 error, 0 warnings, 0 notes (not checked: its config cannot be used)
      exit 2"
    `);
  });

  it('broken syntax', () => {
    expect(swaplore({ 'swaplore.yaml': 'swaplore: 1\nignore: [a\n' }, ['lint'])).toMatchInlineSnapshot(`
      "swaplore.yaml:3:1  error  config-invalid
        This line is not indented far enough for the list, map or text it belongs to,
        or a bracket above it was never closed.

      .: 1 error, 0 warnings, 0 notes (not checked: its config cannot be used)
      exit 2"
    `);
  });

  it('nothing in it', () => {
    expect(swaplore({ 'swaplore.yaml': '' }, ['lint'])).toMatchInlineSnapshot(`
      "swaplore.yaml:1:1  error  config-invalid
        The config has no \`swaplore\`; the line \`swaplore: 1\` is needed.

      .: 1 error, 0 warnings, 0 notes (not checked: its config cannot be used)
      exit 2"
    `);
  });

  it('still checks the other bases', () => {
    const files = { 'a/swaplore.yaml': 'swaplore: 9\n', 'b/swaplore.yaml': 'swaplore: 1\n', 'b/wren.yaml': maker };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "a/swaplore.yaml:1:11  error  config-invalid
        \`swaplore\` cannot be \`9\`; \`1\` is needed.

      a: 1 error, 0 warnings, 0 notes (not checked: its config cannot be used)

      b: nothing found (2 files, 1 record)
      exit 2"
    `);
  });
});

describe('a config with a fault', () => {
  it('unknown key: exit 1, the rest is checked', () => {
    const files = { ...ternBench, 'swaplore.yaml': 'swaplore: 1\nverified_shares: 0.1\n' };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "swaplore.yaml:2:1  error  config-invalid
        Key \`verified_shares\` is not known; the nearest is \`verified_share\`.

      .: 1 error, 0 warnings, 0 notes (6 files, 6 records)
      exit 1"
    `);
  });

  it('unknown check id', () => {
    const files = { ...ternBench, 'swaplore.yaml': 'swaplore: 1\nseverity: {dangling-refrence: off}\n' };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "swaplore.yaml:2:12  error  config-invalid
        Key \`dangling-refrence\` is not known in \`severity\`; the nearest is
        \`dangling-reference\`.

      .: 1 error, 0 warnings, 0 notes (6 files, 6 records)
      exit 1"
    `);
  });

  it('a value that is not allowed falls back to its default', () => {
    const files = {
      ...ternBench,
      'swaplore.yaml': 'swaplore: 1\nseverity: {dangling-reference: loud}\n',
      'drives/new.yaml': 'kind: drive\nid: d-0119\nfamily: tern-3\n',
    };
    expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
      "drives/new.yaml:3:9  error  dangling-reference
        Family \`tern-3\` is not recorded in this base; the nearest is \`tern-2\`.
          Use \`tern-2\`, or record the family.

      swaplore.yaml:2:32  error  config-invalid
        \`dangling-reference\` cannot be \`loud\`; one of \`error\`, \`warning\`, \`info\`,
        \`off\` is needed.

      .: 2 errors, 0 warnings, 0 notes (7 files, 7 records)
      exit 1"
    `);
  });

  it('cannot silence faults of files', () => {
    const files = { 'swaplore.yaml': 'swaplore: 1\nseverity: {yaml-syntax: off}\n', 'a.yaml': 'kind: [\n' };
    const { code } = runCommand(folderOf(files), ['lint']);
    expect(code).toBe(1);
  });
});

it('gives the same output on every run', () => {
  const folder = folderOf({ ...ternBench, 'outcomes/left.yaml': outcome('left', 'left'), 'x.yaml': 'kind: [\n' });
  const once = transcript(runCommand(folder, ['lint']));
  expect(transcript(runCommand(folder, ['lint']))).toBe(once);
});
