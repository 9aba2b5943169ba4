import { runTests } from '@vscode/test-electron';
import { isVerdict, readCounts, type SuiteCounts } from './suite-counts.ts';

/** The program of a VS Code on a desktop; undefined where nobody named one. */
export const desktopProgram = process.env['VSCODE_EXECUTABLE'];

/** What a run on a desktop is started with: paths of the program, of the folder to open, of the extension and of the bundled suite. */
interface DesktopRun {
  readonly program: string;
  readonly folder: string;
  readonly extension: string;
  readonly suite: string;
}

/** Runs a suite in a VS Code on a desktop. Throws where it does not come to its end. */
export async function runOnDesktop({ program, folder, extension, suite }: DesktopRun): Promise<SuiteCounts> {
  const printed: string[] = [];
  const { write } = process.stdout;
  // What the editor prints is passed on to here, and nowhere else.
  process.stdout.write = (text: string | Uint8Array) => {
    printed.push(String(text));
    return true;
  };
  const run = runTests({
    vscodeExecutablePath: program,
    extensionDevelopmentPath: extension,
    extensionTestsPath: suite,
    launchArgs: [folder, '--disable-workspace-trust', '--disable-extensions', '--skip-welcome', '--disable-updates'],
  });
  // A run in which a test fails is rejected, and its counts say so.
  await run.catch((error: unknown) => printed.push(`\n${error}`));
  process.stdout.write = write;
  const lines = printed.join('').split('\n');
  for (const line of lines) if (isVerdict(line)) console.log(line);
  return readCounts(lines);
}
