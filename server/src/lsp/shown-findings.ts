import type { Diagnostic, DiagnosticRelatedInformation, Range } from 'vscode-languageserver';
import { DiagnosticSeverity } from 'vscode-languageserver';
import type { Finding, Place } from '../core/checks/finding.ts';
import type { FindingsByFile } from '../core/checks/raised.ts';
import { filesOf, type ResolvedFinding, resolveEach } from '../core/checks/resolve-findings.ts';
import { isEqual } from '../core/index/is-equal.ts';
import { SharedMap } from '../core/index/shared-map.ts';
import type { Severity } from '../core/terms/severities.ts';
import { byCodeUnits } from '../core/text/by-code-units.ts';
import { visible } from '../core/text/visible.ts';
import type { BaseSession, FileText } from './base-session.ts';
import { checkPage } from './check-page.ts';

/** What an editor is shown of one file. */
export interface ShownFile {
  readonly path: string;
  /** Names this state of the file's diagnostics; another state has another one. */
  readonly resultId: string;
  readonly diagnostics: readonly Diagnostic[];
  /** What they show. */
  readonly findings: readonly Finding[];
  /** The same, each with its diagnostic, as the diagnostics stand. */
  readonly found: ReadonlyMap<Finding, Diagnostic>;
}

/** Files whose texts are held at a time: a base may have findings in thousands, and many of them point into the same few. */
const filesAtATime = 64;

/** Files that are read, or shown, between two pauses. */
const filesPerPause = 8;

/** What diagnostics can carry besides a message. */
export interface DiagnosticOptions {
  readonly hasRelated: boolean;
  readonly hasCheckPages: boolean;
}

/** The findings of one base as an editor is shown them, file by file. */
export class ShownFindings {
  private readonly shown = new Map<string, ShownFile>();
  /** What is shown of all files; undefined where what is shown of some is not up to date with that of others. */
  private last: readonly FindingsByFile[] | undefined;
  private count = 0;

  constructor(
    private readonly session: BaseSession,
    private readonly options: DiagnosticOptions,
  ) {}

  /** What is shown now; files without findings are absent. */
  get files(): ReadonlyMap<string, ShownFile> {
    return this.shown;
  }

  /**
   * Brings what is shown to the findings of some runs together; where `within` is given, in these files alone. Calls `onFile` for every file whose
   * diagnostics change, also for those that have none any more. Gives the files that could not be brought up to date because they
   * are no longer what was checked. `pause` is called now and then; when it throws, the rest stays as it is.
   */
  async update(
    runs: readonly FindingsByFile[],
    within: ReadonlySet<string> | undefined,
    { onFile, pause }: { readonly onFile: (file: ShownFile) => void; readonly pause: () => Promise<void> },
  ): Promise<readonly string[]> {
    const changed: (readonly [path: string, findings: readonly Finding[]])[] = [];
    for (const path of within ?? this.differing(runs)) {
      const group = runs.flatMap((run) => run.get(path) ?? []).sort(byCheckAndMessage);
      if (group.length > 0) {
        if (!isEqual(this.shown.get(path)?.findings, group)) changed.push([path, group]);
      } else if (this.shown.delete(path)) {
        onFile({ path, resultId: this.nextId(), diagnostics: [], findings: [], found: new Map() });
      }
    }
    this.last = undefined;
    const stale = new Set<string>();
    for (let from = 0; from < changed.length; from += filesAtATime) {
      const batch = changed.slice(from, from + filesAtATime);
      const texts = await this.textsOf([...filesOf(batch.flatMap(([, group]) => group))], pause);
      for (const [position, [path, findings]] of batch.entries()) {
        if (position % filesPerPause === 0) await pause();
        const moved = placesOf(findings).filter((place) => isStale(place, texts));
        for (const { file } of moved) stale.add(file);
        if (moved.length > 0) continue;
        const file = { path, resultId: this.nextId(), ...this.toDiagnostics(findings, texts), findings };
        this.shown.set(path, file);
        onFile(file);
      }
    }
    if (!within && stale.size === 0) this.last = runs;
    return [...stale];
  }

  /** The files of which something else may have been found than is shown. */
  private differing(runs: readonly FindingsByFile[]): ReadonlySet<string> {
    const { last } = this;
    if (!last) return new Set([...this.shown.keys(), ...runs.flatMap((run) => [...run.keys()])]);
    const positions = [...(runs.length > last.length ? runs : last).keys()];
    return new Set(positions.flatMap((at) => [...(last[at] ?? noFindings).differingKeys(runs[at] ?? noFindings)]));
  }

  /** The texts of files, read a few at a time. */
  private async textsOf(paths: readonly string[], pause: () => Promise<void>): Promise<ReadonlyMap<string, FileText>> {
    const texts = new Map<string, FileText>();
    for (let from = 0; from < paths.length; from += filesPerPause) {
      if (from > 0) await pause();
      for (const entry of await this.session.textsOf(paths.slice(from, from + filesPerPause))) texts.set(...entry);
    }
    return texts;
  }

  private nextId(): string {
    return String(++this.count);
  }

  private toDiagnostics(
    group: readonly Finding[],
    texts: ReadonlyMap<string, FileText>,
  ): Pick<ShownFile, 'diagnostics' | 'found'> {
    const tapes = new Map(Array.from(texts, ([path, { tape }]) => [path, tape] as const));
    const found = new Map(
      resolveEach(group, tapes).map(([resolved, finding]) => [finding, this.toDiagnostic(resolved, texts)] as const),
    );
    return { diagnostics: [...found.values()], found };
  }

  private toDiagnostic(finding: ResolvedFinding, texts: ReadonlyMap<string, FileText>): Diagnostic {
    const { check, severity, message, help, related } = finding;
    const page = this.options.hasCheckPages ? { codeDescription: { href: checkPage(check) } } : {};
    const relatedInformation: DiagnosticRelatedInformation[] = related.map((other) => ({
      location: { uri: this.session.uriOf(other.file), range: rangeIn(other, texts) },
      message: visible(other.message),
    }));
    return {
      range: rangeIn(finding, texts),
      severity: severities[severity],
      source: 'swaplore',
      code: check,
      ...page,
      message: help === undefined ? visible(message) : `${visible(message)}\n${visible(help)}`,
      ...(this.options.hasRelated && related.length > 0 ? { relatedInformation } : {}),
    };
  }
}

const severities: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  info: DiagnosticSeverity.Information,
};

/** Nothing found. */
const noFindings: FindingsByFile = SharedMap.of();

const start: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

function rangeIn(
  place: { readonly file: string; readonly start: number; readonly end: number },
  texts: ReadonlyMap<string, FileText>,
): Range {
  return texts.get(place.file)?.positions.rangeOf(place) ?? start;
}

/** One order for what was found in a file, whatever was found again. */
function byCheckAndMessage(a: Finding, b: Finding): number {
  return byCodeUnits(a.check, b.check) || byCodeUnits(a.message, b.message);
}

function placesOf(findings: readonly Finding[]): readonly Place[] {
  return findings.flatMap(({ place, related }) => [place, ...related.map((other) => other.place)]);
}

/** Whether a file holds something else than when it was checked. One that could not be read then has nothing to compare. */
function isStale({ file, contentId }: Place, texts: ReadonlyMap<string, FileText>): boolean {
  return contentId !== '' && texts.get(file)?.contentId !== contentId;
}
