import { delimiter, isAbsolute, join } from 'node:path';
import { isProgram } from '../disk/is-program.ts';

/** The git program, and what it is told of its surroundings. */
export interface GitProgram {
  /** Absolute. */
  readonly path: string;
  readonly env: Readonly<Record<string, string>>;
}

/**
 * Variables that git is given as they are: where its user's settings lie, which say whose repositories are trusted, and what programs
 * need to run on Windows. No variable of git's own is among them: these would choose repositories, hooks and pagers.
 */
const handedOn = ['HOME', 'XDG_CONFIG_HOME', 'USERPROFILE', 'SystemRoot', 'PATH'];

/** What git is told by variables: to change nothing, to ask nobody, and to fetch nothing. Source: git(1), "Environment Variables". */
const fixed = {
  LC_ALL: 'C',
  GIT_OPTIONAL_LOCKS: '0',
  GIT_TERMINAL_PROMPT: '0',
  GIT_NO_LAZY_FETCH: '1',
  // A list of what may be used; nothing bears this name.
  GIT_ALLOW_PROTOCOL: 'none',
  // Objects are what their ids say.
  GIT_NO_REPLACE_OBJECTS: '1',
};

/** The git program in the folders that the variable PATH names; undefined where there is none. Never one of the working folder. */
export function findGit(
  env: Readonly<Record<string, string | undefined>>,
  platform: NodeJS.Platform,
): GitProgram | undefined {
  const name = platform === 'win32' ? 'git.exe' : 'git';
  const folders = (env['PATH'] ?? env['Path'] ?? '').split(delimiter).filter(isAbsolute);
  const path = folders.map((folder) => join(folder, name)).find(isProgram);
  if (path === undefined) return undefined;
  const given = handedOn.flatMap((variable) => {
    const value = env[variable];
    return value === undefined ? [] : [[variable, value] as const];
  });
  return { path, env: { ...Object.fromEntries(given), ...fixed } };
}
