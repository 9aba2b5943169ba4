import { describe, expect, it } from 'vitest';
import {
  type CheckedFiles,
  checkFresh,
  foundIn,
  nameOfFinding,
  type TextFiles,
  textsAfterFix,
  weighed,
} from '../harness/checked-files.ts';
import { exampleFiles, faultFiles } from '../harness/example-files.ts';
import { lintFiles } from '../harness/lint-files.ts';

const cases: readonly (readonly [string, TextFiles])[] = [
  ...exampleFiles().map(({ name, files }) => [name, files] as const),
  ...(['saltmarket', 'old-laptop'] as const).map((name) => [name, faultFiles(name)] as const),
];

/** What comes with a remedy that was not found before. */
function broughtBy(before: CheckedFiles, after: TextFiles): readonly string[] {
  const known = new Set(foundIn(before).map(nameOfFinding));
  return foundIn(checkFresh(after))
    .map(nameOfFinding)
    .filter((one) => !known.has(one));
}

const fixing = new Set<string>();
const doubted = new Set<string>();

describe('fixes', () => {
  it.each(cases)('each removes its finding, and adds none where nobody is asked, in %s', (_, texts) => {
    const before = checkFresh(texts);
    for (const finding of foundIn(before)) {
      for (const fix of finding.fixes) {
        fixing.add(finding.check);
        const after = textsAfterFix(fix, before);
        expect(after, `${nameOfFinding(finding)}: ${fix.title}`).toBeDefined();
        expect(foundIn(checkFresh(after!)).map(nameOfFinding)).not.toContain(nameOfFinding(finding));
        const brought = broughtBy(before, after!);
        if (weighed(fix, before).kind === 'fix') expect(brought).toEqual([]);
        else if (fix.kind === 'fix') doubted.add(`${fix.title}: ${brought.join('; ')}`);
      }
    }
  });

  it.each(cases)('made one after the other leave nothing to be made, in %s', (_, texts) => {
    let current = checkFresh(texts);
    for (let left = 20; ; left--) {
      const files = current;
      const fix = foundIn(files)
        .flatMap(({ fixes }) => fixes)
        .find((one) => weighed(one, files).kind === 'fix');
      if (!fix) break;
      expect(left).toBeGreaterThan(0);
      current = checkFresh(textsAfterFix(fix, files)!);
      // What was mended stays as it is when it is mended once more.
      expect(textsAfterFix(fix, current) ?? current.texts).toEqual(current.texts);
    }
  });

  it('are offered by the checks that know what would help', () => {
    expect([...fixing].sort()).toEqual([
      'capture-changed',
      'exception-not-needed',
      'result-disagrees',
      'schema',
      'serial-not-masked',
      'unknown-key',
    ]);
  });

  it('have to be asked for where what they make known is at fault, too', () => {
    expect([...doubted].sort()).toEqual([
      'Replace it with `chip_moved`: error: outcomes/2026-03-spares.yaml: result-disagrees: outcome/2026-03-13-102-103: Outcome `2026-03-13-102-103` says `fails`, but a failure counts only with every control in place: nothing shows that the ROM data really arrived.',
      'Replace it with `drive`: error: drives.yaml: dangling-reference: drive/lap-2: Family `fennel` is not recorded in this base.',
      'Replace it with `drive`: error: drives/tern.yaml: schema: drive/d-0117: Drive `d-0117` has no `family`; the id of a family such as `tern-2` is needed.',
      'Replace it with `needs`: info: rules/tern.yaml: rule-untested: rule/tern-rom-travels: Rule `tern-rom-travels` is untested: no recorded outcome in its scope decides it at `reads`.',
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
