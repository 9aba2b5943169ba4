import fc from 'fast-check';
import { configPath } from '../../server/src/core/checks/config-invalid.ts';
import { spanOf } from '../../server/src/core/checks/resolve-place.ts';
import { findingsOf } from '../../server/src/core/checks/run-checks.ts';
import { formatText } from '../../server/src/core/edits/format-text.ts';
import { isRefusal } from '../../server/src/core/edits/text-edit.ts';
import { actionsAt } from '../../server/src/core/features/actions.ts';
import { filesNaming, renameId } from '../../server/src/core/features/rename-id.ts';
import { arbitraryBase } from './arbitrary-base.ts';
import { arbitraryDamage, type Damage, damageText } from './arbitrary-damage.ts';
import { arbitraryFaultyFiles } from './arbitrary-faulty-files.ts';
import { arbitraryTypo, misspelt, type Typo } from './arbitrary-typos.ts';
import {
  type CheckedFiles,
  checkedTextOf,
  edited,
  foundIn,
  type TextFiles,
  tapeOf,
  textsAfterFix,
  textsAfterFixAll,
  weighed,
} from './checked-files.ts';
import { drained } from './drained.ts';
import { exampleFiles, faultFiles } from './example-files.ts';
import { filledIn } from './offered-actions.ts';
import { arbitraryLayout, writeFiles } from './write-files.ts';

/** What somebody does to a base. Numbers choose by their remainder, among what there is by then. */
export type Step =
  | { readonly does: 'type'; readonly file: number; readonly damage: readonly Damage[] }
  | { readonly does: 'misspell'; readonly file: number; readonly typo: Typo }
  | { readonly does: 'undo' }
  | { readonly does: 'remedy'; readonly pick: number; readonly isSure: boolean }
  | { readonly does: 'fix all'; readonly file: number }
  | { readonly does: 'rename'; readonly record: number; readonly newId: string }
  | { readonly does: 'format'; readonly file: number }
  /** Takes an action offered at an offset; what it asks for is filled in. */
  | {
      readonly does: 'act';
      readonly file: number;
      readonly offset: number;
      readonly pick: number;
      readonly hasSnippets: boolean;
    }
  | { readonly does: 'remove'; readonly file: number };

const file = fc.nat();

/** Any step, most often one after which something is to be mended, or mends it. */
export const arbitraryStep: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.record({ does: fc.constant('type' as const), file, damage: arbitraryDamage }),
  },
  { weight: 4, arbitrary: fc.record({ does: fc.constant('misspell' as const), file, typo: arbitraryTypo }) },
  { weight: 2, arbitrary: fc.constant({ does: 'undo' as const }) },
  {
    weight: 5,
    arbitrary: fc.record({ does: fc.constant('remedy' as const), pick: fc.nat(), isSure: fc.boolean() }),
  },
  { weight: 4, arbitrary: fc.record({ does: fc.constant('fix all' as const), file }) },
  {
    weight: 2,
    arbitrary: fc.record({
      does: fc.constant('rename' as const),
      record: fc.nat(),
      newId: fc.constantFrom('new-1', 'd-0117', 'tern-2', 'wren'),
    }),
  },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('format' as const), file }) },
  {
    weight: 5,
    arbitrary: fc.record({
      does: fc.constant('act' as const),
      file,
      offset: fc.nat(),
      pick: fc.nat(),
      hasSnippets: fc.boolean(),
    }),
  },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('remove' as const), file }) },
);

const generated = fc.tuple(arbitraryBase, arbitraryLayout).map(([base, layout]) => writeFiles(base, layout));

function withTypos(bases: fc.Arbitrary<TextFiles>, maxLength: number): fc.Arbitrary<TextFiles> {
  return fc
    .tuple(bases, fc.array(fc.tuple(file, arbitraryTypo), { maxLength }))
    .map(([files, typos]) => typos.reduce((now, [pick, typo]) => misspeltIn(now, pick, typo), files));
}

/** Small bases with faults that something can be done about: examples of checks, generated ones, and now and then a whole bench. */
export const arbitraryBaseToMend: fc.Arbitrary<TextFiles> = fc.oneof(
  { weight: 75, arbitrary: withTypos(fc.constantFrom(...exampleFiles().map(({ files }) => files)), 4) },
  { weight: 20, arbitrary: withTypos(generated, 8) },
  { weight: 6, arbitrary: arbitraryFaultyFiles },
  { weight: 1, arbitrary: fc.constantFrom(faultFiles('saltmarket'), faultFiles('old-laptop')) },
);

/** The texts after a step; the same where there is nothing to do it to, or it is refused. */
export function afterStep(step: Step, now: CheckedFiles, before: TextFiles): TextFiles {
  const { texts } = now;
  switch (step.does) {
    case 'undo':
      return before;
    case 'remedy':
      return afterRemedy(step, now);
    case 'rename':
      return afterRename(step, now);
    case 'misspell':
      return misspeltIn(texts, step.file, step.typo);
  }
  const path = pathIn(texts, step.file);
  if (path === undefined) return texts;
  const { [path]: text = '', ...others } = texts;
  switch (step.does) {
    case 'type':
      return { ...texts, [path]: damageText(text, step.damage) };
    case 'fix all':
      return textsAfterFixAll(now, path);
    case 'act':
      return afterAction(step, now, path);
    case 'format':
      return edited(texts, path, formatText(tapeOf(text), { start: 0, end: text.length }));
    case 'remove':
      return others;
  }
}

/** A file of records; undefined where there is none. */
export function pathIn(texts: TextFiles, pick: number): string | undefined {
  const paths = Object.keys(texts).filter((path) => path !== configPath && path.endsWith('.yaml'));
  return paths[pick % Math.max(paths.length, 1)];
}

function misspeltIn(texts: TextFiles, pick: number, typo: Typo): TextFiles {
  const path = pathIn(texts, pick);
  return path === undefined ? texts : { ...texts, [path]: misspelt(texts[path] ?? '', typo) };
}

function afterRemedy({ pick, isSure }: Step & { does: 'remedy' }, now: CheckedFiles): TextFiles {
  const offered = foundIn(now).flatMap(({ fixes }) => fixes);
  const fixes = isSure ? offered.filter((fix) => fix.kind === 'fix') : offered;
  const fix = fixes[pick % Math.max(fixes.length, 1)];
  if (!fix || (isSure && weighed(fix, now).kind === 'ask')) return now.texts;
  return textsAfterFix(fix, now) ?? now.texts;
}

/** The files after one of the actions offered in a file, at one of its findings or anywhere. */
function afterAction(
  { offset, pick, hasSnippets }: Step & { does: 'act' },
  now: CheckedFiles,
  path: string,
): TextFiles {
  const { texts, run } = now;
  const text = texts[path] ?? '';
  const findings = findingsOf(run).filter(({ place }) => place.file === path);
  const places = findings.map(({ place }) => spanOf(tapeOf(text), place.target).start);
  const at = places[offset % (2 * places.length)] ?? offset % (text.length + 1);
  const { files, plan } = actionsAt({
    file: { path, tape: tapeOf(text), snapshot: run.snapshot, isIndexed: true },
    start: at,
    end: at,
    findings,
    runs: [run],
    today: run.today,
    only: new Set(['quick-fix', 'refactor']),
    hasSnippets,
    hasNewFiles: true,
    reach: 'named-files',
  });
  const actions = drained(plan(new Map(files.map((name) => [name, checkedTextOf(now, name).text] as const))));
  const changes = actions[pick % Math.max(actions.length, 1)]?.files ?? [];
  return changes.reduce((all, { file: name, edits, isSnippet }) => {
    const filled = edits.map((edit) => (isSnippet ? { ...edit, text: filledIn(edit.text, 'word') } : edit));
    return edited(all, name, filled);
  }, texts);
}

function afterRename({ record: pick, newId }: Step & { does: 'rename' }, now: CheckedFiles): TextFiles {
  const { snapshot } = now.run;
  const records = [...snapshot.allRecords()];
  const record = records[pick % Math.max(records.length, 1)];
  if (!record) return now.texts;
  const { kind, id } = record;
  const texts = new Map(
    filesNaming(snapshot, { kind, id }).map((path) => [path, checkedTextOf(now, path).text] as const),
  );
  const edits = renameId({ snapshot, kind, id, newId, texts });
  if (isRefusal(edits)) return now.texts;
  return edits.reduce((all, { file: path, edits: ofFile }) => edited(all, path, ofFile), now.texts);
}
