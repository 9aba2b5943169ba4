import type { Finding } from '../checks/finding.ts';
import { isEqual } from '../index/is-equal.ts';
import { nameOf } from '../model/record.ts';
import type { FamilyOdds } from '../odds/family-odds.ts';
import type { RuleResult } from '../reasoning/rule-results.ts';
import { countsOf } from '../reasoning/rule-results.ts';
import type {
  OddsChange,
  PlacedChange,
  RuleChange,
  SettingChange,
  ValueChange,
  VerdictChange,
} from '../review/review.ts';
import type { Review } from '../review/review-change.ts';
import type { Path } from '../syntax/tape.ts';
import { stages } from '../terms/stages.ts';
import type { ReviewNames } from './review.ts';

/** How a review is put into data. */
export interface ReviewDataInput extends ReviewNames {
  /** A finding as its adapter lists it, with its place in lines. `side` says in which state of the base the place is. */
  readonly findingData: (finding: Finding, side: 'before' | 'after' | 'merged') => object;
}

/** A review with the keys and shapes of the JSON output. */
export function reviewData(review: Review, { base, head, remarks, findingData }: ReviewDataInput): object {
  const { records, findings, standings } = review;
  return {
    base,
    head,
    remarks,
    records: {
      added: records.added.map(recordData),
      changed: records.changed.map((one) => ({ ...recordData(one), changes: one.changes.map(changeData) })),
      removed: records.removed.map((one) => ({ ...recordData(one), how: one.how })),
      retracted: records.changed.filter(({ turn }) => turn === 'retracted').map(recordData),
      restored: records.changed.filter(({ turn }) => turn === 'restored').map(recordData),
    },
    verdicts: review.verdicts.map(verdictData),
    findings: {
      new: findings.new.map((finding) => findingData(finding, 'after')),
      gone: findings.gone.map((finding) => findingData(finding, 'before')),
      still: findings.still,
    },
    rules: review.rules.map(ruleData).filter(({ before, after }) => !isEqual(before, after)),
    odds: review.odds.map(oddsData),
    donors: standings.donors.map(({ patient, donor, before = null, after = null }) => ({
      patient: patient.id,
      donor: donor.id,
      before,
      after,
    })),
    patientsLeftOut: standings.patientsLeftOut,
    ruleStandings: standings.rules.map(({ id, before = null, after = null }) => ({ id, before, after })),
    config: review.config.map((change) => settingData(change, findingData)),
    questions: review.questions.map(({ record = null, text }) => ({ record, text })),
    onMerge: review.onMerge?.map(({ finding, brought }) => ({ ...findingData(finding, 'merged'), brought })) ?? null,
  };
}

function recordData({ record, file }: PlacedChange): object {
  return { record: nameOf(record), file };
}

function changeData({ path, before = null, after = null, unusable }: ValueChange): object {
  return { path: pointerOf(path), before, after, ...(unusable === undefined ? {} : { unusable }) };
}

/** A path as a JSON pointer. Source: RFC 6901. */
function pointerOf(path: Path): string {
  return path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}

function verdictData({ outcome, before, after }: VerdictChange): object {
  const verdicts = (side: VerdictChange['before']): object | null =>
    side ? Object.fromEntries(stages.map(({ name }) => [name, side.verdicts[name].result])) : null;
  return { outcome: outcome.id, before: verdicts(before), after: verdicts(after) };
}

/** The counts of a rule on both sides. They may be the same where other outcomes are counted. */
function ruleData({ id, before, after }: RuleChange): {
  readonly id: string;
  readonly before: object | null;
  readonly after: object | null;
} {
  const counts = (result: RuleResult | undefined): object | null => (result ? countsOf(result) : null);
  return { id, before: counts(before), after: counts(after) };
}

function oddsData({ family, before, after }: OddsChange): object {
  return { family, before: rowsData(before), after: rowsData(after) };
}

function rowsData({ rows, uncontrolled }: FamilyOdds): object {
  return {
    rows: rows.map(({ romTravels, outcomes, count, exact }) => ({
      romTravels: romTravels ?? null,
      outcomes,
      pairs: count.pairs,
      works: count.votes,
      drives: count.drives,
      independentPairs: count.independentPairs,
      exact,
    })),
    uncontrolled,
  };
}

function settingData(
  { path, before = null, after = null, hides }: SettingChange,
  findingData: ReviewDataInput['findingData'],
): object {
  return { path: pointerOf(path), before, after, hides: hides.map((finding) => findingData(finding, 'after')) };
}
