import { collectContradictions, contradictionsDocument, reportedChecks } from '../core/reports/contradictions.ts';
import { shortName } from '../core/text/short-name.ts';
import { type Command, folderOption, jsonOption, noCacheOption, todayOption } from './command.ts';
import { documentText } from './document-text.ts';
import { exitCodes } from './exit-codes.ts';
import { openOneBase, runToEnd, shownFile, shownPath } from './open-base.ts';
import { readToday } from './read-today.ts';
import { toJsonText } from './terminal.ts';

/** `swaplore contradictions`: how the recorded outcomes stand to the rules and to each other. */
export const contradictions: Command = {
  name: 'contradictions',
  takes: '',
  positionals: { min: 0, max: 0 },
  describe: 'Show which outcomes, rules and claims do not agree, and what would decide what is open.',
  options: [folderOption, todayOption, jsonOption, noCacheOption],
  run: async (args, terminal, program) => {
    const today = readToday(args);
    const { snapshot, root } = await openOneBase(args, terminal, program);
    const report = collectContradictions(snapshot);
    const findings = runToEnd(snapshot, today, reportedChecks);
    const folder = shownPath(root, terminal);
    const shown = findings.map(({ place, ...rest }) => ({
      ...rest,
      place: { ...place, file: shownFile(folder, place.file) },
    }));
    if (args.values['json'] === true) terminal.out(toJsonText(report.data));
    else {
      terminal.out(
        documentText(contradictionsDocument(report, shown, shortName(snapshot.config.name ?? folder)), terminal),
      );
    }
    if (findings.some((finding) => finding.check === 'internal-check-failed')) return exitCodes.failed;
    return findings.some((finding) => finding.severity === 'error') ? exitCodes.findings : exitCodes.clean;
  },
};
