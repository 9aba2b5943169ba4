import { readGivenCondition } from '../core/checks/given-condition.ts';
import type { Snapshot } from '../core/index/snapshot.ts';
import { collectOdds, type OddsQuestion, oddsData, oddsDocument } from '../core/reports/odds.ts';
import { shortName } from '../core/text/short-name.ts';
import { type Arguments, type Command, folderOption, jsonOption, noCacheOption } from './command.ts';
import { documentText } from './document-text.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { notRecorded } from './not-recorded.ts';
import { openOneBase, shownPath } from './open-base.ts';
import { toJsonText } from './terminal.ts';

/** `swaplore odds`: how often swaps worked, and how sure anyone may be of it. */
export const odds: Command = {
  name: 'odds',
  takes: '',
  positionals: { min: 0, max: 0 },
  describe: 'Show how often swaps of each family worked, and between which bounds the true rate lies.',
  options: [
    { name: 'family', value: 'ID', describe: 'Only this family of the patient.' },
    {
      name: 'given',
      value: 'COND',
      describe: 'Only swaps that meet this condition, written as in rules: {rom_travels: true, same: [rev]}.',
    },
    folderOption,
    jsonOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const { snapshot, root } = await openOneBase(args, terminal, program);
    const question = readQuestion(args, snapshot);
    const rates = collectOdds(snapshot, question);
    if (args.values['json'] === true) terminal.out(toJsonText(oddsData(rates, question)));
    else {
      const baseName = shortName(snapshot.config.name ?? shownPath(root, terminal));
      terminal.out(documentText(oddsDocument(rates, question, { snapshot, baseName }), terminal));
    }
    return exitCodes.clean;
  },
};

function readQuestion({ values: { family, given } }: Arguments, snapshot: Snapshot): OddsQuestion {
  return {
    family: typeof family === 'string' ? findFamily(family, snapshot) : undefined,
    given: typeof given === 'string' ? readGiven(given, snapshot) : undefined,
  };
}

function findFamily(id: string, snapshot: Snapshot): string {
  if (snapshot.find('family', id)) return id;
  throw notRecorded('family', id, snapshot);
}

function readGiven(typed: string, snapshot: Snapshot): NonNullable<OddsQuestion['given']> {
  const condition = readGivenCondition(typed, snapshot);
  if ('message' in condition) throw new UsageError(`--given: ${condition.message}`, condition.help);
  return condition;
}
