import { parseArgs } from 'node:util';
import { nearestClause, nearNames } from '../core/text/near-names.ts';
import { visible } from '../core/text/visible.ts';
import type { Arguments, Command, Program } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { commandHelp, helpPage } from './help.ts';
import type { Terminal } from './terminal.ts';

/** Runs one command line (without the program's own name) by one of these commands and gives its exit code. Never throws. */
export async function runCommandLine(
  commands: readonly Command[],
  argv: readonly string[],
  terminal: Terminal,
  program: Program,
): Promise<number> {
  try {
    return await dispatch(commands, argv, terminal, program);
  } catch (error) {
    if (error instanceof UsageError) {
      terminal.err(`swaplore: ${visible(error.message)}\n${error.help === undefined ? '' : `${error.help}\n`}`);
      return exitCodes.couldNotRun;
    }
    const report = error instanceof Error ? (error.stack ?? error.message) : String(error);
    terminal.err(`swaplore ${program.version} failed. This is a fault of the program, not of the files:\n${report}\n`);
    return exitCodes.failed;
  }
}

function dispatch(
  commands: readonly Command[],
  argv: readonly string[],
  terminal: Terminal,
  program: Program,
): Promise<number> | number {
  const [name, ...rest] = argv;
  if (name === undefined || name === '--help' || name === '-h') {
    const isAsked = name !== undefined;
    (isAsked ? terminal.out : terminal.err)(helpPage(commands, terminal));
    return isAsked ? exitCodes.clean : exitCodes.couldNotRun;
  }
  const command = commands.find((candidate) => candidate.name === name);
  if (!command) throw unknownCommand(name, commands);
  if (rest.includes('--help') || rest.includes('-h')) {
    terminal.out(commandHelp(command, terminal));
    return exitCodes.clean;
  }
  return command.run(readArguments(command, rest), terminal, program);
}

function unknownCommand(name: string, commands: readonly Command[]): UsageError {
  const nearest = nearestClause(
    nearNames(
      name,
      commands.map((command) => command.name),
    ),
  );
  return new UsageError(`Command \`${name}\` is not known${nearest}.`, 'swaplore --help lists the commands.');
}

function readArguments(command: Command, argv: readonly string[]): Arguments {
  const options = Object.fromEntries(
    command.options.map(({ name, value, repeatable }) => [
      name,
      { type: value === undefined ? ('boolean' as const) : ('string' as const), multiple: repeatable === true },
    ]),
  );
  const help = `swaplore ${command.name} --help lists the options.`;
  let parsed: ReturnType<typeof parseArgs>;
  try {
    parsed = parseArgs({ args: [...argv], options, allowPositionals: true, strict: true });
  } catch (error) {
    const [reason = ''] = (error instanceof Error ? error.message : String(error)).split(/\.\s/);
    throw new UsageError(`${reason.replace(/\.$/, '')}.`, help);
  }
  const { min, max } = command.positionals;
  const { length } = parsed.positionals;
  if (length < min) throw new UsageError(`${command.name} needs ${command.takes}.`, help);
  if (length > max)
    throw new UsageError(
      `${command.name} takes ${max === 0 ? 'no arguments' : command.takes}, but ${length} ${length === 1 ? 'was' : 'were'} given.`,
      help,
    );
  return { positionals: parsed.positionals, values: parsed.values as Arguments['values'] };
}
