import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { describe, expect, inject, it } from 'vitest';
import { folderOf, runCommand, swaplore } from '../harness/run-cli.ts';
import { ternBench } from '../harness/tern-bench.ts';

/** The sentence that lists the reports; a report tells its own part of it. */
const reportsListed = /Write pages for a browser: ([^.]*)\./;

describe('help', () => {
  it('of the program', () => {
    expect(swaplore({}, ['--help']).replace(reportsListed, 'Write pages for a browser: …')).toMatchInlineSnapshot(`
      "Usage: swaplore COMMAND [options]

      Checks a drive-repair bench’s records of board swaps, and says which of them
      break which rules. Powering a drive can cost data: where the data matters to
      anyone, leave it to a professional recovery lab.

        lint [folder…]      Run every check over the bases in or around the folders.
        contradictions      Show which outcomes, rules and claims do not agree, and
                            what would decide what is open.
        review --base REV   Show what a change of a base comes to, since it parted
                            from another revision of the git repository.
        odds                Show how often swaps of each family worked, and between
                            which bounds the true rate lies.
        donors PATIENT      Rank the boards on the shelf for a patient, by rules and
                            odds, after what its examination says.
        explain FAMILY      Show which conditions tell swaps of a family that worked
                            from those that failed, and how far to believe each.
        plan FAMILY         Show which swap of the shelf to try next, and what each
                            result would rule out.
        record [KIND]       Ask for one outcome (or drive), and write it into a new
                            file.
        import TABLE        Make records of a shop's own table (CSV), row by row, as a
                            map says. What is here already stays as it is.
        decode FILE…        Say what a drive reported: IDENTIFY DEVICE or SMART data,
                            VPD pages, JSON of smartctl or lsblk. \`-\` reads standard
                            input.
        capture DEVICE      Write what the system knows of a drive into a new file;
                            the drive itself is asked only if wanted.
        trace               Tell from captures before and after a swap which values
                            followed the platters and which the board: from files (raw
                            answers or capture files), or from those an outcome names.
        rom READ1 [READ2]   Compare two reads of a patient's ROM chip with each other,
                            with what is on the donor's chip and with the drive's
                            record. Exit code 1: do not write.
        report --out DIR    Write pages for a browser: …
        export --to FORMAT  Write records, verdicts, rule results, odds and findings
                            as tables for other programs. jsonl, csv and parquet make
                            a folder with one file a table, sqlite makes one file. The
                            table \`columns\` says what each column means.
        key NAME            Explain a key, by name or path (rev, drive.board.rev), or
                            list the keys of a map (drive, drive.board).
        check-id ID         Explain a check: what it looks for, why it matters, and an
                            example.
        init [folder]       Start a base: its config, an example of every kind of
                            record, and what editors and hosts of repositories need.
        serve               Run the language server, for any editor.

        --help     This page, or that of a command.
        --version  The version of swaplore.

      Exit code: 0 nothing at error level, 1 findings at error level or too many
      warnings, 2 could not run, 3 our own failure.
      exit 0"
    `);
    expect(swaplore({}, ['-h'])).toBe(swaplore({}, ['--help']));
  });

  it('of lint', () => {
    expect(swaplore({}, ['lint', '--help'])).toMatchInlineSnapshot(`
      "Usage: swaplore lint [folder…] [options]

      Run every check over the bases in or around the folders.

        --format FORMAT   One of text, json, sarif, github, gitlab, junit (default:
                          text).
        --max-warnings N  End with exit code 1 where there are more warnings than
                          this.
        --check ID        Run this check only; may be given several times.
        --quiet           Print errors only. All findings are still counted.
        --stats           Print numbers and times of the run to standard error.
        --today DATE      Take this date, such as 2026-03-14, for today (default: the
                          system's).
        --no-cache        Neither use nor keep what earlier runs have found out.
      exit 0"
    `);
  });

  it('of contradictions', () => {
    expect(swaplore({}, ['contradictions', '--help'])).toMatchInlineSnapshot(`
      "Usage: swaplore contradictions [options]

      Show which outcomes, rules and claims do not agree, and what would decide what
      is open.

        --folder DIR  The base to read (default: the nearest swaplore.yaml upward,
                      else the only one below).
        --today DATE  Take this date, such as 2026-03-14, for today (default: the
                      system's).
        --json        Print data instead of text.
        --no-cache    Neither use nor keep what earlier runs have found out.
      exit 0"
    `);
  });

  it('of report', () => {
    const help = swaplore({}, ['report', '--help']);
    const [, listed = ''] = reportsListed.exec(help) ?? [];
    expect(listed.replace(/\s+/g, ' ')).toMatch(
      /^the base at a glance, its outcomes against its rules, all findings,.* and each family$/,
    );
    expect(help.replace(reportsListed, 'Write pages for a browser: …')).toMatchInlineSnapshot(`
      "Usage: swaplore report --out DIR [options]

      Write pages for a browser: …

        --out DIR     The folder to write into. Only pages that this command wrote are
                      replaced.
        --folder DIR  The base to read (default: the nearest swaplore.yaml upward,
                      else the only one below).
        --today DATE  Take this date, such as 2026-03-14, for today (default: the
                      system's).
        --no-cache    Neither use nor keep what earlier runs have found out.
      exit 0"
    `);
  });

  it('of key', () => {
    expect(swaplore({}, ['key', '--help'])).toMatchInlineSnapshot(`
      "Usage: swaplore key NAME [options]

      Explain a key, by name or path (rev, drive.board.rev), or list the keys of a map
      (drive, drive.board).

        --json  Print data instead of text.
      exit 0"
    `);
  });

  it('of check-id', () => {
    expect(swaplore({}, ['check-id', '-h'])).toMatchInlineSnapshot(`
      "Usage: swaplore check-id ID [options]

      Explain a check: what it looks for, why it matters, and an example.

        --json  Print data instead of text.
      exit 0"
    `);
  });

  it('comes before anything else that was typed', () => {
    expect(swaplore({}, ['key', 'a', 'b', '--nope', '--help'])).toBe(swaplore({}, ['key', '--help']));
  });
});

it('prints its version', () => {
  expect(swaplore({}, ['--version'])).toBe(`${inject('version')}\nexit 0`);
});

describe('cannot run', () => {
  it('without a command, and shows on stderr what there is', () => {
    const { stdout, stderr, code } = runCommand(folderOf({}), []);
    expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
    expect(stderr).toBe(runCommand(folderOf({}), ['--help']).stdout);
  });

  it('an unknown command', () => {
    expect(swaplore({}, ['lnt'])).toMatchInlineSnapshot(`
      "! swaplore: Command \`lnt\` is not known; the nearest is \`lint\`.
      ! swaplore --help lists the commands.
      exit 2"
    `);
    expect(swaplore({}, ['--lint'])).toMatchInlineSnapshot(`
      "! swaplore: Command \`--lint\` is not known; the nearest is \`lint\`.
      ! swaplore --help lists the commands.
      exit 2"
    `);
    expect(swaplore({}, [''])).toMatchInlineSnapshot(`
      "! swaplore: Command \`\` is not known.
      ! swaplore --help lists the commands.
      exit 2"
    `);
  });

  it('an unknown option', () => {
    expect(swaplore(ternBench, ['lint', '--fromat', 'json'])).toMatchInlineSnapshot(`
      "! swaplore: Unknown option '--fromat'.
      ! swaplore lint --help lists the options.
      exit 2"
    `);
    expect(swaplore(ternBench, ['contradictions', '-x'])).toMatchInlineSnapshot(`
      "! swaplore: Unknown option '-x'.
      ! swaplore contradictions --help lists the options.
      exit 2"
    `);
  });

  it('an option without its value, or a switch with one', () => {
    expect(swaplore(ternBench, ['lint', '--format'])).toMatchInlineSnapshot(`
      "! swaplore: Option '--format <value>' argument missing.
      ! swaplore lint --help lists the options.
      exit 2"
    `);
    expect(swaplore(ternBench, ['lint', '--format', '--json'])).toMatchInlineSnapshot(`
      "! swaplore: Option '--format' argument is ambiguous.
      ! swaplore lint --help lists the options.
      exit 2"
    `);
    expect(swaplore(ternBench, ['contradictions', '--json=yes'])).toMatchInlineSnapshot(`
      "! swaplore: Option '--json' does not take an argument.
      ! swaplore contradictions --help lists the options.
      exit 2"
    `);
  });

  it('an unknown format', () => {
    expect(swaplore(ternBench, ['lint', '--format', 'xml'])).toMatchInlineSnapshot(`
      "! swaplore: Format \`xml\` is not known.
      ! Use one of text, json, sarif, github, gitlab, junit.
      exit 2"
    `);
    expect(swaplore(ternBench, ['lint', '--format', 'constructor'])).toMatchInlineSnapshot(`
      "! swaplore: Format \`constructor\` is not known.
      ! Use one of text, json, sarif, github, gitlab, junit.
      exit 2"
    `);
    expect(swaplore(ternBench, ['lint', '--format='])).toMatchInlineSnapshot(`
      "! swaplore: Format \`\` is not known.
      ! Use one of text, json, sarif, github, gitlab, junit.
      exit 2"
    `);
  });

  it('too many arguments, or too few', () => {
    expect(swaplore(ternBench, ['contradictions', 'drives'])).toMatchInlineSnapshot(`
      "! swaplore: contradictions takes no arguments, but 1 was given.
      ! swaplore contradictions --help lists the options.
      exit 2"
    `);
    expect(swaplore(ternBench, ['key', 'rev', 'id'])).toMatchInlineSnapshot(`
      "! swaplore: key takes NAME, but 2 were given.
      ! swaplore key --help lists the options.
      exit 2"
    `);
    expect(swaplore(ternBench, ['key'])).toMatchInlineSnapshot(`
      "! swaplore: key needs NAME.
      ! swaplore key --help lists the options.
      exit 2"
    `);
    expect(swaplore(ternBench, ['check-id'])).toMatchInlineSnapshot(`
      "! swaplore: check-id needs ID.
      ! swaplore check-id --help lists the options.
      exit 2"
    `);
  });
});

describe('an output that cannot be written', () => {
  it('a reader that stops early is no failure', async () => {
    const args = [inject('builtCommand'), 'key', 'outcome', '--json'];
    const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    child.stdout.destroy();
    let errors = '';
    child.stderr.on('data', (text) => {
      errors += text;
    });
    const [code] = await once(child, 'close');
    expect({ code, errors }).toEqual({ code: 0, errors: '' });
  });

  it('a full disk ends the run with exit code 2', (context) => {
    const words = '"$0" "$1" --help > /dev/full; echo "exit $?"';
    if (process.platform !== 'linux') return context.skip('/dev/full is not there');
    const shown = execFileSync('sh', ['-c', words, process.execPath, inject('builtCommand')], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    expect(shown).toBe('exit 2\n');
  });
});
