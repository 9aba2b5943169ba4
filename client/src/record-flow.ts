import {
  type Disposable,
  type Memento,
  type QuickInput,
  QuickInputButtons,
  type QuickPickItem,
  Range,
  Uri,
  window,
  workspace,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  type Answer,
  type Answers,
  goOnQuestion,
  type Question,
  type RecordAnswer,
  type RecordedFile,
  type RecordedKind,
  type RecordParams,
  recordingWords,
  recordRequest,
} from '../../server/src/lsp/protocol.ts';
import { messageOf } from './message-of.ts';
import { writeNewFile } from './write-new-file.ts';

/** What a recording is made with. */
export interface RecordFlowOptions {
  readonly client: BaseLanguageClient;
  /** Address of the base. */
  readonly root: string;
  readonly kind: RecordedKind;
  /** Keeps the answers of recordings that were broken off. */
  readonly begun: Memento;
}

/** What somebody did at a question: answered it, went back, or stopped. */
type Move = Pick<RecordParams, 'given' | 'isBack'> | 'stop';

/** Asks for one record and writes it. The answers are kept until it is written. */
export class RecordFlow {
  private readonly name: string;
  /** Cautions that were shown. */
  private readonly shown = new Set<string>();

  constructor(private readonly options: RecordFlowOptions) {
    this.name = `recording ${options.kind} ${options.root}`;
  }

  /** Ends when the record is written and open, or somebody stopped. */
  async run(): Promise<void> {
    const begun = await this.begin();
    if (begun === undefined) return;
    let now = await this.ask({ answers: begun });
    while (now.question) {
      const move = await this.put(now.question, now.answers);
      if (move === 'stop') return;
      now = await this.ask({ answers: now.answers, ...move });
      await this.options.begun.update(this.name, now.answers);
    }
    if (now.record) await this.write(now, now.record);
  }

  /** The answers to go on from; undefined where somebody stopped at once. */
  private async begin(): Promise<Answers | undefined> {
    const kept = this.options.begun.get<Answers>(this.name) ?? {};
    if (Object.keys(kept).length === 0) return {};
    const items = [
      { label: recordingWords.goOn, answers: kept },
      { label: recordingWords.beginAnew, answers: {} },
    ];
    const title = goOnQuestion(this.options.kind);
    return (await window.showQuickPick(items, { title, ignoreFocusOut: true }))?.answers;
  }

  private ask(step: Omit<RecordParams, 'kind' | 'uri'>): Promise<RecordAnswer> {
    const { client, kind, root } = this.options;
    return client.sendRequest(recordRequest, { kind, uri: root, ...step });
  }

  private put(question: Question, answers: Answers): Promise<Move> {
    this.warn(question.cautions);
    const { input } = question;
    return 'items' in input ? this.choose(question, input) : this.type(question, input.unit, answers);
  }

  /** Shows cautions that were not shown yet. They do not wait for anybody; with something to press on they are shown in full. */
  private warn(cautions: readonly string[]): void {
    const news = cautions.filter((caution) => !this.shown.has(caution));
    for (const caution of news) this.shown.add(caution);
    if (news.length > 0) void window.showWarningMessage(news.join(' ').replaceAll('`', ''), 'Understood');
  }

  private choose(question: Question, { kind, items }: Extract<Question['input'], { items: unknown }>): Promise<Move> {
    const pick = window.createQuickPick<QuickPickItem & { readonly answer: Answer; readonly isUsual: boolean }>();
    pick.items = items;
    pick.canSelectMany = kind === 'choices';
    pick.matchOnDetail = true;
    pick.placeholder = pick.canSelectMany ? `${question.help} ${recordingWords.markNothing}` : question.help;
    const usual = items.filter(({ isUsual }) => isUsual);
    if (pick.canSelectMany) pick.selectedItems = usual;
    // An empty list would leave none active, or the first, as it happens.
    else if (usual.length > 0) pick.activeItems = usual;
    return this.moveAt(pick, question, () => {
      const chosen = pick.selectedItems.map(({ answer }) => answer);
      if (!pick.canSelectMany) return chosen.length > 0 ? { given: { answer: chosen[0] ?? null } } : undefined;
      return { given: { answer: chosen.length > 0 ? chosen.map(String) : null } };
    });
  }

  private type(question: Question, unit: string | undefined, answers: Answers): Promise<Move> {
    const box = window.createInputBox();
    const { usual = null } = question;
    box.value = usual === null ? '' : String(usual);
    const { typeNothing } = recordingWords;
    box.placeholder = unit === undefined ? typeNothing : `${unit}; ${typeNothing}`;
    box.prompt = question.help;
    return this.moveAt(box, question, async () => {
      const given = { typed: box.value };
      const { fault } = await this.ask({ answers, given });
      box.validationMessage = fault;
      return fault === undefined ? { given } : undefined;
    });
  }

  /** Shows an input until somebody answers, goes back or stops. An answer that is not taken is undefined. */
  private async moveAt(
    input: QuickInput & { onDidAccept: (listener: () => void) => Disposable } & Buttons,
    question: Question,
    accept: () => Move | undefined | Promise<Move | undefined>,
  ): Promise<Move> {
    input.title = question.asks;
    input.step = question.position;
    input.ignoreFocusOut = true;
    input.buttons = question.position > 1 ? [QuickInputButtons.Back] : [];
    try {
      return await new Promise<Move>((resolve, reject) => {
        input.onDidAccept(async () => {
          try {
            const move = await accept();
            if (move) resolve(move);
          } catch (error) {
            reject(error);
          }
        });
        input.onDidTriggerButton(() => resolve({ isBack: true }));
        input.onDidHide(() => resolve('stop'));
        input.show();
      });
    } finally {
      input.dispose();
    }
  }

  /** Makes the file, under another id where somebody made that file meanwhile, and opens it. */
  private async write({ answers }: RecordAnswer, record: RecordedFile): Promise<void> {
    const taken: string[] = [];
    for (let next: RecordedFile | undefined = record; next; ) {
      const uri = Uri.parse(next.uri);
      let isWritten: boolean;
      try {
        isWritten = await writeNewFile(uri, next.text);
      } catch (error) {
        const reason = messageOf(error);
        const what = `${workspace.asRelativePath(uri)} cannot be written. The answers are kept.`;
        void window.showErrorMessage(`${what} ${reason}`);
        return;
      }
      if (!isWritten) {
        taken.push(next.id);
        next = (await this.ask({ answers, taken })).record;
        continue;
      }
      await this.options.begun.update(this.name, undefined);
      const position = this.options.client.protocol2CodeConverter.asPosition(next.position);
      await window.showTextDocument(uri, { selection: new Range(position, position) });
      return;
    }
  }
}

/** What quick picks and input boxes have beside what they have in common. */
interface Buttons {
  buttons: readonly (typeof QuickInputButtons.Back)[];
  readonly onDidTriggerButton: (listener: () => void) => Disposable;
}
