import { collectExplanations, explanationsData, explanationsDocument } from '../core/reports/explanations.ts';
import { type Command, folderOption, jsonOption, noCacheOption } from './command.ts';
import { documentText } from './document-text.ts';
import { exitCodes } from './exit-codes.ts';
import { notRecorded } from './not-recorded.ts';
import { openOneBase } from './open-base.ts';
import { toJsonText } from './terminal.ts';

/**
 * `swaplore explain`: which conditions tell the swaps of a family that worked from those that failed.
 *
 * With `--json` one map: `{"family", "worksAt", "decided": {"outcomes", "pairs", "worked", "failed", "inconclusive"}, "noneOfThese",
 * "hypotheses": [HYPOTHESIS], "others": {"hypotheses", "weight"}, "lookedAt": {"hypotheses", "couldReach", "entries", "inTwos",
 * "inThrees"}}`, the most likely hypotheses first, those beyond the first 50 under `others`. A HYPOTHESIS is `{"condition", "holds",
 * "equals": [{"condition", "holds"}], "weight", "separates", "apart": {"withWorked", "withFailed", "withoutWorked", "withoutFailed"},
 * "within": {"onlyWith", "onlyWithout", "alike"}, "test": {"of", "p", "least", "adjusted"}, "against": [OUTCOME], "notKnown": [OUTCOME],
 * "mixed": [[DRIVE, DRIVE]]}`. `holds` is `works` or `fails`: what comes of swaps that meet the condition, as rules write it; others come
 * out the other way. `apart` and `within` count pairs tried one way, and both; `test` is Fisher's or the sign test, `of` one of them,
 * `least` the smallest p its totals allow, `adjusted` null where that could not be reached among so many. Weights and `noneOfThese` sum
 * to 1.
 */
export const explain: Command = {
  name: 'explain',
  takes: 'FAMILY',
  positionals: { min: 1, max: 1 },
  describe:
    'Show which conditions tell swaps of a family that worked from those that failed, and how far to believe each.',
  options: [folderOption, jsonOption, noCacheOption],
  run: async (args, terminal, program) => {
    const { snapshot } = await openOneBase(args, terminal, program);
    const [id = ''] = args.positionals;
    if (!snapshot.find('family', id)) throw notRecorded('family', id, snapshot);
    const found = collectExplanations(id, snapshot);
    if (args.values['json'] === true) terminal.out(toJsonText(explanationsData(found, snapshot.config.worksAt)));
    else {
      terminal.out(documentText(explanationsDocument(found, snapshot), terminal));
    }
    return exitCodes.clean;
  },
};
