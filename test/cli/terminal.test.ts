import { describe, expect, it } from 'vitest';
import { folderOf, type Run, runCommand, runOnTerminal } from '../harness/run-cli.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

const files = { ...ternBench, 'outcomes/left.yaml': outcome('left', 'left') };
const noScript = 'there is no `script` of util-linux to lend a terminal';

/** The text with its styles readable: `<1>` for bold, `<22>` for its end. */
function readable({ stdout, code }: Run): string {
  return `${stdout.replaceAll('\u001b[', '<').replace(/(<\d+)m/g, '$1>')}exit ${code}`;
}

describe('colour', () => {
  it('is shown on a terminal', (context) => {
    const run = runOnTerminal(folderOf(files), ['lint']);
    if (!run) return context.skip(noScript);
    expect(readable(run)).toMatchInlineSnapshot(`
      "outcomes/left.yaml:7:10  <31>error<39>  outcome-breaks-rule
        Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
        \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in
        \`rom_chip\`).
          Check the bench notes; correct the record, or give the rule an exception
          with its reason.
      <2>    see rules/tern.yaml:4:8 Rule \`tern-rom-travels\`.<22>

      <1>Harbour Street bench: 1 error, 0 warnings, 0 notes<22> (7 files, 7 records)
      exit 1"
    `);
  });

  it('decorates reports without escapes becoming visible', (context) => {
    const run = runOnTerminal(folderOf(files), ['contradictions']);
    if (!run) return context.skip(noScript);
    expect(readable(run)).toMatchInlineSnapshot(`
      "<1>Outcomes against rules: Harbour Street bench
      ============================================<22>

      <1>Broken rules<22>

      <1>error: outcome/left (outcomes/left.yaml)<22>
        Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
        \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in
        \`rom_chip\`).
        Check the bench notes; correct the record, or give the rule an exception with
        its reason.

      <1>Rules<22>

      rule              support  against  undecided  excepted
      tern-rom-travels        1        1          0         0

      Support and against count outcomes that decide the claim. Undecided: a control,
      a value or the scope is not known. Excepted: set aside by the rule itself.
      Outcomes the claim says nothing about are not counted.
      exit 1"
    `);
  });

  it('is not shown where NO_COLOR is set', (context) => {
    const folder = folderOf(files);
    const run = runOnTerminal(folder, ['lint'], { env: { NO_COLOR: '1' } });
    if (!run) return context.skip(noScript);
    expect(run).toEqual(runCommand(folder, ['lint']));
  });

  it('is shown where NO_COLOR is empty, as no-color.org asks', (context) => {
    const run = runOnTerminal(folderOf(files), ['lint'], { env: { NO_COLOR: '' } });
    if (!run) return context.skip(noScript);
    expect(run.stdout).toContain('\u001b[31m');
  });

  it('is never part of JSON', (context) => {
    const folder = folderOf(files);
    const run = runOnTerminal(folder, ['lint', '--format', 'json']);
    if (!run) return context.skip(noScript);
    expect(run).toEqual(runCommand(folder, ['lint', '--format', 'json']));
  });

  it('is not shown off a terminal', () => {
    for (const args of [['lint'], ['contradictions'], ['key', 'rev'], ['check-id', 'schema'], ['--help']]) {
      expect(runCommand(folderOf(files), args).stdout).not.toContain('\u001b');
    }
  });
});

describe('what could act on a terminal', () => {
  /** Clears the screen, rings, goes left, turns the direction of writing, ends the line in six ways. */
  const hostile = '\\e[2J\\a\\b\\x7f\\x9b31m\\u202e\\u2066\\u200f\\r\\n\\u0085\\u2028\\u2029x';
  const raw = /[^\P{Cc}\n]|[\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/u;
  const infested = {
    'swaplore.yaml': `swaplore: 1\nname: "Bench ${hostile}"\n`,
    'makers/wren.yaml': `kind: maker\nid: wren\nname: Wren\n"${hostile}": 1\n`,
    'families/tern.yaml': `kind: family\nid: tern-2\nmaker: "wren${hostile}"\nname: Tern 2\nadaptives: {stored_in: rom_chip}\n`,
    'drives/tern.yaml': ternBench['drives/tern.yaml'].replaceAll(
      'family: tern-2',
      `family: tern-2\nfirmware: "0${hostile}"`,
    ),
    'rules/tern.yaml': ternBench['rules/tern.yaml'].replace(
      'when: {rom_travels: true}',
      `when: {donor: {firmware: "1${hostile}"}}`,
    ),
    'outcomes/left.yaml': outcome('left', 'left'),
    'outcomes/values.yaml': outcome('values', `"${hostile}"`),
  };

  const escapes = '\u001b[2J\u202e\n';

  it.each([
    [['lint']],
    [['lint', '--format', 'json']],
    [['contradictions']],
    [['contradictions', '--json']],
    [['key', escapes]],
    [['check-id', escapes]],
    [[escapes]],
    [['lint', `--${escapes}`]],
    [['lint', escapes]],
    [['lint', '--format', escapes]],
    [['contradictions', '--folder', escapes]],
  ])('never comes out of %j', (args) => {
    const { stdout, stderr } = runCommand(folderOf(infested), args);
    expect(`${stdout}${stderr}`).not.toBe('');
    expect(stdout).not.toMatch(raw);
    expect(stderr).not.toMatch(raw);
  });

  it('is shown as escapes, on the line where it belongs', () => {
    const { stdout, code } = runCommand(folderOf(infested), ['lint']);
    expect(`${stdout}exit ${code}`).toMatchInlineSnapshot(`
      "families/tern.yaml:3:8  error  schema
        \`maker\` cannot be
        \`"wren\\e[2J\\a\\b\\x7f\\x9b31m\\u202e\\u2066\\u200f\\r\\n\\u0085\\u20...\`; the id of a
        maker such as \`northmere\` is needed.

      makers/wren.yaml:4:1  error  unknown-key
        Maker \`wren\` has the key
        \`\\u001b[2J\\u0007\\u0008\\u007f\\u009b31m\\u202e\\u2066\\u200f\\u000d\\u000a\\u0085\\u2028\\u2029x\`,
        which is not known; known there are \`kind\`, \`id\`, \`name\`, \`ouis\`, \`date_code\`,
        \`label\`, \`notes\`, \`sources\`, \`photos\`, \`retracted\`.

      outcomes/left.yaml:7:10  error  outcome-breaks-rule
        Outcome \`left\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
        \`donor: {firmware:
        1\\u001b[2J\\u0007\\u0008\\u007f\\u009b31m\\u202e\\u2066\\u200f\\u000d\\u000a\\u0085\\u2028\\u2029x}\`:
        \`firmware\` is
        \`0\\u001b[2J\\u0007\\u0008\\u007f\\u009b31m\\u202e\\u2066\\u200f\\u000d\\u000a\\u0085\\u2028\\u2029x\`
        on donor \`d-0118\`.
          Check the bench notes; correct the record, or give the rule an exception
          with its reason.
          see rules/tern.yaml:4:8 Rule \`tern-rom-travels\`.

      outcomes/values.yaml:6:6  error  schema
        \`rom\` cannot be
        \`"\\e[2J\\a\\b\\x7f\\x9b31m\\u202e\\u2066\\u200f\\r\\n\\u0085\\u2028\\u...\`; one of \`left\`,
        \`chip_moved\`, \`image_written\`, \`controller_moved\`, \`not_fitted\`, or a list of
        such, is needed.

      outcomes/values.yaml:7:10  error  outcome-breaks-rule
        Outcome \`values\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs
        \`donor: {firmware:
        1\\u001b[2J\\u0007\\u0008\\u007f\\u009b31m\\u202e\\u2066\\u200f\\u000d\\u000a\\u0085\\u2028\\u2029x}\`:
        \`firmware\` is
        \`0\\u001b[2J\\u0007\\u0008\\u007f\\u009b31m\\u202e\\u2066\\u200f\\u000d\\u000a\\u0085\\u2028\\u2029x\`
        on donor \`d-0118\`.
          Check the bench notes; correct the record, or give the rule an exception
          with its reason.
          see rules/tern.yaml:4:8 Rule \`tern-rom-travels\`.

      Bench \\u001b[2J\\u0007\\u0008\\u007f\\u009b31m\\u202e\\u2066\\u200f\\u000d\\u000a\\u0085\\u2028\\u2029x: 5 errors, 0 warnings, 0 notes (7 files, 7 records)
      exit 1"
    `);
  });

  it('means the same in JSON as before', () => {
    const { stdout } = runCommand(folderOf(infested), ['lint', '--format', 'json']);
    expect(JSON.parse(stdout).bases[0].name).toBe(
      'Bench \u001b[2J\u0007\b\u007f\u009b31m\u202e\u2066\u200f\r\n\u0085\u2028\u2029x',
    );
  });
});
