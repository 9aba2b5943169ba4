/**
 * Runs the checks of one base after every change and shows what they find.
 * Invariant 10: runs go in slices and give way to the next change. Invariant 11: until the base is indexed and has been checked
 * once, open files show what can be said of them alone; what is shown belongs to the newest snapshot or is dropped.
 * Findings of recorded values come first. Reasoning over several records at once may take longer: it follows, unless it is done at once.
 */
import type { CancellationToken } from 'vscode-languageserver';
import { configPath } from '../core/checks/config-invalid.ts';
import type { Check } from '../core/checks/define-check.ts';
import { jointContradiction } from '../core/checks/joint-contradiction.ts';
import { notDecided } from '../core/checks/not-decided.ts';
import type { FindingsByFile } from '../core/checks/raised.ts';
import { checks } from '../core/checks/registry.ts';
import { type CheckedBase, runChecks } from '../core/checks/run-checks.ts';
import { gatherBaseFacts } from '../core/features/base-facts.ts';
import type { CheckedText } from '../core/features/checked-text.ts';
import { Snapshot } from '../core/index/snapshot.ts';
import { drained } from '../core/terms/drained.ts';
import { remembered } from '../core/terms/remembered.ts';
import { Cancelled, runInSlices } from '../host/run-in-slices.ts';
import type { BaseSession } from './base-session.ts';
import type { ShownFile, ShownFindings } from './shown-findings.ts';
import type { TextDocument } from './text-document.ts';
import type { World } from './world.ts';

const joint: ReadonlySet<Check> = new Set<Check>([jointContradiction, notDecided]);
const jointChecks = checks.filter((check) => joint.has(check));
const quickChecks = checks.filter((check) => !joint.has(check));
const aloneChecks = checks.filter(({ scope }) => scope === 'file' || scope === 'config');

/** Time a person needs between two keystrokes of one word; checking in between would only be given up again. */
export const typingMs = 25;

/** Whom a checker tells what. */
export interface CheckerOptions {
  readonly world: World;
  /** Called for every file whose diagnostics change. */
  readonly onFile: (file: ShownFile) => void;
  /** Called when everything is shown for the newest snapshot. */
  readonly onChecked: () => void;
  /** Called with what failed in the server itself. */
  readonly onError: (error: unknown) => void;
}

/** The checks of one base. */
export class BaseChecker {
  private turn = 0;
  /** The turn whose findings are all shown. */
  private finished = -1;
  private isFirstRunning = false;
  private isStopped = false;
  private quick: CheckedBase | undefined;
  private joint: CheckedBase | undefined;
  private waiting: (() => void)[] = [];

  constructor(
    private readonly session: BaseSession,
    private readonly shown: ShownFindings,
    private readonly options: CheckerOptions,
  ) {}

  /** To be called after every change of the session's snapshot: checks it, soon. */
  restart(): void {
    const turn = ++this.turn;
    this.check(turn).catch((error: unknown) => {
      // What was under way may fail for no better reason than that the client is gone.
      if (!(error instanceof Cancelled) && !this.isStopped) this.options.onError(error);
      if (turn === this.turn) this.finish(turn);
    });
  }

  /** Gives up what is under way, for good. */
  stop(): void {
    this.isStopped = true;
    this.turn++;
    this.finish(this.turn);
  }

  /** The runs over the newest snapshot, which hold every check; undefined where it is not checked yet. */
  get runs(): CheckedText['runs'] | undefined {
    const { quick, joint, session } = this;
    const isNewest = quick?.snapshot === session.snapshot && joint?.snapshot === session.snapshot;
    return isNewest ? [quick, joint] : undefined;
  }

  /** Resolves when the findings of the newest snapshot are shown, or the token is cancelled. */
  async settled(token: CancellationToken): Promise<void> {
    while (this.finished !== this.turn && !token.isCancellationRequested) {
      await new Promise<void>((resolve) => {
        this.waiting.push(resolve);
        token.onCancellationRequested(() => resolve());
      });
    }
  }

  private async check(turn: number): Promise<void> {
    const { world } = this.options;
    await world.pause(typingMs);
    if (this.turn !== turn) return;
    if (!this.quick) {
      await this.showFilesAlone(turn);
      if (!this.session.isIndexed) this.finish(turn);
      if (!this.session.isIndexed || this.isFirstRunning) return;
    }
    await this.checkBase(turn);
  }

  /** Of each open file what can be said without any other. */
  private async showFilesAlone(turn: number): Promise<void> {
    const { opened, snapshot } = this.session;
    const { configFile } = snapshot;
    const findings: FindingsByFile[] = [];
    for (const [path, document] of opened) {
      if (path === configPath) findings.push(findingsAlone(Snapshot.of(configFile, [])));
      else if (configFile.reading.isUsable) findings.push(findingsOfFile(document, path, snapshot));
    }
    await this.show(findings, new Set(opened.keys()), turn);
  }

  private async checkBase(turn: number): Promise<void> {
    const { world, onChecked } = this.options;
    const { snapshot } = this.session;
    const today = world.today();
    const isFirst = !this.quick;
    // A first run is not given up for a change: what follows builds on it.
    const isStale = () => this.isStopped || (this.turn !== turn && !isFirst);
    this.isFirstRunning = isFirst;
    try {
      // Hovers and lenses wait for it, and the first edit would.
      await runInSlices(gatherBaseFacts(snapshot), world, isStale);
      const quick = await runInSlices(
        runChecks(snapshot, { today, checks: quickChecks, before: this.quick }),
        world,
        isStale,
      );
      this.quick = quick;
      // What joint reasoning found before stands meanwhile, so that its marks do not blink; a changed file that has some waits for it.
      await this.update(this.joint ? [quick.findings, this.joint.findings] : [quick.findings], undefined, turn);
      this.joint = await runInSlices(
        runChecks(snapshot, { today, checks: jointChecks, before: this.joint }),
        world,
        isStale,
      );
      await this.show([quick.findings, this.joint.findings], undefined, turn);
    } finally {
      this.isFirstRunning = false;
    }
    if (this.turn === turn) {
      this.finish(turn);
      onChecked();
    } else if (isFirst && !this.isStopped) await this.checkBase(this.turn);
  }

  private async show(
    findings: readonly FindingsByFile[],
    within: ReadonlySet<string> | undefined,
    turn: number,
  ): Promise<void> {
    const stale = await this.update(findings, within, turn);
    // Somebody changed them and nobody told.
    if (stale.length > 0) await this.session.reread(stale);
  }

  /** Gives the files that hold something else than was checked. */
  private async update(
    findings: readonly FindingsByFile[],
    within: ReadonlySet<string> | undefined,
    turn: number,
  ): Promise<readonly string[]> {
    if (this.turn !== turn) return [];
    return this.shown.update(findings, within, {
      onFile: this.options.onFile,
      pause: async () => {
        await this.options.world.pause(0);
        if (this.turn !== turn) throw new Cancelled();
      },
    });
  }

  private finish(turn: number): void {
    this.finished = turn;
    for (const resolve of this.waiting.splice(0)) resolve();
  }
}

/** What can be said of an open file alone, for one state of its text and of the base's settings. */
function findingsOfFile(document: TextDocument, path: string, { configFile }: Snapshot): FindingsByFile {
  const known = aloneOf(document);
  let findings = known.get(configFile);
  if (!findings) {
    const { contentId } = document.content;
    findings = findingsAlone(Snapshot.of(configFile, [{ path, contentId, facts: document.reading.facts }]));
    known.set(configFile, findings);
  }
  return findings;
}

const aloneOf = remembered((_document: TextDocument) => new Map<Snapshot['configFile'], FindingsByFile>());

function findingsAlone(snapshot: Snapshot): FindingsByFile {
  return drained(runChecks(snapshot, { today: 0, checks: aloneChecks })).findings;
}
