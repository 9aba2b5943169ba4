import { writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { folderOf, runCommand, swaplore, transcript } from '../harness/run-cli.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

const nameless = 'kind: maker\nid: wren\n';

it('spaces and letters of any language stand as they are', () => {
  const files = {
    'shop floor/swaplore.yaml': 'swaplore: 1\n',
    'shop floor/Zaunkönig 鷦鷯/wren 1.yaml': nameless,
  };
  expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
    "shop floor/Zaunkönig 鷦鷯/wren 1.yaml:1:1  error  schema
      Maker \`wren\` has no \`name\`; text is needed.

    shop floor: 1 error, 0 warnings, 0 notes (2 files, 1 record)
    exit 1"
  `);
  expect(swaplore(files, ['lint', 'shop floor/Zaunkönig 鷦鷯'])).toBe(swaplore(files, ['lint']));
});

it('a line end in a name does not end the line', (context) => {
  if (process.platform === 'win32') return context.skip('Windows has no such names');
  const files = {
    ...ternBench,
    'swaplore.yaml': 'swaplore: 1\n',
    'two\nlines/left.yaml': outcome('left', 'left'),
  };
  expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
    "two\\u000alines/left.yaml:7:10  error  outcome-breaks-rule
      Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
      \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in
      \`rom_chip\`).
        Check the bench notes; correct the record, or give the rule an exception
        with its reason.
        see rules/tern.yaml:4:8 Rule \`tern-rom-travels\`.

    .: 1 error, 0 warnings, 0 notes (7 files, 7 records)
    exit 1"
  `);
  expect(swaplore(files, ['contradictions'])).toMatchInlineSnapshot(`
    "Outcomes against rules: .
    =========================

    Broken rules

    error: outcome/left (two\\u000alines/left.yaml)
      Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
      \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in
      \`rom_chip\`).
      Check the bench notes; correct the record, or give the rule an exception with
      its reason.

    Rules

    rule              support  against  undecided  excepted
    tern-rom-travels        1        1          0         0

    Support and against count outcomes that decide the claim. Undecided: a control,
    a value or the scope is not known. Excepted: set aside by the rule itself.
    Outcomes the claim says nothing about are not counted.
    exit 1"
  `);
});

it('a base without a name is shown by its folder, on one line', (context) => {
  if (process.platform === 'win32') return context.skip('Windows has no such names');
  const files = Object.fromEntries(
    Object.entries({ ...ternBench, 'swaplore.yaml': 'swaplore: 1\n' }).map(([path, text]) => [`a\nb/${path}`, text]),
  );
  expect(swaplore(files, ['lint', 'a\nb'])).toMatchInlineSnapshot(`
    "a\\u000ab: nothing found (6 files, 6 records)
    exit 0"
  `);
  expect(swaplore(files, ['contradictions', '--folder', 'a\nb'])).toMatchInlineSnapshot(`
    "Outcomes against rules: a\\u000ab
    ================================

    No recorded outcome breaks a rule.

    Rules

    rule              support  against  undecided  excepted
    tern-rom-travels        1        0          0         0

    Support and against count outcomes that decide the claim. Undecided: a control,
    a value or the scope is not known. Excepted: set aside by the rule itself.
    Outcomes the claim says nothing about are not counted.
    exit 0"
  `);
  expect(swaplore(files, ['lint', 'a\nc'])).toMatchInlineSnapshot(`
    "! swaplore: The folder a\\u000ac cannot be read: nothing is there.
    exit 2"
  `);
});

it('quotes, backslashes and options-to-be are names like any other', (context) => {
  if (process.platform === 'win32') return context.skip('Windows has no such names');
  const files = { '--format/swaplore.yaml': 'swaplore: 1\n', '--format/it\'s "a\\b".yaml': nameless };
  expect(swaplore(files, ['lint', '--', '--format'])).toMatchInlineSnapshot(`
    "--format/it's "a\\b".yaml:1:1  error  schema
      Maker \`wren\` has no \`name\`; text is needed.

    --format: 1 error, 0 warnings, 0 notes (2 files, 1 record)
    exit 1"
  `);
});

it('both endings count, in small letters', () => {
  const files = { 'swaplore.yaml': 'swaplore: 1\n', 'a.yml': nameless, 'b.YAML': nameless, 'c.yaml.bak': nameless };
  expect(swaplore(files, ['lint'])).toMatchInlineSnapshot(`
    "a.yml:1:1  error  schema
      Maker \`wren\` has no \`name\`; text is needed.

    .: 1 error, 0 warnings, 0 notes (2 files, 1 record)
    exit 1"
  `);
});

it('a name that is not UTF-8 is one finding', (context) => {
  if (process.platform !== 'linux') return context.skip('only Linux lets such a name be');
  const folder = folderOf({ 'swaplore.yaml': 'swaplore: 1\n' });
  writeFileSync(Buffer.concat([Buffer.from(`${folder}/w`), Buffer.of(0xff), Buffer.from('.yaml')]), nameless);
  expect(transcript(runCommand(folder, ['lint']))).toMatchInlineSnapshot(`
    "w�.yaml:1:1  error  file-unreadable
      The file cannot be read: nothing is there.

    .: 1 error, 0 warnings, 0 notes (2 files, 0 records)
    exit 1"
  `);
});

it('deep folders are walked to the end', () => {
  const deep = 'a/'.repeat(200);
  const { stdout, code } = runCommand(folderOf({ 'swaplore.yaml': 'swaplore: 1\n', [`${deep}w.yaml`]: nameless }), [
    'lint',
  ]);
  expect(code).toBe(1);
  expect(stdout).toContain(`${deep}w.yaml:1:1  error  schema`);
});
