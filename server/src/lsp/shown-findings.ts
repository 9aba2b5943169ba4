import type { Diagnostic, DiagnosticRelatedInformation, Range } from 'vscode-languageserver';
import { DiagnosticSeverity } from 'vscode-languageserver';
import type { Finding, Place } from '../core/checks/finding.ts';
import { filesOf, type ResolvedFinding, resolveEach } from '../core/checks/resolve-findings.ts';
import { isEqual } from '../core/index/is-equal.ts';
import type { Severity } from '../core/terms/severities.ts';
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

/** Files whose texts are read at a time: a base may have findings in thousands. */
const filesAtATime = 64;

/** What diagnostics can carry besides a message. */
export interface DiagnosticOptions {
  readonly hasRelated: boolean;
  readonly hasCheckPages: boolean;
}

/** The findings of one base as an editor is shown them, file by file. */
export class ShownFindings {
  private readonly shown = new Map<string, ShownFile>();
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
   * Brings what is shown to these findings; where `within` is given, in these files alone. Calls `onFile` for every file whose
   * diagnostics change, also for those that have none any more. Gives the files that could not be brought up to date because they
   * are no longer what was checked. `pause` is called now and then; when it throws, the rest stays as it is.
   */
  async update(
    findings: readonly Finding[],
    within: ReadonlySet<string> | undefined,
    { onFile, pause }: { readonly onFile: (file: ShownFile) => void; readonly pause: () => Promise<void> },
  ): Promise<readonly string[]> {
    const groups = byFile(findings);
    for (const path of within ?? this.shown.keys()) {
      if (!groups.has(path) && this.shown.delete(path))
        onFile({ path, resultId: this.nextId(), diagnostics: [], findings: [], found: new Map() });
    }
    const changed = [...groups].filter(([path, group]) => !isEqual(this.shown.get(path)?.findings, group));
    const stale = new Set<string>();
    for (let from = 0; from < changed.length; from += filesAtATime) {
      const batch = changed.slice(from, from + filesAtATime);
      const texts = await this.session.textsOf([...filesOf(batch.flatMap(([, group]) => group))]);
      await pause();
      for (const [path, findings] of batch) {
        const moved = placesOf(findings).filter((place) => isStale(place, texts));
        for (const { file } of moved) stale.add(file);
        if (moved.length > 0) continue;
        const file = { path, resultId: this.nextId(), ...this.toDiagnostics(findings, texts), findings };
        this.shown.set(path, file);
        onFile(file);
      }
    }
    return [...stale];
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
      message: other.message,
    }));
    return {
      range: rangeIn(finding, texts),
      severity: severities[severity],
      source: 'swaplore',
      code: check,
      ...page,
      message: help === undefined ? message : `${message}\n${help}`,
      ...(this.options.hasRelated && related.length > 0 ? { relatedInformation } : {}),
    };
  }
}

const severities: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  info: DiagnosticSeverity.Information,
};

const start: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

function rangeIn(
  place: { readonly file: string; readonly start: number; readonly end: number },
  texts: ReadonlyMap<string, FileText>,
): Range {
  return texts.get(place.file)?.positions.rangeOf(place) ?? start;
}

function byFile(findings: readonly Finding[]): Map<string, Finding[]> {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const group = groups.get(finding.place.file);
    if (group) group.push(finding);
    else groups.set(finding.place.file, [finding]);
  }
  return groups;
}

function placesOf(findings: readonly Finding[]): readonly Place[] {
  return findings.flatMap(({ place, related }) => [place, ...related.map((other) => other.place)]);
}

/** Whether a file holds something else than when it was checked. One that could not be read then has nothing to compare. */
function isStale({ file, contentId }: Place, texts: ReadonlyMap<string, FileText>): boolean {
  return contentId !== '' && texts.get(file)?.contentId !== contentId;
}
