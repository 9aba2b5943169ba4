import type { BaseLanguageClient } from 'vscode-languageclient';
import { choicesRequest, traceRequest } from '../../server/src/lsp/protocol.ts';
import { pickRecord } from './choose-record.ts';
import type { AskForPage } from './report-panel.ts';

/** Has somebody choose an outcome that names captures, and says how to ask for what these come to; undefined where nobody chose. */
export async function chooseTrace(
  client: BaseLanguageClient,
  root: string,
): Promise<{ readonly outcome: string; readonly ask: AskForPage } | undefined> {
  const choices = await client.sendRequest(choicesRequest, { of: 'traces', uri: root });
  const outcome = await pickRecord(choices, {
    title: 'Trace Identity from Captures',
    asks: 'Of which outcome?',
    none: 'No outcome of this base names a capture. "swaplore capture" makes them.',
  });
  if (outcome === undefined) return undefined;
  return { outcome, ask: (nonce) => client.sendRequest(traceRequest, { outcome, uri: root, nonce }) };
}
