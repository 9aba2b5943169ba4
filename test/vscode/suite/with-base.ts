import {
  CancellationTokenSource,
  type CodeAction,
  CodeActionKind,
  type CodeLens,
  type CompletionList,
  ConfigurationTarget,
  commands,
  type Hover,
  type MarkdownString,
  type Position,
  TabInputWebview,
  type TextDocument,
  type TextEdit,
  type TreeItem,
  WorkspaceEdit,
  window,
  workspace,
} from 'vscode';
import type { TreeElement } from '../../../client/src/base-tree.ts';
import { equal, match, ok, until } from './assert.ts';
import { runMocha } from './run-mocha.ts';
import { extension, findingsIn, open, savedText, settled, uriOf } from './window.ts';

/** The outcome that `prepare-folder` plants a fault in. */
const outcome = 'bench/outcomes/2024-09-17-tansy-311-312.yaml';

/** Called by the extension host. */
export function run(): Promise<void> {
  return runMocha(() => {
    describe('a folder with a base', declareTests);
  });
}

function declareTests(): void {
  it('wakes the extension, which reads the base and says how it stands', async () => {
    match(await settled(), /^\$\(error\) Swaplore: 1 error$/);
    ok(extension().exports.isServing, 'no server runs');
  });

  it('has findings also in files that nobody has opened', async () => {
    const [finding] = await until('the fault', () => findingsIn(outcome).length > 0 && findingsIn(outcome));
    match(finding?.message ?? '', /`chip_move`/);
  });

  it('explains a key on hover', async () => {
    const document = await open(outcome);
    match(await hoverText(document, 'rom:'), /ROM/);
  });

  it('completes values', async () => {
    const document = await open(outcome);
    const labels = await completionLabels(document, 'rom: ');
    ok(labels.includes('chip_moved'), `offered are ${labels}`);
  });

  it('mends a fault, and what is saved has no finding any more', async () => {
    const document = await open(outcome);
    const [fault] = findingsIn(outcome);
    const actions = await commands.executeCommand<CodeAction[]>(
      'vscode.executeCodeActionProvider',
      document.uri,
      fault?.range,
      CodeActionKind.QuickFix.value,
    );
    const fix = actions.find(({ edit }) => edit);
    ok(fix?.edit, `offered are ${actions.map(({ title }) => title)}`);
    ok(await workspace.applyEdit(fix.edit), 'the edit was refused');
    ok(await document.save(), 'it was not saved');
    match(await savedText(outcome), /^rom: chip_moved$/m);
    await until('the finding to go', () => findingsIn(outcome).every(({ message }) => !message.includes('chip_move`')));
    await until('the status to change', () => !extension().exports.statusText?.includes('error'));
  });

  it('renames an id wherever it is named', async () => {
    const document = await open('bench/drives/tansy-2.yaml');
    const edit = await commands.executeCommand<WorkspaceEdit>(
      'vscode.executeDocumentRenameProvider',
      document.uri,
      positionIn(document, 'd-0311'),
      'd-9311',
    );
    const changed = edit.entries().map(([uri]) => uri.path);
    equal(changed.length, 6);
    ok(await workspace.applyEdit(edit), 'the edit was refused');
    ok(await workspace.saveAll(), 'not all was saved');
    match(await savedText('bench/drives/tansy-2.yaml'), /^id: d-9311$/m);
    match(await savedText(outcome), /^patient: d-9311$/m);
  });

  it('formats a file', async () => {
    const document = await open('bench/untidy.yaml');
    const edits = await commands.executeCommand<TextEdit[]>('vscode.executeFormatDocumentProvider', document.uri, {
      tabSize: 2,
      insertSpaces: true,
    });
    const edit = new WorkspaceEdit();
    edit.set(document.uri, edits);
    ok(await workspace.applyEdit(edit), 'the edit was refused');
    equal(document.getText(), 'kind: maker\nid: tidy\nname: Tidy\n');
  });

  it('follows settings', async () => {
    const { uri } = await open('bench/rules/tansy-2.yaml');
    const lenses = async () =>
      (await commands.executeCommand<CodeLens[]>('vscode.executeCodeLensProvider', uri)).length;
    await until('figures above both rules', async () => (await lenses()) === 2);
    await workspace.getConfiguration('swaplore').update('lenses.rules', false, ConfigurationTarget.Global);
    await until('the figures to go', async () => (await lenses()) === 0);
    await workspace.getConfiguration('swaplore').update('lenses.rules', undefined, ConfigurationTarget.Global);
  });

  it('leaves YAML files alone that belong to no base', async () => {
    const document = await open('elsewhere/notes.yaml');
    equal(await hoverText(document, 'rom:'), '');
    equal(await completionLabels(document, 'rom: '), []);
    equal(findingsIn('elsewhere/notes.yaml'), []);
  });

  it('offers what is made known of it in the palette', async () => {
    const { contributes } = extension().packageJSON;
    const known = await commands.getCommands();
    const missing = contributes.commands.filter(({ command }: { command: string }) => !known.includes(command));
    equal(missing, []);
    await commands.executeCommand('swaplore.checkNow');
    await settled();
  });

  it('opens the report of a base in a panel, and the same panel when asked again', async () => {
    const panels = () =>
      window.tabGroups.all.flatMap(({ tabs }) => tabs).filter(({ input }) => input instanceof TabInputWebview);
    await commands.executeCommand('swaplore.contradictions');
    const [panel] = await until('the panel', () => panels().length > 0 && panels());
    equal(panel?.label, 'Tidemill Lane bench: Outcomes against rules');
    await commands.executeCommand('swaplore.contradictions');
    equal(panels().length, 1);
    await commands.executeCommand('swaplore.showOdds', uriOf('bench/families/tansy-2.yaml').toString(), 'tansy-2');
    await until('the page of the family', () => panels()[0]?.label === 'Tidemill Lane bench: tansy-2');
    equal(panels().length, 1);
  });

  it('lists records family by family, and says what outcomes come to', async () => {
    await settled();
    const { tree } = extension().exports;
    const texts = async (at: TreeElement | undefined) =>
      (await tree.getChildren(at)).map((element) => ({ element, ...textsOf(tree.getTreeItem(element)) }));
    const top = await texts(undefined);
    const family = top.find(({ label }) => label === 'Tansy 2');
    match(family?.description ?? '', /^\d+ drives, .* pairs? worked \(ROM travelled\)/);
    ok(
      top.some(({ label }) => label === 'Makers'),
      'no makers are listed',
    );
    const groups = await texts(family?.element);
    equal(
      groups.map(({ label }) => label),
      ['Boards', 'Drives', 'Outcomes', 'Rules'],
    );
    const outcomes = await texts(groups[2]?.element);
    match(outcomes.find(({ label }) => label === '2024-09-17-tansy-311-312')?.description ?? '', /, reached /);
    equal(await tree.getChildren(outcomes[0]?.element), []);
  });

  it('explains a record of the list, and opens it where its id stands', async () => {
    const { tree } = extension().exports;
    const [family] = await tree.getChildren();
    ok(family, 'nothing is listed');
    const item = tree.getTreeItem(family);
    const { token } = new CancellationTokenSource();
    const { tooltip } = await tree.resolveTreeItem(item, family, token);
    match((tooltip as MarkdownString).value, /^\*\*Family\*\*/);
    await commands.executeCommand(item.command?.command ?? '', ...(item.command?.arguments ?? []));
    const { document, selection } = window.activeTextEditor ?? {};
    ok(document && selection, 'nothing was opened');
    match(document.lineAt(selection.start).text, /^id: /);
    match(document.getText(selection), /^[a-z0-9-]+$/);
  });
}

function textsOf({ label, description }: TreeItem): { readonly label: string; readonly description: string } {
  return { label: String(label), description: String(description) };
}

function positionIn(document: TextDocument, text: string): Position {
  return document.positionAt(document.getText().indexOf(text));
}

async function hoverText(document: TextDocument, at: string): Promise<string> {
  const hovers = await commands.executeCommand<Hover[]>(
    'vscode.executeHoverProvider',
    document.uri,
    positionIn(document, at),
  );
  return hovers.flatMap(({ contents }) => contents.map((content) => (content as MarkdownString).value)).join('\n');
}

async function completionLabels(document: TextDocument, after: string): Promise<string[]> {
  const position = positionIn(document, after).translate(0, after.length);
  const list = await commands.executeCommand<CompletionList>(
    'vscode.executeCompletionItemProvider',
    document.uri,
    position,
  );
  return list.items.map(({ label }) => (typeof label === 'string' ? label : label.label));
}
