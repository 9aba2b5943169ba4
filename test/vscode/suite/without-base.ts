import { commands, workspace } from 'vscode';
import { equal, until } from './assert.ts';
import { runMocha } from './run-mocha.ts';
import { extension, findingsIn, open, settled, uriOf } from './window.ts';

/** Called by the extension host. */
export function run(): Promise<void> {
  return runMocha(() => {
    describe('a folder without a base', declareTests);
  });
}

function declareTests(): void {
  it('leaves the extension asleep', async () => {
    await open('notes.yaml');
    await new Promise((resolve) => setTimeout(resolve, 1000));
    equal(extension().isActive, false);
  });

  it('starts no server where a command wakes it', async () => {
    await commands.executeCommand('swaplore.showLog');
    equal(extension().isActive, true);
    equal(extension().exports.isServing, false);
    equal(extension().exports.statusText, undefined);
  });

  it('starts one when a base is made, and ends it when the base is gone', async () => {
    await workspace.fs.writeFile(uriOf('swaplore.yaml'), new TextEncoder().encode('swaplore: 1\n'));
    await settled();
    await until('the findings', () => findingsIn('notes.yaml').length > 0);
    await workspace.fs.delete(uriOf('swaplore.yaml'));
    await until('the server to end', () => !extension().exports.isServing);
    equal(findingsIn('notes.yaml'), []);
    equal(extension().exports.statusText, undefined);
  });
}
