import type { Side } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { namesUnknown } from '../reasoning/names-unknown.ts';
import { isInScope } from '../reasoning/rule.ts';
import { relationsOfRules, ruleRelations } from '../reasoning/rule-relations.ts';
import { type RuleResult, resultsOfRules, ruleResults } from '../reasoning/rule-results.ts';
import { contextOf } from '../verdicts/drive-context.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const bench = {
  ...exampleFamily('adaptives: {stored_in: rom_chip}\n'),
  'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n',
};

/** A rule that no recorded outcome has put to the test. */
export const ruleUntested = defineCheck({
  check: 'rule-untested',
  group: 'across',
  severity: 'info',
  scope: 'base',
  restsOn: [relationsOfRules, resultsOfRules],
  why: 'A rule that no swap has tested is an opinion. It still shuts out donors and lets others in, so whoever picks one should know that nothing recorded speaks for or against it.',
  examples: () => [
    {
      title: 'The only outcome in scope says nothing about the ROM',
      files: {
        ...bench,
        'rules/tern.yaml': `kind: rule
id: tern-rom-travels
applies_to: {families: [tern-2]}
claim: needs
#      ^^^^^ rule-untested: Rule \`tern-rom-travels\` is untested: no recorded outcome in its scope decides it at \`reads\`.
when: {rom_travels: true}
`,
        'outcomes/one.yaml':
          'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nreached: reads\nresult: works\n',
      },
    },
    {
      title: 'One swap has tested it',
      files: {
        ...bench,
        'rules/tern.yaml': 'kind: rule\nid: tern-rom-travels\nclaim: needs\nwhen: {rom_travels: true}\n',
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: chip_moved
reached: reads
result: works
`,
        'swaplore.yaml': 'swaplore: 1\nseverity: {rom-not-kept: off}\n',
      },
    },
    {
      title: 'A file whose ids are hidden may hold the outcome that is missed',
      files: {
        ...bench,
        'rules/tern.yaml': 'kind: rule\nid: tern-rom-travels\nclaim: needs\nwhen: {rom_travels: true}\n',
        'outcomes/one.yaml': { unreadable: 'permission denied' },
      },
      wholeFile: ['outcomes/one.yaml: file-unreadable: The file cannot be read: permission denied.'],
    },
  ],
  *run(snapshot: Snapshot) {
    // Invariant 11: nothing that rests on absence while an outcome may stand where it cannot be read.
    if (mayHideOutcomes(snapshot)) return;
    const { impossible } = ruleRelations(snapshot);
    const flawed = new Set(impossible.map(({ rule }) => rule));
    for (const result of ruleResults(snapshot)) {
      if (isTested(result) || isHeldUp(result, snapshot)) continue;
      if (!namesUnknown(result.rule, snapshot) && !flawed.has(result.rule)) yield describe(result);
    }
  },
});

function mayHideOutcomes(snapshot: Snapshot): boolean {
  if (snapshot.mayMissIds) return true;
  for (const { facts } of snapshot.troubledFiles.values()) {
    if (facts.bareIds.some(({ kind }) => kind === undefined || kind === 'outcome')) return true;
  }
  return false;
}

function isTested({ support, against, neutral }: RuleResult): boolean {
  return support.length + against.length + neutral.length > 0;
}

/** Whether an outcome might test the rule once a fault that was reported elsewhere is mended. */
function isHeldUp({ rule, undecided }: RuleResult, snapshot: Snapshot): boolean {
  return undecided.some(({ outcome, swap, verdicts }) => {
    const patient = snapshot.find('drive', outcome.data.patient);
    if (patient && isInScope(rule, contextOf(patient, snapshot)) === false) return false;
    const sides = swap ? [swap.patient, swap.donor] : [];
    return (
      outcome.unusable.length > 0 ||
      sides.some(isFaulty) ||
      verdicts[rule.stage].missing.some(({ what }) => what === 'record')
    );
  });
}

/** Whether something a drive is compared by stands in the base and cannot be read, or is named and not recorded. */
function isFaulty({ drive, family, board, revision }: Side): boolean {
  const { id, rev } = drive.data.board ?? {};
  const isLost = !family || (id !== undefined && !board) || (rev !== undefined && !revision);
  return isLost || [drive, family, board].some((record) => record && record.unusable.length > 0);
}

/** Undecided outcomes that a finding points to; `swaplore contradictions` counts them all. */
const mostRelated = 5;

function describe({ rule, undecided, excepted }: RuleResult): Draft {
  const { record, stage } = rule;
  const which = excepted.length > 0 && undecided.length === 0 ? 'outcome but those it excepts' : 'outcome in its scope';
  return {
    at: { record, path: ['claim'], side: 'value' },
    message: `Rule \`${record.id}\` is untested: no recorded ${which} decides it at \`${stage}\`.`,
    related: undecided.slice(0, mostRelated).map(({ outcome }) => ({
      at: { record: outcome, path: ['reached'], side: 'value' },
      message: `Outcome \`${outcome.id}\` leaves it undecided.`,
    })),
  };
}
