import type { Finding } from '../checks/finding.ts';
import type { Value } from '../edits/intent.ts';
import { findKeyRow } from '../schema/key-rows.ts';
import type { Path } from '../syntax/tape.ts';
import { valueAt } from '../syntax/value-at.ts';
import { inARow } from '../text/in-a-row.ts';
import type { ActionContext, ActionDraft } from './action.ts';
import { Blanks } from './blanks.ts';

/** Adds the controls whose absence makes a failure inconclusive. What they showed is asked for. */
export function missingControlActions({
  file,
  contentId,
  findingsHere,
  standing,
}: ActionContext): readonly ActionDraft[] {
  if (standing?.record.kind !== 'outcome') return [];
  const { record: outcome, document } = standing;
  const findings = findingsHere.filter(
    ({ check, record }) => check === 'control-missing' && record === `outcome/${outcome.id}`,
  );
  return findings.map((finding) => {
    const blanks = new Blanks();
    const paths = pathsOf(finding);
    const intents = paths.map((path) => {
      const now = valueAt(outcome.data, path);
      const { values = [], list } = findKeyRow('outcome', path) ?? {};
      const names = values.map(({ value }) => value);
      // What is recorded now, or else what claims least, is chosen unless somebody chooses: schemas begin with what claims most.
      const choices = typeof now === 'string' ? [now, ...names.filter((name) => name !== now)] : names.toReversed();
      const blank = blanks.add({ choices });
      const value: Value = list === 'yes' ? [...((now as readonly string[] | undefined) ?? []), blank] : blank;
      return { intent: 'set', document, path, value } as const;
    });
    const title = `Record what a failure has to show: ${inARow(paths.map((path) => String(path.at(-1))))}`;
    const changes = [{ file: file.path, contentId, intents }];
    return { title, kind: 'quick-fix', findings: [finding], blanks: blanks.list, changes };
  });
}

/** The keys that belong to a finding: where it points, and the others it names. */
function pathsOf({ place, related }: Finding): readonly Path[] {
  return [place, ...related.map((other) => other.place)].flatMap(({ target }) =>
    'path' in target ? [target.path] : [],
  );
}
