import { runTests } from '@vscode/test-electron';

/** The program of a desktop VS Code; undefined where nobody named one. */
export const desktopProgram = process.env['VSCODE_EXECUTABLE'];

/** Runs a suite in a desktop VS Code. Throws where a test fails. */
export async function runOnDesktop(vscodeExecutablePath: string, folder: string, suite: string, extension: string) {
  await runTests({
    vscodeExecutablePath,
    extensionDevelopmentPath: extension,
    extensionTestsPath: suite,
    launchArgs: [folder, '--disable-workspace-trust', '--disable-extensions', '--skip-welcome', '--disable-updates'],
  });
}
