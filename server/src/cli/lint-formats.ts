import { toGithub } from './formats/github.ts';
import { toGitlab } from './formats/gitlab.ts';
import { toJson } from './formats/json.ts';
import { toJunit } from './formats/junit.ts';
import type { Formatter } from './formats/linted-base.ts';
import { toSarif } from './formats/sarif.ts';
import { toText } from './formats/text.ts';

/** The forms lint output may take. */
export const formats = {
  text: toText,
  json: toJson,
  sarif: toSarif,
  github: toGithub,
  gitlab: toGitlab,
  junit: toJunit,
} as const satisfies Record<string, Formatter>;

/** The forms that have a place for what would mend a finding. */
export const formatsWithFixes: ReadonlySet<keyof typeof formats> = new Set(['json', 'sarif'] as const);

/** Whether this names a form of output. */
export function isFormat(name: unknown): name is keyof typeof formats {
  return typeof name === 'string' && Object.hasOwn(formats, name);
}
