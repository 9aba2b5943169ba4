import type { Check } from '../../core/checks/define-check.ts';
import type { ResolvedFinding } from '../../core/checks/resolve-findings.ts';
import type { ResolvedPlace } from '../../core/checks/resolve-place.ts';
import { capitalise } from '../../core/text/capitalise.ts';
import type { Range } from '../../core/text/line-index.ts';
import { type Fingerprinted, fingerprinted } from './fingerprints.ts';
import { type Formatter, type LintedBase, messageWithHelp, pathOf } from './linted-base.ts';

/**
 * Findings as a SARIF log with one run, for code scanning and for viewers in editors. It names no absolute path.
 * Source: OASIS, SARIF version 2.1.0 plus errata 01.
 */
export const toSarif: Formatter = (bases, { version, checks }) => {
  const ruleIndices = new Map<string, number>(checks.map(({ check }, position) => [check, position]));
  const log = {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'swaplore', version, semanticVersion: version, rules: checks.map(toRule) } },
        invocations: [{ executionSuccessful: bases.every(ranToTheEnd) }],
        columnKind: 'utf16CodeUnits',
        results: fingerprinted(bases).map((one) => toResult(one, ruleIndices.get(one.finding.check))),
      },
    ],
  };
  return `${JSON.stringify(log, undefined, 2)}\n`;
};

/** A path as a relative URI. Every character that means something in a URI is encoded, a `:` in the first folder's name too. */
export function toRelativeUri(path: string): string {
  // A file name may hold half a surrogate pair on some systems; a URI cannot.
  const wellFormed = path.replace(/[\ud800-\udfff]/gu, '\ufffd');
  return wellFormed.split('/').map(encodeURIComponent).join('/');
}

/**
 * A message as plain text of SARIF, where `[text](target)` would be a link and `{0}` a gap to fill. Braces in general are left as
 * they are although the standard doubles them: viewers show what is written.
 */
export function toSarifText(text: string): string {
  return text.replace(/\{(\d+)\}/g, '{{$1}}').replace(/\[([^[\]]*)\](?=\()/g, (_, inside: string) => `\\[${inside}\\]`);
}

const levels = { error: 'error', warning: 'warning', info: 'note' } as const;

function ranToTheEnd({ isUsable, findings }: LintedBase): boolean {
  return isUsable && !findings.some(({ check }) => check === 'internal-check-failed');
}

function toRule({ check, group, severity, why }: Check): object {
  const words = check.replaceAll('-', ' ');
  const text = `${why} swaplore check-id ${check} shows an example.`;
  return {
    id: check,
    shortDescription: { text: `${capitalise(words)}.` },
    fullDescription: { text: why },
    help: { text, markdown: `${why}\n\n\`swaplore check-id ${check}\` shows an example.` },
    defaultConfiguration: { level: levels[severity] },
    properties: { tags: [group] },
  };
}

function toResult({ base, finding, fingerprint }: Fingerprinted, ruleIndex: number | undefined): object {
  return {
    ruleId: finding.check,
    ...(ruleIndex === undefined ? {} : { ruleIndex }),
    level: levels[finding.severity],
    message: { text: toSarifText(messageWithHelp(finding)) },
    locations: [{ physicalLocation: physicalLocation(base, finding), ...logicalLocations(finding) }],
    ...relatedLocations(base, finding),
    partialFingerprints: { 'swaploreFinding/v1': fingerprint },
    ...fixesOf(base, finding),
  };
}

function logicalLocations({ record }: ResolvedFinding): object {
  return record === undefined ? {} : { logicalLocations: [{ fullyQualifiedName: record, kind: 'object' }] };
}

function relatedLocations(base: LintedBase, { related }: ResolvedFinding): object {
  if (related.length === 0) return {};
  const places = related.map((place, id) => ({
    id,
    physicalLocation: physicalLocation(base, place),
    message: { text: toSarifText(place.message) },
  }));
  return { relatedLocations: places };
}

function fixesOf(base: LintedBase, finding: ResolvedFinding): object {
  const fixes = base.fixes.get(finding)?.map(({ title, files }) => ({
    description: { text: toSarifText(title) },
    artifactChanges: files.map(({ file, edits }) => ({
      artifactLocation: artifactLocation(base, file),
      replacements: edits.map(({ range, newText }) => ({
        deletedRegion: region(range),
        insertedContent: { text: newText },
      })),
    })),
  }));
  return fixes ? { fixes } : {};
}

function physicalLocation(base: LintedBase, { file, range }: ResolvedPlace): object {
  return { artifactLocation: artifactLocation(base, file), region: region(range) };
}

function artifactLocation(base: LintedBase, file: string): object {
  return { uri: toRelativeUri(pathOf(base, file)), uriBaseId: '%SRCROOT%' };
}

function region({ start, end }: Range): object {
  return {
    startLine: start.line + 1,
    startColumn: start.character + 1,
    endLine: end.line + 1,
    endColumn: end.character + 1,
  };
}
