import { nextTrialDocument } from '../core/reports/next-trial.ts';
import { nextTrialData } from '../core/reports/next-trial-data.ts';
import { nextTrial } from '../core/trials/next-trial.ts';
import { type Command, folderOption, jsonOption, noCacheOption } from './command.ts';
import { documentText } from './document-text.ts';
import { exitCodes } from './exit-codes.ts';
import { notRecorded } from './not-recorded.ts';
import { openOneBase } from './open-base.ts';
import { toJsonText } from './terminal.ts';

/**
 * `swaplore plan`: which swap of the shelf would tell most about what explains the outcomes of a family.
 *
 * With `--json` one map: `{"family", "worksAt", "decided": {"outcomes", "pairs", "worked", "failed", "inconclusive"}, "noneOfThese",
 * "explanations": [EXPLANATION], "trials": [TRIAL], "untold": [{"explanations": [CLAIM, CLAIM], "lookFor": ENTRIES}], "shelf":
 * {"patients", "donors", "leftOut": {REASON: [DRIVE]}}, "isCut"}`. CLAIM is `{"condition", "holds"}` as of `explain`, EXPLANATION a
 * CLAIM with `equals`, claims that no swap of the shelf tells apart from it, and `weight`; the first 50 are listed. TRIAL is `{"patient",
 * "donor", "rom", "romTravels", "swaps", "information", "works", "ifWorks", "ifFails"}`, the first 20: `information` in bits, `works` a
 * chance, `swaps` how many of the shelf are alike, and after each result `{"noneOfThese", "explanations": [WEIGHT]}` in the order of
 * `explanations`. ENTRIES are `[{"same": KEY} | {"romTravels": true} | {"side", "key", "value"}, with "wanted"]`, null where no two drives
 * can tell. Weights are those of the conditions that shelf and outcomes tell apart, so they may differ a little from those of `explain`.
 */
export const plan: Command = {
  name: 'plan',
  takes: 'FAMILY',
  positionals: { min: 1, max: 1 },
  describe: 'Show which swap of the shelf to try next, and what each result would rule out.',
  options: [folderOption, jsonOption, noCacheOption],
  run: async (args, terminal, program) => {
    const { snapshot } = await openOneBase(args, terminal, program);
    const [id = ''] = args.positionals;
    if (!snapshot.find('family', id)) throw notRecorded('family', id, snapshot);
    const found = nextTrial(id, snapshot);
    if (args.values['json'] === true) terminal.out(toJsonText(nextTrialData(found, snapshot.config.worksAt)));
    else {
      terminal.out(documentText(nextTrialDocument(found, snapshot), terminal));
    }
    return exitCodes.clean;
  },
};
