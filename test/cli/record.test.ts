import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, inject, it } from 'vitest';
import { recordedAnswers, recordedText } from '../harness/recorded-answers.ts';
import { folderOf, runCommand, swaplore, transcript } from '../harness/run-cli.ts';
import { ternBench } from '../harness/tern-bench.ts';
import { keys, Typist } from '../harness/typist.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const today = ['--today', '2026-04-02'];

const answers = {
  patient: 'd-0117',
  donor: 'd-0118',
  rom: ['chip_moved'],
  rom_proved: 'read_back',
  controls: { donor_on_own_board: 'works' },
  observed: { spins: true, detected: true, reads: true },
};

function withAnswers(given: unknown): string {
  return folderOf({ ...ternBench, 'answers.json': JSON.stringify(given) });
}

const from = ['record', '--from', 'answers.json', ...today];

describe('record, from answers', () => {
  it('writes an outcome that lints clean, with what follows from the answers', () => {
    const folder = withAnswers(answers);
    expect(transcript(runCommand(folder, from))).toMatchInlineSnapshot(`
      "outcomes/2026-04-02-tern-2-117-118.yaml written.
      exit 0"
    `);
    expect(readFileSync(join(folder, 'outcomes/2026-04-02-tern-2-117-118.yaml'), 'utf8')).toMatchInlineSnapshot(`
      "kind: outcome
      id: 2026-04-02-tern-2-117-118
      date: 2026-04-02
      patient: d-0117
      donor: d-0118
      rom: chip_moved
      rom_proved: read_back
      controls: { donor_on_own_board: works }
      observed: { spins: true, detected: true, reads: true }
      reached: reads
      result: works
      "
    `);
    expect(runCommand(folder, ['lint', ...today]).code).toBe(0);
  });

  it('never overwrites: the same again goes into another file', () => {
    const folder = withAnswers(answers);
    runCommand(folder, from);
    runCommand(folder, from);
    expect(readdirSync(join(folder, 'outcomes')).sort()).toEqual([
      '2026-04-02-tern-2-117-118-2.yaml',
      '2026-04-02-tern-2-117-118.yaml',
      'moved.yaml',
    ]);
  });

  it('goes on with another id where a file is there that is none of the base', () => {
    const folder = withAnswers(answers);
    writeFileSync(join(folder, 'swaplore.yaml'), 'swaplore: 1\nignore: ["outcomes/2026-04-02-tern-2-117-118.yaml"]\n');
    writeFileSync(join(folder, 'outcomes/2026-04-02-tern-2-117-118.yaml'), 'mine\n');
    runCommand(folder, from);
    expect(readFileSync(join(folder, 'outcomes/2026-04-02-tern-2-117-118.yaml'), 'utf8')).toBe('mine\n');
    expect(readdirSync(join(folder, 'outcomes'))).toContain('2026-04-02-tern-2-117-118-2.yaml');
  });

  it('shows what is found in the new record', () => {
    const run = runCommand(withAnswers({ ...answers, rom: 'left', rom_proved: null, reached: null }), from);
    expect(transcript(run)).toMatchInlineSnapshot(`
      "outcomes/2026-04-02-tern-2-117-118.yaml written.

      outcomes/2026-04-02-tern-2-117-118.yaml:1:1  error  schema
        Outcome \`2026-04-02-tern-2-117-118\` has no \`reached\`; one of \`nothing\`,
        \`spins\`, \`ready\`, \`detected\`, \`reads\`, \`verified\` is needed.

      outcomes/2026-04-02-tern-2-117-118.yaml:1:1  error  schema
        Outcome \`2026-04-02-tern-2-117-118\` has no \`result\`; one of \`works\`, \`fails\`,
        \`inconclusive\` is needed.
      ! swaplore: Left out, since nothing asks for it after the other answers: \`rom_proved\`.
      exit 1"
    `);
  });

  it('writes a drive', () => {
    const given = {
      model: 'TN2-1000',
      family: 'tern-2',
      serial: '****4F2K',
      examined: [{ on: '2026-04-01', contacts: 'clean' }],
    };
    const folder = withAnswers(given);
    expect(transcript(runCommand(folder, ['record', 'drive', ...from.slice(1)]))).toMatchInlineSnapshot(`
      "drives/d-0119.yaml written.
      exit 0"
    `);
    expect(readFileSync(join(folder, 'drives/d-0119.yaml'), 'utf8')).toMatchInlineSnapshot(`
      "kind: drive
      id: d-0119
      family: tern-2
      model: TN2-1000
      serial: "****4F2K"
      examined:
        - { on: 2026-04-01, contacts: clean }
      "
    `);
  });

  it.each([
    ['a key nobody asks for', { patent: 'd-0117' }],
    ['a drive nobody recorded', { patient: 'd-0177' }],
    ['one drive for both', { ...answers, donor: 'd-0117' }],
    ['a value no schema allows', { ...answers, rom: 'chip_move' }],
    ['a date that does not exist', { ...answers, date: '2026-02-30' }],
    ['something else than answers', ['d-0117']],
    ['keys that mean something to programs', JSON.parse('{"__proto__": {"patient": "d-0117"}}')],
  ])('refuses %s', (_, given) => {
    const folder = withAnswers(given);
    expect(transcript(runCommand(folder, from))).toMatchSnapshot();
    expect(readdirSync(join(folder, 'outcomes'))).toEqual(['moved.yaml']);
  });

  it('refuses a revision that its board does not list', () => {
    const board = 'kind: board\nid: kestrel\nmaker: wren\npart_number: K-1\nrevisions: [{rev: A1}, {rev: B1}]\n';
    const given = JSON.stringify({ board: { id: 'kestrel', rev: 'A2' } });
    const folder = folderOf({ ...ternBench, 'boards/kestrel.yaml': board, 'answers.json': given });
    expect(transcript(runCommand(folder, ['record', 'drive', ...from.slice(1)]))).toMatchInlineSnapshot(`
      "! swaplore: \`rev\`: \`A2\` is not recorded in this base.
      ! Which revision of it?
      exit 2"
    `);
  });

  it('says what it left out', () => {
    const given = { ...answers, observed: { spins: true, detected: false, content: 'noise' } };
    expect(runCommand(withAnswers(given), from).stderr).toMatchInlineSnapshot(`
      "swaplore: Left out, since nothing asks for it after the other answers: \`observed.content\`.
      "
    `);
  });

  it('leaves nothing behind where it may not write', ({ skip }) => {
    skip(process.getuid?.() !== 0, 'only root can run the command as another user');
    const folder = withAnswers(answers);
    const run = runCommand(folder, from, { user: 65534 });
    expect(transcript(run)).toMatchInlineSnapshot(`
      "! swaplore: outcomes/2026-04-02-tern-2-117-118.yaml cannot be written: permission denied.
      ! Nothing was written, and no answer is lost.
      exit 2"
    `);
    expect(readdirSync(join(folder, 'outcomes'))).toEqual(['moved.yaml']);
  });

  it('asks nobody where there is no terminal', () => {
    expect(swaplore(ternBench, ['record'])).toMatchInlineSnapshot(`
      "! swaplore: Nobody can be asked here, for this is no terminal.
      ! Give the answers with --from FILE.
      exit 2"
    `);
    expect(swaplore(ternBench, ['record', 'swap'])).toMatchInlineSnapshot(`
      "! swaplore: swap is nothing that is asked for.
      ! Name one of outcome, drive.
      exit 2"
    `);
  });
});

describe('record, in a terminal', () => {
  it('goes back, stops, and goes on later where it was', async () => {
    const folder = folderOf(ternBench);
    const env = { XDG_STATE_HOME: folderOf({}) };
    const first = Typist.run(folder, ['record', ...today], env);
    await first.see('On which day was the assembly tried?');
    first.type(keys.enter);
    await first.see('Which drive gives the head-disk assembly?');
    first.type(keys.down, keys.enter);
    await first.see('Which drive or loose board gives the board?');
    // Back to the patient, and on again.
    first.type(keys.up, keys.enter);
    await first.see('Which drive gives the head-disk assembly?');
    first.type(keys.down, keys.enter);
    await first.see('Which drive or loose board gives the board?');
    first.type(keys.down, keys.enter);
    await first.see('Was it a trial');
    first.type(keys.escape);
    await first.see('The answers are kept');
    expect(await first.end()).toBe(2);
    expect(readdirSync(join(folder, 'outcomes'))).toEqual(['moved.yaml']);

    const second = Typist.run(folder, ['record', ...today], env);
    await second.see('go on with it');
    second.type(keys.enter);
    await second.see('Was it a trial');
    second.type(keys.escape);
    expect(await second.end()).toBe(2);
  });

  it('asks what editors ask, in the same words, and writes a record that lints clean', async () => {
    const folder = folderOf({});
    cpSync(join(root, 'knowledge'), folder, { recursive: true });
    const typist = Typist.run(folder, ['record', ...today], { XDG_STATE_HOME: folderOf({}) });
    for (const [asks, given] of recordedAnswers) {
      await typist.see(asks);
      await typist.give(given);
    }
    await typist.see('written.');
    expect(await typist.end()).toBe(0);
    const text = readFileSync(join(folder, 'outcomes/2026-04-02-tansy-311-312.yaml'), 'utf8');
    expect(text).toBe(`kind: outcome\nid: 2026-04-02-tansy-311-312\ndate: 2026-04-02\n${recordedText}`);
    expect(runCommand(folder, ['lint', '--max-warnings', '0', ...today]).code).toBe(0);
  });

  it('hands the answers over where they can be kept nowhere', async () => {
    const folder = folderOf({ ...ternBench, state: 'a file where the folder would be' });
    const typist = Typist.run(folder, ['record', ...today], { XDG_STATE_HOME: join(folder, 'state') });
    await typist.see('On which day');
    typist.type(keys.enter);
    await typist.see('Which drive gives the head-disk assembly?');
    typist.type(keys.escape);
    await typist.see('These are they, for --from:');
    await typist.see('"date": "2026-04-02"');
    expect(await typist.end()).toBe(2);
  });

  it('begins anew where that is chosen', async () => {
    const folder = folderOf(ternBench);
    const env = { XDG_STATE_HOME: folderOf({}) };
    const first = Typist.run(folder, ['record', ...today], env);
    await first.see('On which day');
    first.type(keys.enter);
    await first.see('Which drive gives the head-disk assembly?');
    first.type(keys.escape);
    await first.end();
    const second = Typist.run(folder, ['record', ...today], env);
    await second.see('go on with it');
    second.type(keys.down, keys.enter);
    await second.see('On which day was the assembly tried?');
    second.type(keys.escape);
    expect(await second.end()).toBe(2);
  });
});

describe('two records at once', () => {
  it('do not collide', async () => {
    const folder = withAnswers(answers);
    const runs = Array.from({ length: 4 }, () => startCommand(folder, from));
    expect(await Promise.all(runs)).toEqual([0, 0, 0, 0]);
    const texts = readdirSync(join(folder, 'outcomes'))
      .filter((name) => name.startsWith('2026'))
      .map((name) => readFileSync(join(folder, 'outcomes', name), 'utf8'));
    expect(new Set(texts.map((text) => text.split('\n')[1])).size).toBe(4);
    expect(runCommand(folder, ['lint', ...today]).code).toBe(0);
  });
});

/** Starts the built command, and gives its exit code once it has ended. */
async function startCommand(folder: string, args: readonly string[]): Promise<number> {
  const child = spawn(process.execPath, [inject('builtCommand'), ...args], {
    cwd: folder,
    env: { PATH: process.env['PATH'], XDG_CACHE_HOME: inject('cacheHome') },
    stdio: 'ignore',
  });
  const [code] = (await once(child, 'exit')) as [number];
  return code;
}
