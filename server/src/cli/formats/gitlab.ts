import { fingerprinted } from './fingerprints.ts';
import { type Formatter, messageWithHelp, pathOf } from './linted-base.ts';

/** GitLab knows five severities; nothing here blocks by itself, and nothing is critical to the code. */
const severities = { error: 'major', warning: 'minor', info: 'info' } as const;

/**
 * Findings as a Code Quality report, which GitLab shows in merge requests.
 * Source: GitLab's "Code Quality" page, section on the report format.
 */
export const toGitlab: Formatter = (bases) => {
  const report = fingerprinted(bases).map(({ base, finding, fingerprint }) => ({
    description: messageWithHelp(finding),
    check_name: finding.check,
    fingerprint,
    severity: severities[finding.severity],
    location: {
      path: pathOf(base, finding.file),
      lines: { begin: finding.range.start.line + 1, end: finding.range.end.line + 1 },
    },
  }));
  return `${JSON.stringify(report, undefined, 2)}\n`;
};
