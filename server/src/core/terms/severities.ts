/** How grave a finding is, gravest first. Only `error` fails a run by itself. */
export const severities = ['error', 'warning', 'info'] as const;

/** The severity of a finding. */
export type Severity = (typeof severities)[number];
