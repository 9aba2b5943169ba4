/**
 * Seventy-three faults as benches really make them, in two bases: each is found once, where it stands, and nothing else is. There are two
 * because a file that is no text may hold anything, so that nothing in its base is called missing.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runCli } from '../../server/src/cli/run-cli.ts';
import { checks } from '../../server/src/core/checks/registry.ts';
import { check } from '../harness/check.ts';
import { splitExpectations } from '../harness/expectations.ts';
import { readMarkedBase } from '../harness/marked-base.ts';

/** Checks that no bench's file makes fire: a crash of our own, a file nobody may open, and a condition that is a mathematician's puzzle. */
const beyondFiles = ['internal-check-failed', 'file-unreadable', 'not-decided'];

const fixtures = new URL('../fixtures/faults/', import.meta.url).pathname;

/** The bases, each with what is found about files that can carry no comment. */
const bases = {
  'old-laptop': {
    files: {
      ...readMarkedBase(join(fixtures, 'old-laptop')),
      'imports/everything.yaml': `kind: drive\nid: lap-5\nfamily: fennel\nnotes: |\n${'  row of a spreadsheet\n'.repeat(50_000)}`,
    },
    wholeFile: [
      'families.yaml: not-text: The file is not text: it is not UTF-8.',
      'imports/everything.yaml: file-too-large: The file has 1,150,046 bytes; at most 1,000,000 are read.',
    ],
  },
  saltmarket: { files: readMarkedBase(join(fixtures, 'saltmarket')), wholeFile: [] },
} as const;

const found = Object.fromEntries(
  await Promise.all(
    Object.entries(bases).map(async ([name, { files, wholeFile }]) => [name, await check(files, wholeFile)] as const),
  ),
);

const folder = mkdtempSync(join(tmpdir(), 'swaplore-faults-'));
afterAll(() => rmSync(folder, { recursive: true }));

describe('the base of seeded faults', () => {
  it('has seventy-three, each found once, and nothing besides', () => {
    // That each stands where its comment says has been compared by `check`.
    expect(Object.values(found).flat()).toHaveLength(73);
  });

  it('makes fifty-two checks fire, and not the three that no file can make fire', () => {
    const fired = new Set(Object.values(found).flatMap((findings) => findings.map((finding) => finding.check)));
    const quiet = checks.map(({ check: id }) => id).filter((id) => !fired.has(id));
    expect(fired.size).toBe(52);
    expect(quiet).toEqual(expect.arrayContaining(beyondFiles));
  });

  it('gives the same by the command', async () => {
    for (const [name, { files }] of Object.entries(bases)) {
      for (const [path, file] of Object.entries<string | Uint8Array>(files)) {
        const target = join(folder, name, path);
        mkdirSync(dirname(target), { recursive: true });
        writeFileSync(target, typeof file === 'string' ? splitExpectations(path, file).text : file);
      }
    }
    const { code, out } = await lint(folder);
    const { findings } = JSON.parse(out) as {
      findings: Record<'check' | 'severity' | 'file' | 'range' | 'message', unknown>[];
    };
    const brief = findings.map(({ check: id, severity, file, range, message }) => ({
      id,
      severity,
      file,
      range,
      message,
    }));
    const expected = Object.entries(found).flatMap(([name, list]) =>
      list.map(({ check: id, severity, file, range, message }) => ({
        id,
        severity,
        file: `${name}/${file}`,
        range,
        message,
      })),
    );
    expect(brief).toEqual(expected);
    expect(code).toBe(1);
  });
});

async function lint(cwd: string): Promise<{ readonly code: number; readonly out: string }> {
  let out = '';
  const terminal = {
    out: (text: string) => {
      out += text;
    },
    err: () => undefined,
    cwd,
    columns: 120,
    hasColour: false,
  };
  const code = await runCli(['lint', '--format', 'json', '--today', '2026-11-25'], terminal, { version: '0.0.0' });
  return { code, out };
}
