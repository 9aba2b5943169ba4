import { expect, it } from 'vitest';
import { keyNodes } from '../../schemas/gen/key-table.ts';
import { folderOf, runCommand, runInside, swaplore } from '../harness/run-cli.ts';

it('explains a key wherever it stands, by its bare name', () => {
  expect(swaplore({}, ['key', 'rev'])).toMatchInlineSnapshot(`
    "board.revisions.rev: Revision (required)
      What: Revision mark as it stands on the board.
      Where: Directly behind the part number, or boxed in a corner near a screw
      hole.
      Why: Drives name their board by this mark and rules compare it. Quote a mark
      that is digits only, such as "02".
      Read from: board
      Example: "A" or "B2"

    drive.board.rev: Revision
      What: The revision of the board, spelt as its board record lists it.
      Where: Right after the part number on the bare board, or near an edge after
      \`REV\`.
      Why: Under one part number a revision can bring another controller, motor
      driver or ROM package. That one stands in for another is a claim of the board
      record, which outcomes have to bear out.
      Read from: board
      Compared as: rev
      Example: "B2"
    exit 0"
  `);
});

it('explains one key by its path', () => {
  expect(swaplore({}, ['key', 'drive.board.rev'])).toMatchInlineSnapshot(`
    "drive.board.rev: Revision
      What: The revision of the board, spelt as its board record lists it.
      Where: Right after the part number on the bare board, or near an edge after
      \`REV\`.
      Why: Under one part number a revision can bring another controller, motor
      driver or ROM package. That one stands in for another is a claim of the board
      record, which outcomes have to bear out.
      Read from: board
      Compared as: rev
      Example: "B2"
    exit 0"
  `);
});

it('lists the keys of a kind, of a map in it, and of the config', () => {
  for (const node of ['drive', 'drive.board', 'config']) {
    const { stdout, stderr, code } = runCommand(folderOf({}), ['key', node]);
    const listed = stdout.split('\n').filter((line) => /^\S/.test(line));
    expect(listed).toEqual(keyNodes[node]?.map((row) => (row.required ? `${row.name} (required)` : row.name)));
    expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  }
});

it('gives the same as data', () => {
  const { stdout, stderr, code } = runCommand(folderOf({}), ['key', 'drive.board.rev', '--json']);
  const row = keyNodes['drive.board']?.find((candidate) => candidate.name === 'rev');
  expect(JSON.parse(stdout)).toEqual([{ in: 'drive.board', ...JSON.parse(JSON.stringify(row)) }]);
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
});

it('knows every key by its path', async () => {
  const paths = Object.entries(keyNodes).flatMap(([node, rows]) => rows.map((row) => `${node}.${row.name}`));
  for (const path of paths) {
    const { stdout, stderr, code } = await runInside('/', ['key', path]);
    const [first = ''] = stdout.split('\n', 1);
    const listed = keyNodes[path]?.[0]?.name;
    expect(first.startsWith(listed ?? `${path}: `)).toBe(true);
    expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  }
});

it('cannot run for a name it does not know', () => {
  expect(swaplore({}, ['key', 'revv'])).toMatchInlineSnapshot(`
    "! swaplore: Key \`revv\` is not known; the nearest is \`rev\`.
    ! swaplore key drive lists the keys of a drive.
    exit 2"
  `);
  expect(swaplore({}, ['key', 'drive.bord'])).toMatchInlineSnapshot(`
    "! swaplore: Key \`drive.bord\` is not known; the nearest is \`drive.board\`.
    ! swaplore key drive lists the keys of a drive.
    exit 2"
  `);
  expect(swaplore({}, ['key', 'zeppelin'])).toMatchInlineSnapshot(`
    "! swaplore: Key \`zeppelin\` is not known.
    ! swaplore key drive lists the keys of a drive.
    exit 2"
  `);
});

it.each(['constructor', '__proto__', 'toString', 'drive.__proto__', 'constructor.name', '', '.', '..'])(
  'takes no word of JavaScript for a key: "%s"',
  async (name) => {
    const { stdout, stderr, code } = await runInside('/', ['key', name]);
    expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
    expect(stderr).toContain(`swaplore: Key \`${name}\` is not known`);
  },
);
