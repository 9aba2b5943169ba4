import { describe, expect, it } from 'vitest';
import type { Fix } from '../../server/src/core/checks/fix.ts';
import { checks } from '../../server/src/core/checks/registry.ts';
import type { ResolvedFinding } from '../../server/src/core/checks/resolve-findings.ts';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { isRefusal, replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import type { MemoryFiles } from '../../server/src/host/memory.ts';
import { splitExpectations } from '../harness/expectations.ts';
import { lintFiles } from '../harness/lint-files.ts';
import { readMarkedBase } from '../harness/marked-base.ts';

/** Files without the comments that say what is expected. */
function unmarked(files: MemoryFiles): MemoryFiles {
  return Object.fromEntries(
    Object.entries(files).map(([path, file]) => [
      path,
      typeof file === 'string' ? splitExpectations(path, file).text : file,
    ]),
  );
}

/** The files after a fix; undefined where it cannot be made. */
function fixed(files: MemoryFiles, { file, intents, contentId }: Fix): MemoryFiles | undefined {
  const text = String(files[file]);
  const planned = planEdits({ tape: readText(text).tape, contentId }, intents);
  return isRefusal(planned) ? undefined : { ...files, [file]: replaceIn(text, planned.edits) };
}

const named = ({ check, file, message }: ResolvedFinding): string => `${file}: ${check}: ${message}`;

const cases: readonly (readonly [string, MemoryFiles])[] = [
  ...checks.flatMap(({ check, examples }) =>
    examples().map((example) => [`${check}: ${example.title}`, unmarked(example.files)] as const),
  ),
  ...['saltmarket', 'old-laptop'].map(
    (name) =>
      [name, unmarked(readMarkedBase(new URL(`../fixtures/faults/${name}`, import.meta.url).pathname))] as const,
  ),
];

/** What a fault had kept silent comes to light once it is mended: a record that is read at last may have faults of its own. */
const broughtToLight: Readonly<Record<string, string>> = {
  'rules/tern.yaml: Replace it with `needs`':
    'rules/tern.yaml: rule-untested: Rule `tern-rom-travels` is untested: no recorded outcome in its scope decides it at `reads`.',
  'drives/tern.yaml: Replace it with `drive`':
    'drives/tern.yaml: schema: Drive `d-0117` has no `family`; the id of a family such as `tern-2` is needed.',
  'outcomes/2026-03-spares.yaml: Replace it with `chip_moved`':
    'outcomes/2026-03-spares.yaml: result-disagrees: Outcome `2026-03-13-102-103` says `fails`, but a failure counts only with every control in place: nothing shows that the ROM data really arrived.',
  'outcomes/2026-05-customers.yaml: Record `inconclusive`':
    "outcomes/2026-05-customers.yaml: control-missing: Outcome `2026-05-09-202-102` reached `spins` and counts as inconclusive instead of failed, because nothing shows the patient's head-disk assembly good at `reads`.",
};

const fixing = new Set<string>();

describe('fixes', () => {
  it.each(cases)('each removes its finding and adds none, in %s', async (_, files) => {
    const before = await lintFiles(files);
    const known = new Set(before.map(named));
    for (const finding of before) {
      for (const fix of finding.fixes) {
        fixing.add(finding.check);
        const after = fixed(files, fix);
        expect(after, `${named(finding)}: ${fix.title}`).toBeDefined();
        const left = (await lintFiles(after!)).map(named);
        expect(left).not.toContain(named(finding));
        const light = broughtToLight[`${fix.file}: ${fix.title}`];
        expect(left.filter((one) => !known.has(one) && one !== light)).toEqual([]);
      }
    }
  });

  it.each(cases)('made one after the other leave nothing to be made, in %s', async (_, files) => {
    let current = files;
    for (let left = 20; ; left--) {
      const found = await lintFiles(current);
      const fix = found.flatMap(({ fixes }) => fixes).find(({ kind }) => kind === 'fix');
      if (!fix) break;
      expect(left).toBeGreaterThan(0);
      current = fixed(current, fix)!;
      // What was mended stays as it is when it is mended once more.
      expect(fixed(current, fix) ?? current).toEqual(current);
    }
  });

  it('are offered by the checks that know what would help', () => {
    expect([...fixing].sort()).toEqual([
      'exception-not-needed',
      'result-disagrees',
      'schema',
      'serial-not-masked',
      'unknown-key',
    ]);
  });

  it('derive the stage reached from what was observed', async () => {
    const offered = async (observed: string): Promise<readonly string[]> => {
      const files = { 'a.yaml': `kind: outcome\nid: a\nobserved: ${observed}\nresult: works\n` };
      const found = (await lintFiles(files)).filter(({ message }) => message.includes('has no `reached`'));
      return found.flatMap(({ fixes }) => fixes.map(({ title }) => title));
    };
    expect(await offered('{spins: true, reads: true}')).toEqual(['Record `reads`, the highest stage observed']);
    expect(await offered('{spins: true, reads: true, content: noise, detected: true}')).toEqual([
      'Record `detected`, the highest stage observed',
    ]);
    expect(await offered('{spins: false, detected: true}')).toEqual(['Record `nothing`, the highest stage observed']);
    expect(await offered('{sound: normal}')).toEqual([]);
  });

  it('quote what stands there, choose among several names, and keep off what is not theirs', async () => {
    const offered = async (text: string): Promise<readonly string[]> => {
      const found = await lintFiles({ 'a.yaml': text });
      return found.flatMap(({ fixes }) => fixes.map(({ kind, title }) => `${kind}: ${title}`));
    };
    expect(await offered('kind: maker\nid: a\nname: 0040\n')).toEqual(['fix: Put quotes round `0040`']);
    expect(await offered('kind: maker\nid: a\nx-a: &n 40\nname: *n\n')).toEqual([]);
    expect(await offered('kind: maker\nid: a\nname: A\nnoets: x\n')).toEqual([
      'fix: Rename it to `notes`',
      'ask: Rename it to `x-noets`',
    ]);
  });
});
