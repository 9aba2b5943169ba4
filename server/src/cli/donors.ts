import { resolve } from 'node:path';
import { rankDonors } from '../core/donors/rank-donors.ts';
import { donorData } from '../core/reports/donor-data.ts';
import { donorSheet, mostDonors } from '../core/reports/donor-sheet.ts';
import { shortName } from '../core/text/short-name.ts';
import { visible } from '../core/text/visible.ts';
import { type Command, folderOption, jsonOption, noCacheOption } from './command.ts';
import { documentText } from './document-text.ts';
import { exitCodes } from './exit-codes.ts';
import { notRecorded } from './not-recorded.ts';
import { openOneBase, shownPath } from './open-base.ts';
import { toJsonText } from './terminal.ts';
import { writePage } from './write-page.ts';

/**
 * `swaplore donors`: what a patient's examination says, and which boards of the shelf could go on it.
 *
 * With `--json` one map, every donor in it, best first: `{"patient", "family", "examination": {"measureFirst", "mayBeDiode",
 * "ownBoardGood", "holdsUserData", "readings": {KEY: {"value", "on"}}, "inside": [{"outcome", "says"}]}, "travels": {"adaptives",
 * "key": {"in", "certain"}, "rom": [ACTION], "romTravels"}, "hostNeeds": [NEED], "fits": [DONOR], "open": [DONOR], "excluded": [DONOR]}`.
 * A DONOR is `{"id", "parts", "family", "board", "rev", "against": [LAW], "promises": [LAW], "undecided": [RULE], "shortOf": [LAW with
 * "stage"], "inspect": [{"record", "rev"?, "key"}], "odds": {"given", "pairs", "works", "exact", "pooled"}, "matching": [KEY],
 * "differing": [KEY], "chip": {"package", "volts"}, "hostNeeds": [NEED], "doubt": {"outcome", "about", "says"}, "tried": [{"outcome",
 * "reversed", "reached", "result"}]}`, a LAW `{"rule", "because": [CLAUSE]}`. What is not known is null. `given` may be put to
 * `swaplore odds --given`, whose row of the same `romTravels` has the same figures.
 */
export const donors: Command = {
  name: 'donors',
  takes: 'PATIENT',
  positionals: { min: 1, max: 1 },
  describe: 'Rank the boards on the shelf for a patient, by rules and odds, after what its examination says.',
  options: [
    { name: 'all', describe: `List every donor, not only the first ${mostDonors} of each group.` },
    { name: 'out', value: 'FILE', describe: 'Write the sheet as a page for a browser, too, to print or hand on.' },
    folderOption,
    jsonOption,
    noCacheOption,
  ],
  run: async (args, terminal, program) => {
    const { snapshot, root } = await openOneBase(args, terminal, program);
    const [id = ''] = args.positionals;
    const ranking = rankDonors(id, snapshot);
    if (!ranking) throw notRecorded('drive', id, snapshot);
    if (args.values['json'] === true) terminal.out(toJsonText(donorData(ranking, snapshot)));
    else {
      const baseName = shortName(snapshot.config.name ?? shownPath(root, terminal));
      const request = {
        snapshot,
        baseName,
        mostDonors: args.values['all'] === true ? Number.POSITIVE_INFINITY : mostDonors,
      };
      const sheet = donorSheet(ranking, request);
      const out = typeof args.values['out'] === 'string' ? resolve(terminal.cwd, args.values['out']) : undefined;
      if (out !== undefined) writePage(out, sheet, terminal);
      terminal.out(documentText(sheet, terminal));
      if (out !== undefined) terminal.out(`\nWritten to ${visible(shownPath(out, terminal))}\n`);
    }
    return exitCodes.clean;
  },
};
