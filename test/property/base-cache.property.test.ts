import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import fc from 'fast-check';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { runCli } from '../../server/src/cli/run-cli.ts';
import type { FileFacts } from '../../server/src/core/model/file-facts.ts';
import { FactsPack } from '../../server/src/host/disk/facts-pack.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { arbitraryFileWalk, editedPaths, withoutConfig } from '../harness/arbitrary-walk.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { drained } from '../harness/drained.ts';
import { fileOf } from '../harness/snapshot-of.ts';

const folder = mkdtempSync(join(tmpdir(), 'swaplore-cache-law-'));
afterAll(() => rmSync(folder, { recursive: true }));

let count = 0;

/** A folder of its own for each sample. */
function freshFolder(): string {
  const path = join(folder, String(count++));
  mkdirSync(path);
  return path;
}

type Texts = Readonly<Record<string, string>>;

/** Facts by content id, a few to a segment. */
const arbitrarySegments: fc.Arbitrary<ReadonlyMap<string, FileFacts>[]> = fc
  .array(arbitraryFaultyFiles, { minLength: 1, maxLength: 3 })
  .map((bases) =>
    bases.map((files) => {
      const all = Object.entries(withoutConfig(files)).map(([path, text]) => fileOf(path, text));
      return new Map(all.map(({ contentId, facts }) => [contentId, facts]));
    }),
  );

function writePack(segments: readonly ReadonlyMap<string, FileFacts>[]): {
  readonly path: string;
  readonly pack: FactsPack;
} {
  const path = join(freshFolder(), 'facts');
  const pack = new FactsPack(path, 'a');
  for (const segment of segments)
    pack.append(JSON.stringify({ ids: [...segment.keys()], facts: [...segment.values()] }));
  return { path, pack };
}

describe('pack of facts', () => {
  it('a pack gives back the facts that went in', () => {
    assertLaw(
      20,
      fc.property(arbitrarySegments, (segments) => {
        expect(drained(writePack(segments).pack.read())).toEqual(new Map(segments.flatMap((segment) => [...segment])));
      }),
    );
  });

  it('a pack damaged anywhere gives right facts or none', () => {
    const arbitraryHarm = fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      byte: fc.nat(255),
      isCut: fc.boolean(),
    });
    assertLaw(
      100,
      fc.property(arbitrarySegments, arbitraryHarm, (segments, { at, byte, isCut }) => {
        const { path, pack } = writePack(segments);
        const bytes = readFileSync(path);
        const position = Math.min(bytes.length - 1, Math.floor(at * bytes.length));
        bytes[position] = byte;
        writeFileSync(path, isCut ? bytes.subarray(0, position) : bytes);
        const all = new Map(segments.flatMap((segment) => [...segment]));
        const found = drained(pack.read());
        for (const [id, facts] of found) expect(facts).toEqual(all.get(id));
        // What is added afterwards is found, whatever was lost.
        pack.append(JSON.stringify({ ids: ['later'], facts: [[...all.values()][0]] }));
        expect(drained(pack.read())).toEqual(new Map([...found, ['later', [...all.values()][0]]]));
      }),
    );
  });
});

it('a pack of another seal gives none', () => {
  assertLaw(
    20,
    fc.property(arbitrarySegments, (segments) => {
      expect(drained(new FactsPack(writePack(segments).path, 'b').read()).size).toBe(0);
    }),
  );
});

describe('base on disk', () => {
  it('what is remembered changes no finding', async () => {
    // 40 walks of 50 edits. Of every fourth walk all stamps are trusted, as if hours lay between the edits.
    let walks = 0;
    const arbitraryWalk = arbitraryFileWalk({ minLength: 50, maxLength: 50 });
    const property = fc.asyncProperty(arbitraryWalk, async (walk) => {
      const root = freshFolder();
      const cacheFolder = freshFolder();
      const isSlow = walks++ % 4 === 0;
      let before: Texts = {};
      for (const [step, texts] of walk.entries()) {
        writeTexts(root, before, texts);
        before = texts;
        if (isSlow) {
          // Longer than the system's tick: no two edits leave one stamp.
          await setTimeout(12);
          vi.useFakeTimers({ now: Date.now() + 3_600_000, toFake: ['Date'] });
        }
        const remembered = await lint(root, cacheFolder);
        const again = step % 10 === 0 ? await lint(root, cacheFolder) : remembered;
        const fresh = await lint(root, undefined);
        vi.useRealTimers();
        expect(remembered, `after edit ${step}`).toBe(fresh);
        expect(again, `after edit ${step}, again`).toBe(fresh);
      }
      rmSync(root, { recursive: true });
      rmSync(cacheFolder, { recursive: true });
    });
    await assertLaw(40, property);
  });
});

function writeTexts(root: string, before: Texts, after: Texts): void {
  if (Object.keys(before).length === 0) writeFileSync(join(root, 'swaplore.yaml'), after['swaplore.yaml'] ?? '');
  for (const path of editedPaths(before, after)) {
    const text = after[path];
    mkdirSync(dirname(join(root, path)), { recursive: true });
    if (text === undefined) rmSync(join(root, path));
    else writeFileSync(join(root, path), text);
  }
}

async function lint(root: string, cacheFolder: string | undefined): Promise<string> {
  let printed = '';
  const out = (text: string): void => {
    printed += text;
  };
  const terminal = { out, err: out, cwd: root, columns: 80, hasColour: false };
  const code = await runCli(['lint', '--format', 'json', '--today', '2026-11-25'], terminal, {
    version: '0.0.0',
    cacheFolder,
  });
  return `${printed}exit ${code}`;
}
