import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { keyNodes } from '../../schemas/gen/key-table.ts';
import { exportTables } from '../../server/src/core/exporting/export-tables.ts';
import type { LibraryFormats } from '../../server/src/host/disk/export-files.ts';
import { folderOf, runCommand, runInside, transcript } from '../harness/run-cli.ts';
import { ternBench } from '../harness/tern-bench.ts';

const day = ['--today', '2026-11-25'];

describe('swaplore export', () => {
  it('writes a file a table and says how many rows each has', () => {
    const folder = folderOf(ternBench);
    const counts = transcript(runCommand(folder, ['export', '--to', 'csv', '--out', 'out', ...day]));
    // A row each of the columns of all other tables, of which every key adds some.
    const columns = exportTables(keyNodes).reduce(
      (sum, table) => sum + (table.name === 'columns' ? 0 : table.columns.length),
      0,
    );
    expect(columns).toBeGreaterThan(300);
    expect(counts.replace(new RegExp(`(?<=columns  +)${columns}\\b`), 'all')).toMatchInlineSnapshot(`
      "21 tables written to out, with rows:
        base                          1
        makers                        1
        maker_date_code               0
        maker_label                   0
        families                      1
        boards                        0
        board_revisions               0
        board_revisions_roms          0
        drives                        2
        drive_examined                0
        outcomes                      1
        outcome_identity              0
        outcome_verify                0
        rules                         1
        rule_exceptions               0
        verdicts                      6
        verdict_missing              18
        rule_results                  1
        odds                          3
        findings                      0
        columns                     all
      exit 0"
    `);
    expect(readFileSync(join(folder, 'out/verdicts.csv'), 'utf8')).toMatchInlineSnapshot(`
      "outcome,stage,result,is_eligible
      moved,nothing,works,false
      moved,spins,works,false
      moved,ready,works,false
      moved,detected,works,false
      moved,reads,works,false
      moved,verified,inconclusive,false
      "
    `);
  });

  it('prints the same as data', () => {
    const folder = folderOf(ternBench);
    const run = runCommand(folder, ['export', '--to', 'sqlite', '--out', 'new/bench.sqlite', '--json', ...day]);
    const { tables, ...rest } = JSON.parse(run.stdout);
    expect(rest).toEqual({ to: 'sqlite', out: 'new/bench.sqlite' });
    expect(tables).toContainEqual({ name: 'drives', rows: 2 });
    expect(readdirSync(join(folder, 'new'))).toEqual(['bench.sqlite']);
  });

  it('holds lists as they are in JSON lines, and null for what is not known', () => {
    const folder = folderOf(ternBench);
    runCommand(folder, ['export', '--to', 'jsonl', '--out', 'out', ...day]);
    const [line = ''] = readFileSync(join(folder, 'out/outcomes.jsonl'), 'utf8').split('\n');
    expect(JSON.parse(line)).toMatchObject({ rom: ['chip_moved'], rom_travels: true, patient_heads: null });
  });

  it('covers serial numbers that a base should have masked, and leaves them where it keeps them', () => {
    const drive = 'kind: drive\nid: d-0300\nfamily: tern-2\nserial: WRN0A4F2K\nnotes: Sticker says wrn0a4f2k.\n';
    const shown = ['masked', 'full'].map((serials) => {
      const folder = folderOf({
        ...ternBench,
        'swaplore.yaml': `swaplore: 1\nserials: ${serials}\n`,
        'new.yaml': drive,
      });
      runCommand(folder, ['export', '--to', 'jsonl', '--out', 'out', ...day]);
      const lines = readFileSync(join(folder, 'out/drives.jsonl'), 'utf8').trimEnd().split('\n');
      const { serial, notes } = JSON.parse(lines.at(-1) ?? '');
      return { serial, notes };
    });
    expect(shown).toEqual([
      { serial: '****4F2K', notes: 'Sticker says ****4F2K.' },
      { serial: 'WRN0A4F2K', notes: 'Sticker says wrn0a4f2k.' },
    ]);
  });

  it('writes the same bytes again', () => {
    const folder = folderOf(ternBench);
    for (const format of ['parquet', 'sqlite']) {
      const [first, again] = ['a', 'b'].map((name) => {
        const out = `${format}-${name}`;
        runCommand(folder, ['export', '--to', format, '--out', out, ...day]);
        const path = join(folder, out);
        const files = statSync(path).isDirectory() ? readdirSync(path).map((file) => join(path, file)) : [path];
        return files.map((file) => readFileSync(file).toString('base64'));
      });
      expect(again).toEqual(first);
    }
  });
});

describe('leaves alone what is there already', () => {
  it.each([
    ['a file', (path: string) => writeFileSync(path, 'mine')],
    ['an empty folder', (path: string) => mkdirSync(path)],
    ['a link that leads nowhere', (path: string) => symlinkSync('nowhere', path)],
  ])('%s', (_, put) => {
    for (const format of ['csv', 'sqlite']) {
      const folder = folderOf(ternBench);
      const before = readdirSync(folder);
      put(join(folder, 'out'));
      expect(transcript(runCommand(folder, ['export', '--to', format, '--out', 'out']))).toBe(
        '! swaplore: out is there already, so nothing was written.\n! Name another place, or move what stands there.\nexit 2',
      );
      expect(readdirSync(folder).sort()).toEqual([...before, 'out'].sort());
    }
  });

  it('what came while it was written', async () => {
    const folder = folderOf(ternBench);
    const loadFormats = (): LibraryFormats => ({
      writeParquet: (path) => {
        writeFileSync(path, '');
        mkdirSync(join(folder, 'out'), { recursive: true });
      },
      writeSqlite: async (path) => {
        writeFileSync(path, '');
        writeFileSync(join(folder, 'out.sqlite'), 'mine');
      },
    });
    for (const [format, out] of [
      ['parquet', 'out'],
      ['sqlite', 'out.sqlite'],
    ] as const) {
      const args = ['export', '--to', format, '--out', out];
      expect(transcript(await runInside(folder, args, {}, { version: '0.0.0', loadFormats }))).toContain('exit 2');
    }
    expect(readdirSync(join(folder, 'out'))).toEqual([]);
    expect(readFileSync(join(folder, 'out.sqlite'), 'utf8')).toBe('mine');
    expect(readdirSync(folder).filter((name) => name.endsWith('.tmp'))).toEqual([]);
  });
});

describe('says why it cannot write, and leaves nothing', () => {
  it('on a disk that is full', async () => {
    const folder = folderOf(ternBench);
    const before = readdirSync(folder);
    const full = () => {
      throw Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC', syscall: 'write' });
    };
    const loadFormats = (): LibraryFormats => ({
      writeParquet: (path, { table }) => (table.name === 'outcomes' ? full() : writeFileSync(path, '')),
      writeSqlite: async (path) => {
        writeFileSync(path, 'half');
        full();
      },
    });
    for (const format of ['parquet', 'sqlite']) {
      const run = await runInside(
        folder,
        ['export', '--to', format, '--out', 'out'],
        {},
        { version: '0.0.0', loadFormats },
      );
      expect(transcript(run)).toBe(
        '! swaplore: out cannot be written: no space is left on the disk.\n! Nothing was left there.\nexit 2',
      );
      expect(readdirSync(folder)).toEqual(before);
    }
  });

  it('in a folder that somebody else may write to', (context) => {
    if (process.getuid?.() !== 0) return context.skip('only root can become another user');
    const folder = folderOf(ternBench);
    for (const format of ['parquet', 'sqlite']) {
      expect(
        transcript(runCommand(folder, ['export', '--to', format, '--out', 'out', '--no-cache'], { user: 65534 })),
      ).toBe('! swaplore: out cannot be written: permission denied.\n! Nothing was left there.\nexit 2');
    }
    expect(existsSync(join(folder, 'out'))).toBe(false);
  });

  it('below a file', () => {
    const folder = folderOf(ternBench);
    expect(
      transcript(runCommand(folder, ['export', '--to', 'csv', '--out', 'swaplore.yaml/out'])),
    ).toMatchInlineSnapshot(`
      "! swaplore: swaplore.yaml/out cannot be written: a part of its path is no folder.
      exit 2"
    `);
  });
});

it.each([[[]], [['--to', 'xlsx', '--out', 'out']], [['--to', 'csv']]])('says what it needs: %j', (args) => {
  expect(transcript(runCommand(folderOf(ternBench), ['export', ...args]))).toMatchSnapshot();
});
