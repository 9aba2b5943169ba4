import type { Snapshot } from '../index/snapshot.ts';
import { isRetracted, type OutcomeRecord } from '../model/record.ts';
import { type Stage, stages } from '../terms/stages.ts';
import { evidenceOf, type Verdict } from '../verdicts/evidence.ts';
import type { HoverFact } from './hover-blocks.ts';

/** Stages in a row at which an outcome says the same for the same reasons. */
interface Group {
  readonly from: Stage;
  to: Stage;
  readonly verdict: Verdict;
}

/** What an outcome is evidence of, stages of one verdict on one line, and what an inconclusive one lacks. Nothing for a retracted one. */
export function verdictFacts(outcome: OutcomeRecord, snapshot: Snapshot): readonly HoverFact[] {
  if (isRetracted(outcome)) return [];
  const { verdicts } = evidenceOf(outcome, snapshot);
  const groups: Group[] = [];
  // Nothing has to be done to reach the lowest stage.
  for (const { name } of stages.slice(1)) {
    const verdict = verdicts[name];
    const last = groups.at(-1);
    if (last && kindOf(last.verdict) === kindOf(verdict)) last.to = name;
    else groups.push({ from: name, to: name, verdict });
  }
  return groups.map(({ from, to, verdict }) => ({
    label: from === to ? `At \`${from}\`` : `At \`${from}\` to \`${to}\``,
    text: [textOf(verdict)],
  }));
}

/** What two verdicts have in common that are told on one line: reasons that differ only by the stage they name are alike. */
function kindOf({ result, missing }: Verdict): string {
  return result === 'inconclusive'
    ? [result, ...missing.map(({ what, path }) => [what, ...path].join('.'))].join(' ')
    : result;
}

/** The reasons are those of the lowest stage of a group. */
function textOf({ result, missing }: Verdict): string {
  if (result !== 'inconclusive') return result;
  return `inconclusive, because ${[...new Set(missing.map(({ says }) => says))].join('; ')}`;
}
