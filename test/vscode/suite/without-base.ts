import { commands, languages, window, workspace } from 'vscode';
import type { TreeElement } from '../../../client/src/base-tree.ts';
import { equal, match, until } from './assert.ts';
import { runMocha } from './run-mocha.ts';
import { extension, findingsIn, open, savedText, settled, uriOf } from './window.ts';

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
    equal(await listed(), ['Outcomes of no recorded family']);
    await workspace.fs.delete(uriOf('swaplore.yaml'));
    await until('the server to end', () => !extension().exports.isServing);
    equal(findingsIn('notes.yaml'), []);
    equal(extension().exports.statusText, undefined);
    equal(await listed(), []);
  });

  it('lists bases where there are several, and says where one holds nothing', async () => {
    const config = (name: string) => new TextEncoder().encode(`swaplore: 1\nname: ${name}\n`);
    await workspace.fs.writeFile(uriOf('swaplore.yaml'), config('Outer bench'));
    await workspace.fs.writeFile(uriOf('inner/swaplore.yaml'), config('Inner bench'));
    await until('both bases', async () => (await listed()).length === 2);
    await settled();
    equal(await listed(), ['Inner bench', 'Outer bench']);
    const [inner] = await extension().exports.tree.getChildren();
    equal(await listed(inner), ['No record yet']);
    await workspace.fs.delete(uriOf('inner'), { recursive: true });
    await workspace.fs.delete(uriOf('swaplore.yaml'));
    await until('the server to end', () => !extension().exports.isServing);
  });

  it('makes a base of the folder that is open, and leaves what is there', async () => {
    await workspace.fs.writeFile(uriOf('README.md'), new TextEncoder().encode('Ours.'));
    await acceptAll('swaplore.createBase');
    equal(window.activeTextEditor?.document.uri.toString(), uriOf('swaplore.yaml').toString());
    equal(await savedText('README.md'), 'Ours.');
    match(await savedText('.github/workflows/swaplore.yml'), /swaplore lint/);
    await settled();
    await until('the findings of the file that was there', () => findingsIn('notes.yaml').length > 0);
    const records = await workspace.findFiles('**/*.yaml');
    equal(records.length, 9);
    equal(
      records.filter(({ path }) => !path.endsWith('/notes.yaml')).flatMap((uri) => languages.getDiagnostics(uri)),
      [],
    );
  });

  it('makes no base where there is one', async () => {
    const config = await savedText('swaplore.yaml');
    await workspace.fs.delete(uriOf('.gitignore'));
    await acceptAll('swaplore.createBase');
    equal(await savedText('swaplore.yaml'), config);
    equal(await isThere('.gitignore'), false);
  });
}

/** Runs a command and says yes to whatever it asks. */
async function acceptAll(command: string): Promise<void> {
  let isDone = false;
  const done = commands.executeCommand(command).then(() => {
    isDone = true;
  });
  await until(`${command} to end`, async () => {
    // A list that is not filled yet would be accepted with nothing in it.
    await new Promise((resolve) => setTimeout(resolve, 300));
    await commands.executeCommand('workbench.action.acceptSelectedQuickOpenItem');
    return isDone;
  });
  await done;
}

async function isThere(path: string): Promise<boolean> {
  return workspace.fs.stat(uriOf(path)).then(
    () => true,
    () => false,
  );
}

/** The labels of what the view lists below an element, or at its top. */
async function listed(element?: TreeElement): Promise<unknown[]> {
  const { tree } = extension().exports;
  return (await tree.getChildren(element)).map((one) => tree.getTreeItem(one).label);
}
