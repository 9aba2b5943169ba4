import { ErrorCodes, ExecuteCommandRequest, type LSPAny, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { type Severity, severities } from '../../core/terms/severities.ts';
import { baseAround } from '../base-around.ts';
import type { BaseSession } from '../base-session.ts';
import { type CommandId, commandRows } from '../command-rows.ts';
import { contradictionsPage, contradictionsText } from '../contradictions-page.ts';
import { type Context, defineFeature } from '../feature.ts';
import { canonicalUri } from '../uris.ts';

/** Commands, for clients that know nothing of ours: the first argument, if any, is an address in the base that is meant. */
export const executeCommand = defineFeature({
  request: ExecuteCommandRequest.type,
  capabilities: () => ({ executeCommandProvider: { commands: commandRows.map(({ id }) => id) } }),
  answer: async ({ command, arguments: values }, context): Promise<LSPAny> => {
    const row = commandRows.find(({ id }) => id === command);
    if (!row) throw new ResponseError(ErrorCodes.InvalidParams, `There is no command ${command}.`);
    return await commands[row.id](basesMeant(await context.allBases(), values?.[0]), context);
  },
});

const commands: Readonly<Record<CommandId, (bases: readonly BaseSession[], context: Context) => Promise<LSPAny>>> = {
  'swaplore.contradictions': showContradictions,
  'swaplore.checkNow': checkNow,
};

/** Shows the report of one base; where a client cannot be shown pages, gives its text. */
async function showContradictions(bases: readonly BaseSession[], context: Context): Promise<string | null> {
  const [base, ...others] = bases;
  if (!base) throw new ResponseError(LSPErrorCodes.RequestFailed, 'There is no base here.');
  if (others.length > 0) {
    const names = bases.map(({ name }) => name).join(', ');
    throw new ResponseError(
      ErrorCodes.InvalidParams,
      `There are several bases here: ${names}. The address of a file in one of them says which is meant.`,
    );
  }
  const isShown = await context.showPage(contradictionsPage(base));
  return isShown ? null : await contradictionsText(base, context);
}

/** Reads bases again and counts what their checks find. The shape is that of `swaplore lint --format json`, without the findings. */
async function checkNow(bases: readonly BaseSession[], context: Context): Promise<LSPAny> {
  const { reload, whenChecked, shownIn, token } = context;
  for (const base of bases) {
    await reload(base);
    await whenChecked(base, token);
  }
  const found = bases.flatMap((base) => Array.from(shownIn(base).values(), ({ findings }) => findings).flat());
  const count = (severity: Severity) => found.filter((finding) => finding.severity === severity).length;
  return {
    bases: bases.map(({ root, name, snapshot: { files, recordCount } }) => ({
      root,
      name,
      files: files.size + 1,
      records: recordCount,
    })),
    summary: Object.fromEntries(severities.map((severity) => [severity, count(severity)])),
  };
}

function basesMeant(bases: readonly BaseSession[], address: LSPAny | undefined): readonly BaseSession[] {
  if (address === undefined || address === null) return bases;
  const base = typeof address === 'string' ? baseAround(bases, `${canonicalUri(address)}/`) : undefined;
  if (base) return [base];
  throw new ResponseError(ErrorCodes.InvalidParams, `${JSON.stringify(address)} is no address in a base.`);
}
