/** Invariant 13: an editor is shown what the command finds, over every connection. */

import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { describe, expect, it } from 'vitest';
import {
  type Diagnostic,
  DiagnosticSeverity,
  type Range,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver/node';
import { readMarkedBase } from '../harness/marked-base.ts';
import { folderOf, runCommand } from '../harness/run-cli.ts';
import type { Client, Files } from './harness/client.ts';
import { overEveryConnection } from './harness/connections.ts';

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

/** What `swaplore lint` finds in files, on the day the server of a client takes for today. */
function linted({ today }: Client, files: Files): FoundByFile {
  const day = today === undefined ? [] : ['--today', today];
  const { stdout } = runCommand(folderOf(files), ['lint', '--format', 'json', '--no-cache', ...day]);
  const found: Record<string, Found[]> = {};
  for (const { file, range, check, severity, message, help, related } of JSON.parse(stdout).findings) {
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
