import { ExecuteCommandRequest, type LSPAny } from 'vscode-languageserver';
import type { Finding } from '../../core/checks/finding.ts';
import { countBySeverity } from '../../core/reports/counts-in-words.ts';
import { shortName } from '../../core/text/short-name.ts';
import type { BaseSession } from '../base-session.ts';
import { basesMeant, onlyBase } from '../bases-meant.ts';
import { checkedFindings } from '../checked-findings.ts';
import { type CommandId, commandRows } from '../command-rows.ts';
import { contradictionsPage, contradictionsText } from '../contradictions-page.ts';
import { type Context, defineFeature } from '../feature.ts';
import { oddsPage, oddsText } from '../odds-page.ts';
import { refused } from '../refused.ts';

/** Commands, for clients that know nothing of ours: the first argument, if any, is an address in the base that is meant. */
export const executeCommand = defineFeature({
  request: ExecuteCommandRequest.type,
  capabilities: () => ({ executeCommandProvider: { commands: commandRows.map(({ id }) => id) } }),
  answer: async ({ command, arguments: values }, context): Promise<LSPAny> => {
    const row = commandRows.find(({ id }) => id === command);
    if (!row) throw refused(`There is no command ${command}.`);
    return await commands[row.id](basesMeant(await context.allBases(), values?.[0]), context, values?.[1]);
  },
});

/** Answers a command for the bases that are meant, with what else it was given. */
type Answer = (bases: readonly BaseSession[], context: Context, about: LSPAny | undefined) => Promise<LSPAny>;

const commands: Readonly<Record<CommandId, Answer>> = {
  'swaplore.contradictions': showContradictions,
  'swaplore.showOdds': showOdds,
  'swaplore.checkNow': checkNow,
};

/** Shows the report of one base; where a client cannot be shown pages, gives its text. */
async function showContradictions(bases: readonly BaseSession[], context: Context): Promise<string | null> {
  const base = onlyBase(bases);
  const isShown = await context.showPage(contradictionsPage(base));
  return isShown ? null : await contradictionsText(base, context);
}

/** Shows what is known of a family, or the odds of all; where a client cannot be shown pages, gives its text. */
async function showOdds(
  bases: readonly BaseSession[],
  context: Context,
  family: LSPAny | undefined,
): Promise<string | null> {
  const base = onlyBase(bases);
  await context.whenIndexed(base);
  const id = typeof family === 'string' ? family : undefined;
  const text = oddsText(base, id);
  if (text === undefined) {
    throw refused(`There is no family ${shortName(id ?? '')} in this base.`);
  }
  return (await context.showPage(oddsPage(base, id))) ? null : text;
}

/** Reads bases again and counts what their checks find. The shape is that of `swaplore lint --format json`, without the findings. */
async function checkNow(bases: readonly BaseSession[], context: Context): Promise<LSPAny> {
  const found: Finding[] = [];
  for (const base of bases) {
    await context.reload(base);
    found.push(...(await checkedFindings(base, context)));
  }
  return {
    bases: bases.map(({ root, name, snapshot: { files, recordCount } }) => ({
      root,
      name,
      files: files.size + 1,
      records: recordCount,
    })),
    summary: countBySeverity(found),
  };
}
