import { runTests } from '@vscode/test-electron';
import type { SuiteCounts } from './suite-counts.ts';

/** The program of a VS Code on a desktop; undefined where nobody named one. */
export const desktopProgram = process.env['VSCODE_EXECUTABLE'];

/** What a run on a desktop is started with: paths of the program, of the folder to open, of the extension and of the bundled suite. */
interface DesktopRun {
  readonly program: string;
  readonly folder: string;
  readonly extension: string;
  readonly suite: string;
}

/** Runs a suite in a VS Code on a desktop, which prints its tests. It counts as one. Throws where a test fails. */
export async function runOnDesktop({ program, folder, extension, suite }: DesktopRun): Promise<SuiteCounts> {
  await runTests({
    vscodeExecutablePath: program,
    extensionDevelopmentPath: extension,
    extensionTestsPath: suite,
    launchArgs: [folder, '--disable-workspace-trust', '--disable-extensions', '--skip-welcome', '--disable-updates'],
  });
  return { passed: 1, failed: 0, skipped: 0 };
}
