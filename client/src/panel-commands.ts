import type { BaseLanguageClient } from 'vscode-languageclient';
import { type ReportParams, reportRequest } from '../../server/src/lsp/protocol.ts';
import { chooseRecord, type RecordChoice } from './choose-record.ts';
import { chooseImages } from './compare-images.ts';
import type { AskForPage } from './report-panel.ts';
import { chooseReview } from './review-changes.ts';
import { chooseTrace } from './trace-identity.ts';

/** What a panel shows. */
export interface ShownPanel {
  /** Unlike that of any other panel of its base. */
  readonly key: string;
  /** Whether it changes with the base. */
  readonly follows: boolean;
  readonly ask: AskForPage;
  /** The report it opens with; absent where it has one page only. */
  readonly first?: string;
  /** What is done until it shows. */
  readonly title: string;
}

/** Has somebody choose what to show of a base; undefined where they choose nothing. `id` names the record, where that is settled. */
export type ChoosePanel = (client: BaseLanguageClient, root: string, id?: string) => Promise<ShownPanel | undefined>;

/** The commands that show a panel, by name. */
export const panelCommands = {
  'swaplore.contradictions': async (client, root) =>
    reportPanel(client, root, 'contradictions', 'Checking outcomes against rules'),
  'swaplore.showOdds': recordPanel(ofFamily('Show Odds'), 'family', 'Working out odds'),
  'swaplore.planTrial': recordPanel(ofFamily('Plan the Next Trial'), 'plan', 'Planning the next trial'),
  'swaplore.findDonors': recordPanel(
    {
      of: 'drives',
      title: 'Find Donors for a Drive',
      asks: 'For which drive?',
      none: 'No drive is recorded in this base.',
    },
    'donors',
    'Ranking donors',
  ),
  'swaplore.traceIdentity': async (client, root) => {
    const chosen = await chooseTrace(client, root);
    if (!chosen) return undefined;
    return { key: `trace ${chosen.outcome}`, follows: true, ask: chosen.ask, title: 'Tracing captures' };
  },
  'swaplore.compareImages': async (client, root) => {
    const ask = await chooseImages(client, root);
    return ask && { key: 'images', follows: false, ask, title: 'Comparing images' };
  },
  'swaplore.reviewChanges': async (client, root) => {
    const ask = await chooseReview(client, root);
    return ask && { key: 'review', follows: false, ask, title: 'Reviewing changes' };
  },
} as const satisfies Readonly<Record<string, ChoosePanel>>;

/** The name of a command that shows a panel. */
export type PanelCommand = keyof typeof panelCommands;

/** Whether a command shows a panel. */
export function isPanelCommand(command: string): command is PanelCommand {
  return Object.hasOwn(panelCommands, command);
}

function ofFamily(title: string): RecordChoice {
  return { of: 'families', title, asks: 'Of which family?', none: 'No family is recorded in this base.' };
}

/** The report about the record that is named, else the one at the cursor, else the one they choose. */
function recordPanel(choice: RecordChoice, about: 'family' | 'plan' | 'donors', title: string): ChoosePanel {
  return async (client, root, named) => {
    const id = named ?? (await chooseRecord(client, root, choice));
    return id === undefined ? undefined : reportPanel(client, root, `${about}/${id}`, title);
  };
}

/** A base has one panel for its reports; where it shows another one, it turns to this. */
function reportPanel(client: BaseLanguageClient, root: string, first: string, title: string): ShownPanel {
  const ask: AskForPage = (nonce, report) =>
    // The server knows which reports there are.
    client.sendRequest(reportRequest, { report: report as ReportParams['report'], uri: root, nonce });
  return { key: 'reports', follows: true, ask, first, title };
}
