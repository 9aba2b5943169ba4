import type { Check } from '../core/checks/define-check.ts';
import { wrapText } from '../core/reports/render-text.ts';
import { visible } from '../core/text/visible.ts';
import { type Command, jsonOption } from './command.ts';
import { exitCodes } from './exit-codes.ts';
import { getCheck } from './get-check.ts';
import { styled, type Terminal, toJsonText } from './terminal.ts';

/** Longest example file that is printed whole. */
const longestExample = 2000;

/** `swaplore check-id`: what a check looks for and why. */
export const checkId: Command = {
  name: 'check-id',
  takes: 'ID',
  positionals: { min: 1, max: 1 },
  describe: 'Explain a check: what it looks for, why it matters, and an example.',
  options: [jsonOption],
  run: (args, terminal) => {
    const [id = ''] = args.positionals;
    const check = getCheck(id);
    terminal.out(args.values['json'] === true ? toJson(check) : explain(check, terminal));
    return exitCodes.clean;
  },
};

function toJson({ check, group, severity, alsoSeverity, why }: Check): string {
  return toJsonText({ check, group, severity, alsoSeverity, why });
}

function explain(check: Check, terminal: Terminal): string {
  const severity = check.alsoSeverity === undefined ? check.severity : `${check.severity} or ${check.alsoSeverity}`;
  const [example] = check.examples();
  const lines = [
    styled(terminal, 'bold', `${check.check} (${severity})`),
    ...wrapText(check.why, terminal.columns, '  '),
  ];
  if (example) {
    lines.push('', `Example: ${example.title}.`);
    for (const [path, text] of Object.entries(example.files)) {
      if (typeof text === 'string' && text.length <= longestExample)
        lines.push(
          '',
          `  ${path}`,
          ...text
            .trimEnd()
            .split('\n')
            .map((line) => `    ${visible(line)}`),
        );
    }
  }
  return `${lines.join('\n')}\n`;
}
