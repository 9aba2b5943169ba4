/** Invariant 13: an editor is shown what the command finds, over every connection. */

import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { describe, expect, it } from 'vitest';
import {
  type Diagnostic,
  DiagnosticSeverity,
  type Range,
  type TextDocumentEdit,
  type TextEdit,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver/node';
import { readMarkedBase } from '../harness/marked-base.ts';
import { folderOf, runCommand } from '../harness/run-cli.ts';
import type { Client, Files } from './harness/client.ts';
import { connectInMemory, overEveryConnection } from './harness/connections.ts';
import { editedText } from './harness/edited-text.ts';
import { Editor } from './harness/editor.ts';

/** What is found somewhere in a file. */
interface Found {
  readonly range: Range;
  readonly check: string;
  readonly severity: string;
  readonly message: string;
  readonly related: readonly { readonly file: string; readonly range: Range; readonly message: string }[];
}

/** Findings by file, in the order they are shown. */
type FoundByFile = Readonly<Record<string, readonly Found[]>>;

const bases: Readonly<Record<string, Files>> = {
  'the demo base': filesOf('knowledge'),
  'the bases of seeded faults': filesOf('test/fixtures/faults'),
};

function filesOf(folder: string): Files {
  const files = readMarkedBase(fileURLToPath(new URL(`../../${folder}`, import.meta.url)));
  return { 'swaplore.yaml': 'swaplore: 1\n', ...files };
}

const severityNames: Readonly<Record<DiagnosticSeverity, string>> = {
  [DiagnosticSeverity.Error]: 'error',
  [DiagnosticSeverity.Warning]: 'warning',
  [DiagnosticSeverity.Information]: 'info',
  [DiagnosticSeverity.Hint]: 'hint',
};

/** A finding as `swaplore lint` prints it. */
interface Printed extends Found {
  readonly file: string;
  readonly help?: string;
  readonly fixes?: readonly {
    readonly title: string;
    readonly kind: string;
    readonly edits: readonly (TextEdit & { readonly file: string })[];
  }[];
}

/** What `swaplore lint` prints of files, on the day the server of a client takes for today. */
function printed({ today }: Client, files: Files): readonly Printed[] {
  const day = today === undefined ? [] : ['--today', today];
  const { stdout } = runCommand(folderOf(files), ['lint', '--format', 'json', '--no-cache', ...day]);
  return JSON.parse(stdout).findings;
}

function linted(client: Client, files: Files): FoundByFile {
  const found: Record<string, Found[]> = {};
  for (const { file, range, check, severity, message, help, related } of printed(client, files)) {
    const whole = help === undefined ? message : `${message}\n${help}`;
    found[file] = [...(found[file] ?? []), { range, check, severity, message: whole, related }];
  }
  return found;
}

function toFound(client: Client, diagnostics: readonly Diagnostic[]): readonly Found[] {
  return diagnostics.map(({ range, code, severity, message, relatedInformation = [] }) => ({
    range,
    check: String(code),
    severity: severityNames[severity ?? DiagnosticSeverity.Hint],
    message: String(message),
    related: relatedInformation.map(({ location, message }) => {
      return { file: client.pathOf(location.uri), range: location.range, message };
    }),
  }));
}

overEveryConnection((connect) => {
  describe.each(Object.entries(bases))('%s', (_, files) => {
    it('is shown with what the command finds', async () => {
      const client = await connect(files);
      const expected = linted(client, files);
      const shown = (): FoundByFile =>
        Object.fromEntries(
          Object.entries(client.diagnostics).map(([path, diagnostics]) => [path, toFound(client, diagnostics)]),
        );
      // What does not come about shows below, as a difference.
      await client.until(() => isDeepStrictEqual(shown(), expected)).catch(() => undefined);
      expect(shown()).toEqual(expected);
    });

    it('is given with what the command finds to clients that ask', async () => {
      const client = await connect(files, {
        capabilities: {
          textDocument: { diagnostic: { relatedInformation: true } },
          workspace: { diagnostics: { refreshSupport: true }, workspaceFolders: true },
        },
      });
      const { items } = await client.ask(WorkspaceDiagnosticRequest.type, { previousResultIds: [] });
      const given: FoundByFile = Object.fromEntries(
        items.map((item) => [client.pathOf(item.uri), toFound(client, item.kind === 'full' ? item.items : [])]),
      );
      expect(given).toEqual(linted(client, files));
    });
  });
});

const untidy: Files = {
  'swaplore.yaml': 'swaplore: 1\n',
  'makers.yaml': 'kind: maker\r\nid: wren\r\nname: 0040 # 💾\r\nouuis: [00-00-5E]\r\n',
  'families.yaml':
    '{kind: famly, id: tern-2, x-a: "💾", maker: wren, name: 7}\n---\nkind: family\nid: tern-3\nnoets: a\n',
};

/** What a remedy is for, how sure it is, and what it makes of the file. */
type Remedy = readonly [file: string, check: string, title: string, kind: string, text: string];

describe.each(Object.entries({ ...bases, 'files with odd characters': untidy }))('remedies in %s', (_, files) => {
  it('are offered as the command prints them, and make the same of the text', async () => {
    const editor = await Editor.of(connectInMemory, files);
    const { texts, client } = editor;
    const ofCommand = printed(client, files).flatMap(({ file, check, fixes = [] }) =>
      fixes.map(({ title, kind, edits }): Remedy => {
        expect(edits.every((edit) => edit.file === file)).toBe(true);
        return [file, check, title, kind, editedText(texts[file] ?? '', edits)];
      }),
    );
    const ofEditor: Remedy[] = [];
    for (const path of Object.keys(texts)) {
      for (const { title, diagnostics, isPreferred, edit } of await editor.offered(path, ['quickfix'])) {
        const [change] = (edit?.documentChanges ?? []) as TextDocumentEdit[];
        const text = editedText(texts[path] ?? '', change?.edits as TextEdit[]);
        ofEditor.push([path, String(diagnostics?.[0]?.code), title, isPreferred ? 'fix' : 'ask', text]);
      }
    }
    const linesOf = (remedies: readonly Remedy[]): string[] => remedies.map(String).sort();
    const isSure = ([, , , kind]: Remedy): boolean => kind === 'fix';
    expect(linesOf(ofEditor.filter(isSure))).toEqual(linesOf(ofCommand.filter(isSure)));
    // An editor offers more than findings carry; all of that has to be chosen.
    expect(linesOf(ofEditor)).toEqual(expect.arrayContaining(linesOf(ofCommand)));
  });

  it('do not get in the way of one another where all are made at once', async () => {
    const editor = await Editor.of(connectInMemory, files);
    for (const path of Object.keys(editor.texts)) {
      for (const { edit } of await editor.offered(path, ['source.fixAll'])) await editor.apply(edit ?? {});
      expect(await editor.offered(path, ['source.fixAll'])).toEqual([]);
      expect((await editor.offered(path)).filter(({ isPreferred }) => isPreferred)).toEqual([]);
    }
  });
});
