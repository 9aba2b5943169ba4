import type { Swap } from '../conditions/swap.ts';
import { alikeRate } from '../donors/alike-odds.ts';
import { type DonorFacts, donorFacts } from '../donors/donor-facts.ts';
import type { DonorVerdict } from '../donors/donor-verdict.ts';
import { keysToInspect } from '../donors/keys-to-inspect.ts';
import { plannedReasons } from '../donors/planned-reasons.ts';
import type { RankedDonor } from '../donors/rank-donors.ts';
import type { RomPlan } from '../donors/rom-plan.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Rule } from '../reasoning/rule.ts';
import type { WantedKey } from '../reasoning/wanted-keys.ts';
import { romWithAdaptives } from '../rom-images/rom-with-adaptives.ts';
import { addTo } from '../terms/grouped.ts';
import { inARow } from '../text/in-a-row.ts';
import { plural } from '../text/plural.ts';
import { rounded } from '../text/rounded.ts';
import { shortName } from '../text/short-name.ts';
import { wholePercent } from '../text/whole-percent.ts';
import { withShortQuotes } from '../text/with-short-quotes.ts';
import { chipName } from './travel-words.ts';

/** A donor with what a technician has to know of it, what counts most first. */
export function donorLines(
  donor: RankedDonor,
  plan: RomPlan,
  snapshot: Snapshot,
): { readonly name: string; readonly lines: readonly string[] } {
  const { swap, verdict } = donor;
  const facts = donorFacts(swap, snapshot);
  const isExcluded = verdict.group === 'excluded';
  return {
    name: nameOf(swap),
    lines: [
      ...doubtLine(facts),
      ...verdict.against.flatMap((rule) => [againstLine(rule, swap), ...exceptionLines(rule, facts)]),
      ...promiseLine(verdict),
      ...(isExcluded ? [] : inspectLines(swap, verdict, snapshot)),
      ...verdict.shortOf.map((rule) => `It will not come as far as \`${rule.stage}\`. ${againstLine(rule, swap)}`),
      ...oddsLine(donor, snapshot),
      keysLine(donor),
      ...(isExcluded ? [] : stockLines(swap, facts, plan)),
      ...triedLines(facts, swap, snapshot),
    ].map(withShortQuotes),
  };
}

function nameOf({ patient, donor: { drive } }: Swap): string {
  const { board, parts, family, shelf } = drive.data;
  const words = [
    parts === 'board_only' ? 'loose board' : undefined,
    board?.id === undefined ? 'board not recorded' : `\`${board.id}/${board.rev ?? '?'}\``,
    family === patient.drive.data.family ? undefined : `family \`${family ?? 'not recorded'}\``,
    shelf?.place === undefined ? undefined : shortName(shelf.place),
  ];
  return `${drive.id}: ${words.filter((word) => word !== undefined).join(', ')}`;
}

function doubtLine({ doubt }: DonorFacts): string[] {
  return doubt ? [`Look first: outcome \`${doubt.outcome.id}\` says that ${doubt.says}.`] : [];
}

function againstLine(rule: Rule, swap: Swap): string {
  const reasons = plannedReasons(rule, swap);
  return `Against rule \`${rule.record.id}\`${reasons.length > 0 ? `: ${reasons.join('; ')}` : ''}.`;
}

/** Outcomes of these very drives that a rule counts as exceptions, with the reason it gives. */
function exceptionLines({ record, exceptions }: Rule, { tried }: DonorFacts): string[] {
  const excepted = tried.filter(({ outcome }) => exceptions.has(outcome.id));
  return excepted.map(({ outcome }) => {
    const because = record.data.exceptions
      ?.find((exception) => exception.outcome === outcome.id)
      ?.because?.replace(/\s+/g, ' ')
      .trim();
    return `Yet \`${outcome.id}\` is an exception of that rule${because ? `: ${because}` : '.'}`;
  });
}

function promiseLine({ group, promises }: DonorVerdict): string[] {
  if (promises.length === 0) return [];
  const rules = promises.map(({ record }) => record.id);
  const met = `By ${rules.length === 1 ? 'rule' : 'rules'} ${inARow(rules)} it works`;
  if (group === 'fits') return [`${met}.`];
  return [`${met} all the same: these rules cannot all be right, see \`swaplore contradictions\`.`];
}

function inspectLines(swap: Swap, { undecided }: DonorVerdict, snapshot: Snapshot): string[] {
  const keys = keysToInspect(undecided, swap, snapshot);
  if (keys.length === 0) return [];
  const rules = undecided.filter((rule) => keysToInspect([rule], swap, snapshot).length > 0);
  const by = `${rules.length === 1 ? 'rule' : 'rules'} ${inARow(rules.map(({ record }) => record.id))}`;
  return [`Still to inspect: ${wantedWords(keys)}. It may decide by ${by}.`];
}

/** Keys, record by record: "`site` and `firmware` of drive/d-1". */
function wantedWords(keys: readonly WantedKey[]): string {
  const byRecord = new Map<string, string[]>();
  for (const { record, rev, key } of keys) {
    const name = rev === undefined ? record : `${record} revision \`${rev}\``;
    addTo(byRecord, name, key);
  }
  return [...byRecord].map(([name, list]) => `${inARow(list)} of ${name}`).join('; ');
}

function oddsLine({ odds }: RankedDonor, snapshot: Snapshot): string[] {
  const rate = odds && alikeRate(odds, snapshot);
  if (!rate) return [];
  const { count, pooled } = rate;
  const [low, high] = pooled.interval.map(wholePercent);
  const counted =
    count.pairs === 0
      ? 'No swap like it is counted yet'
      : `Of swaps like it ${rounded(count.votes, 2)} of ${plural(count.pairs, 'pair')} worked`;
  return [`${counted}; ${wholePercent(pooled.mean)} % is to be expected, likely between ${low} % and ${high} %.`];
}

function keysLine({ keys: { matching, differing }, verdict }: RankedDonor): string {
  const counted = `${matching.length} of ${matching.length + differing.length} keys that both record match`;
  if (differing.length === 0 || verdict.group === 'excluded') return `${counted}.`;
  return `${counted}; not ${inARow(differing)}.`;
}

function stockLines({ patient, donor }: Swap, { chip }: DonorFacts, plan: RomPlan): string[] {
  const own = romWithAdaptives(patient.revision?.roms);
  const isChipMoved = plan.actions?.includes('chip_moved') === true;
  const isAlike = own !== undefined && own.package === chip?.package && own.volts === chip?.volts;
  const { data } = donor.drive;
  const needs = data.family === patient.drive.data.family ? [] : (donor.family?.data.host_needs ?? []);
  return [
    ...(isChipMoved && !isAlike
      ? [
          `ROM of this board: ${chip ? chipName(chip) : 'not recorded'}. Compare before anything is soldered or clipped on.`,
        ]
      : []),
    ...(needs.length === 0 ? [] : [`For a control on its own drive the host has to meet ${inARow(needs)}.`]),
    ...(data.parts === 'board_only' ? ['A loose board: no drive of its own shows that it works.'] : []),
    ...(data.condition?.board === 'good' || data.parts === 'board_only'
      ? []
      : ['Not recorded as good: try it on its own drive first.']),
  ];
}

function triedLines({ tried }: DonorFacts, { patient }: Swap, snapshot: Snapshot): string[] {
  return tried.map(({ outcome, verdicts }) => {
    const round = outcome.data.patient === patient.drive.id ? '' : ', the other way round';
    const result = verdicts[snapshot.config.worksAt].result;
    return `Tried in \`${outcome.id}\`${round}: reached \`${outcome.data.reached ?? 'not recorded'}\`, ${result}.`;
  });
}
