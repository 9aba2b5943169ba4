import type { ResolvedFinding } from '../../core/checks/resolve-findings.ts';
import { type FormatContext, type Formatter, type LintedBase, placeOf } from './linted-base.ts';

/**
 * Findings as JUnit test results: a suite for each base; in it a passed test for each check that found nothing at error level, and a
 * failed one for each error. Warnings and notes fail no run, so they stand in the output of their check's passed test.
 */
export const toJunit: Formatter = (bases, context) => {
  const suites = bases.map((base) => toSuite(base, context));
  const attributes = { name: 'swaplore lint', ...sumOf(suites) };
  const inside = suites.map(({ xml }) => xml).join('');
  return `<?xml version="1.0" encoding="UTF-8"?>\n${element('testsuites', attributes, inside)}`;
};

/** Text as it may stand between tags of XML 1.0; characters that XML does not allow are left out. */
export function escapeXml(text: string): string {
  return text
    .replace(/[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu, '')
    .replace(/[&<>\r]/g, (character) => `&#${character.charCodeAt(0)};`);
}

/** Text as it may stand in an attribute; line ends and tabs would be read as spaces there. */
export function escapeAttribute(text: string): string {
  return escapeXml(text).replace(/["'\t\n]/g, (character) => `&#${character.charCodeAt(0)};`);
}

interface Counts {
  readonly tests: number;
  readonly failures: number;
  readonly errors: number;
}

interface Suite extends Counts {
  readonly xml: string;
}

/** A test of a suite; `ends` says what it adds to the counts. */
interface Case {
  readonly ends: 'passed' | 'failures' | 'errors';
  readonly xml: string;
}

function toSuite(base: LintedBase, { checks }: FormatContext): Suite {
  // A check that crashed is reported by another one, which need not be among those that were asked for.
  const ids = new Set([...checks, ...base.shown].map(({ check }) => check));
  const cases = [...(base.isUsable ? [] : [uncheckedCase]), ...[...ids].flatMap((check) => casesOf(base, check))];
  const count = (ends: Case['ends']): number => cases.filter((one) => one.ends === ends).length;
  const counts = { tests: cases.length, failures: count('failures'), errors: count('errors') };
  const attributes = { name: base.name ?? base.root, ...counts };
  return { ...counts, xml: element('testsuite', attributes, cases.map(({ xml }) => xml).join('')) };
}

function sumOf(suites: readonly Suite[]): Counts {
  const sum = (count: keyof Counts): number => suites.reduce((total, suite) => total + suite[count], 0);
  return { tests: sum('tests'), failures: sum('failures'), errors: sum('errors') };
}

function casesOf(base: LintedBase, check: string): Case[] {
  const found = base.shown.filter((finding) => finding.check === check);
  const errors = found.filter(({ severity }) => severity === 'error');
  const others = found.filter(({ severity }) => severity !== 'error');
  const hasPassed = errors.length === 0 ? base.isUsable : others.length > 0;
  return [
    ...errors.map((finding) => failedCase(base, finding)),
    ...(hasPassed ? [passedCase(base, check, others)] : []),
  ];
}

function passedCase(base: LintedBase, check: string, found: readonly ResolvedFinding[]): Case {
  const lines = found.map((finding) => `${finding.severity}: ${details(base, finding)}`).join('\n');
  const inside = lines === '' ? '' : element('system-out', {}, escapeXml(lines));
  return { ends: 'passed', xml: element('testcase', { name: check, classname: `swaplore.${check}` }, inside) };
}

function failedCase(base: LintedBase, finding: ResolvedFinding): Case {
  const { check, message } = finding;
  const isOurs = check === 'internal-check-failed';
  const fault = element(isOurs ? 'error' : 'failure', { message, type: check }, escapeXml(details(base, finding)));
  const attributes = { name: `${check} at ${placeOf(base, finding)}`, classname: `swaplore.${check}` };
  return { ends: isOurs ? 'errors' : 'failures', xml: element('testcase', attributes, fault) };
}

const uncheckedCase: Case = {
  ends: 'errors',
  xml: element(
    'testcase',
    { name: 'config', classname: 'swaplore.config' },
    element('error', { message: 'The config cannot be used, so nothing else was checked.', type: 'config' }, ''),
  ),
};

function details(base: LintedBase, finding: ResolvedFinding): string {
  const related = finding.related.map((place) => `see ${placeOf(base, place)} ${place.message}`);
  return [placeOf(base, finding), finding.message, finding.help, ...related]
    .filter((line) => line !== undefined)
    .join('\n');
}

/** An element on lines of its own. `inside` is markup, or text that has been escaped. */
function element(name: string, attributes: Readonly<Record<string, string | number>>, inside: string): string {
  const list = Object.entries(attributes).map(([key, value]) => ` ${key}="${escapeAttribute(String(value))}"`);
  if (inside === '') return `<${name}${list.join('')}/>\n`;
  const isMarkup = inside.startsWith('<');
  return `<${name}${list.join('')}>${isMarkup ? '\n' : ''}${inside}</${name}>\n`;
}
