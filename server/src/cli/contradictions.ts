import { outcomeBreaksRule } from '../core/checks/outcome-breaks-rule.ts';
import { byCodeUnits } from '../core/index/snapshot.ts';
import { collectContradictions, contradictionsDocument } from '../core/reports/contradictions.ts';
import { renderText } from '../core/reports/render-text.ts';
import { type Command, folderOption, jsonOption, todayOption } from './command.ts';
import { exitCodes } from './exit-codes.ts';
import { findingsOf, openOneBase, shownPath } from './open-base.ts';
import { readToday } from './read-today.ts';
import { styled, visible } from './terminal.ts';

/** `swaplore contradictions`: how the recorded outcomes stand to the rules. */
export const contradictions: Command = {
  name: 'contradictions',
  takes: '',
  positionals: { min: 0, max: 0 },
  describe: 'Show how the recorded outcomes stand to the rules, and which of them break one.',
  options: [folderOption, todayOption, jsonOption],
  run: async (args, terminal) => {
    const today = readToday(args);
    const { snapshot, root } = await openOneBase(args, terminal);
    const data = collectContradictions(snapshot);
    const findings = findingsOf(snapshot, today, [outcomeBreaksRule]).sort((a, b) => byCodeUnits(a.message, b.message));
    const name = snapshot.config.name ?? shownPath(root, terminal);
    if (args.values['json'] === true) terminal.out(`${JSON.stringify(data, undefined, 2)}\n`);
    else {
      const style = { width: terminal.columns, strong: (text: string) => styled(terminal, 'bold', text) };
      terminal.out(visible(renderText(contradictionsDocument(data, findings, name), style)));
    }
    return findings.some((finding) => finding.severity === 'error') ? exitCodes.findings : exitCodes.clean;
  },
};
