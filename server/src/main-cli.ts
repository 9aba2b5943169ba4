import { runCli } from './cli/run-cli.ts';

/** Set by the build from package.json. */
declare const SWAPLORE_VERSION: string;

const { stdout, stderr, env } = process;

process.exitCode = await runCli(
  process.argv.slice(2),
  {
    out: (text) => stdout.write(text),
    err: (text) => stderr.write(text),
    cwd: process.cwd(),
    columns: stdout.isTTY ? Math.max(40, stdout.columns) : 80,
    hasColour: stdout.isTTY && !env['NO_COLOR'],
  },
  SWAPLORE_VERSION,
);
