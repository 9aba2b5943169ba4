import type { Command } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';

/** `swaplore serve`: the language server. */
export const serve: Command = {
  name: 'serve',
  takes: '',
  positionals: { min: 0, max: 0 },
  describe: 'Run the language server, for any editor.',
  options: [{ name: 'stdio', describe: 'Speak the language server protocol over standard input and output.' }],
  run: (args, _, { serveOverStdio }) => {
    if (args.values['stdio'] !== true) {
      throw new UsageError(
        'serve needs --stdio; there is no other way to speak to it.',
        'An editor starts it with: swaplore serve --stdio',
      );
    }
    serveOverStdio?.();
    return exitCodes.clean;
  },
};
