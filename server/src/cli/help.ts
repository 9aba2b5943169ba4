import { wrapText } from '../core/reports/render-text.ts';
import type { Command } from './command.ts';
import type { Terminal } from './terminal.ts';

/** The page of `swaplore --help`. */
export function helpPage(commands: readonly Command[], terminal: Terminal): string {
  const lines = [
    'Usage: swaplore COMMAND [options]',
    '',
    ...wrapText(
      'Checks a drive-repair bench’s records of board swaps, and says which of them break which rules. Powering a drive can cost data: where the data matters to anyone, leave it to a professional recovery lab.',
      terminal.columns,
    ),
    '',
    ...entries(
      commands.map((command) => [usageOf(command), command.describe]),
      terminal,
    ),
    '',
    ...entries(
      [
        ['--help', 'This page, or that of a command.'],
        ['--version', 'The version of swaplore.'],
      ],
      terminal,
    ),
    '',
    ...wrapText(
      'Exit code: 0 nothing at error level, 1 findings at error level or too many warnings, 2 could not run, 3 our own failure.',
      terminal.columns,
    ),
  ];
  return `${lines.join('\n')}\n`;
}

/** The page of `swaplore COMMAND --help`. */
export function commandHelp(command: Command, terminal: Terminal): string {
  const options = command.options.map(
    ({ name, value, describe }) => [value === undefined ? `--${name}` : `--${name} ${value}`, describe] as const,
  );
  const lines = [`Usage: swaplore ${usageOf(command)} [options]`, '', ...wrapText(command.describe, terminal.columns)];
  if (options.length > 0) lines.push('', ...entries(options, terminal));
  return `${lines.join('\n')}\n`;
}

function usageOf(command: Command): string {
  return command.takes === '' ? command.name : `${command.name} ${command.takes}`;
}

function entries(pairs: readonly (readonly [string, string])[], terminal: Terminal): string[] {
  const left = Math.max(...pairs.map(([name]) => name.length)) + 4;
  return pairs.flatMap(([name, text]) => {
    const [first = '', ...rest] = wrapText(text, terminal.columns - left).map((line) => line.trimStart());
    return [`  ${name.padEnd(left - 2)}${first}`, ...rest.map((line) => ' '.repeat(left) + line)];
  });
}
