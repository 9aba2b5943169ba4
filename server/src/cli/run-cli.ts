import type { Program } from './command.ts';
import { commands } from './commands.ts';
import { runCommandLine } from './run-command-line.ts';
import type { Terminal } from './terminal.ts';

/** Runs one command line by any of all commands. */
export function runCli(argv: readonly string[], terminal: Terminal, program: Program): Promise<number> {
  return runCommandLine(commands, argv, terminal, program);
}
