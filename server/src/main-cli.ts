import { runCli } from './cli/run-cli.ts';

/** Set by the build from package.json. */
declare const SWAPLORE_VERSION: string;

const { stdout, stderr, env } = process;

stdout.on('error', (error: NodeJS.ErrnoException) => {
  // A reader that has seen enough, such as `head`, is no failure.
  if (error.code === 'EPIPE') return;
  stderr.write(`swaplore: The output cannot be written: ${error.message}.\n`);
  process.exit(2);
});

process.exitCode = await runCli(
  process.argv.slice(2),
  {
    out: (text) => stdout.write(text),
    err: (text) => stderr.write(text),
    cwd: process.cwd(),
    columns: stdout.isTTY ? Math.max(40, stdout.columns || 80) : 80,
    hasColour: stdout.isTTY && !env['NO_COLOR'],
  },
  SWAPLORE_VERSION,
);
