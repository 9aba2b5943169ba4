import { existsSync, type Stats, statSync } from 'node:fs';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join } from 'node:path';
import { configPath } from '../../core/checks/config-invalid.ts';
import { realPath } from './real-path.ts';

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * The user's folder for what may be computed again at any time; undefined where the system names none, where it lies in a base or a
 * git repository, and where other users can put files: they could plant findings there, or code.
 * Source: XDG Base Directory Specification 0.8, `XDG_CACHE_HOME`; on macOS and Windows the folders their makers give for caches.
 */
export function findCacheFolder(env: Environment, platform: NodeJS.Platform): string | undefined {
  return privateFolder(platformFolder(env, platform, caches));
}

/**
 * The user's folder for what is begun and not finished, under the same conditions.
 * Source: XDG Base Directory Specification 0.8, `XDG_STATE_HOME`; on macOS and Windows the folders their makers give for applications.
 */
export function findStateFolder(env: Environment, platform: NodeJS.Platform): string | undefined {
  return privateFolder(platformFolder(env, platform, states));
}

/**
 * The user's folder for settings, where it lies in no base and no git repository.
 * Source: XDG Base Directory Specification 0.8, `XDG_CONFIG_HOME`; on macOS and Windows the folders their makers give for settings.
 */
export function findConfigFolder(env: Environment, platform: NodeJS.Platform): string | undefined {
  return ownFolder(platformFolder(env, platform, settings));
}

/** Where a kind of files belongs: the variables that name its folder, and the folders of homes that have none. */
interface Habit {
  readonly variable: string;
  readonly windows: string;
  readonly mac: readonly string[];
  readonly other: readonly string[];
}

const caches: Habit = {
  variable: 'XDG_CACHE_HOME',
  windows: 'LOCALAPPDATA',
  mac: ['Library', 'Caches'],
  other: ['.cache'],
};
const states: Habit = {
  variable: 'XDG_STATE_HOME',
  windows: 'LOCALAPPDATA',
  mac: ['Library', 'Application Support'],
  other: ['.local', 'state'],
};
const settings: Habit = {
  variable: 'XDG_CONFIG_HOME',
  windows: 'APPDATA',
  mac: ['Library', 'Application Support'],
  other: ['.config'],
};

function ownFolder(folder: string | undefined): string | undefined {
  return folder !== undefined && isAbsolute(folder) && !isShared(folder) ? join(folder, 'swaplore') : undefined;
}

function privateFolder(folder: string | undefined): string | undefined {
  const own = ownFolder(folder);
  try {
    const real = own === undefined ? undefined : realPath(own);
    return real !== undefined && isOutOfReach(real) && !isShared(real) ? own : undefined;
  } catch {
    // What cannot be looked at is of no use either.
    return undefined;
  }
}

/** Whether no user but this one and root can put anything into a folder, or another folder into its place. */
function isOutOfReach(folder: string): boolean {
  const user = process.getuid?.();
  const stats = statSync(folder, { throwIfNoEntry: false });
  // Windows has no such owners; its users' folders are their own.
  if (user === undefined) return true;
  if (stats?.uid === user && (stats.mode & 0o077) === 0) return true;
  if (stats && !isSafe(stats, user)) return false;
  return dirname(folder) === folder || isOutOfReach(dirname(folder));
}

/** In a sticky folder, such as /tmp, everybody may put files, but nobody may move those of others. */
function isSafe({ uid, gid, mode }: Stats, user: number): boolean {
  if (uid !== user && uid !== 0) return false;
  // By custom a group of the user's own number has no other member.
  const isWritable = (mode & 0o002) !== 0 || ((mode & 0o020) !== 0 && gid !== user);
  return !isWritable || (mode & 0o1000) !== 0;
}

/** Whether a folder lies where others bring in files by a pull request. */
export function isShared(folder: string): boolean {
  if (existsSync(join(folder, '.git')) || existsSync(join(folder, configPath))) return true;
  return dirname(folder) !== folder && isShared(dirname(folder));
}

function platformFolder(
  env: Environment,
  platform: NodeJS.Platform,
  { variable, windows, mac, other }: Habit,
): string | undefined {
  // The specification has relative paths ignored.
  const named = env[variable];
  if (named !== undefined && isAbsolute(named)) return named;
  if (platform === 'win32') return env[windows];
  try {
    return join(homedir(), ...(platform === 'darwin' ? mac : other));
  } catch {
    // No home: a service account, or a container without a list of users.
    return undefined;
  }
}
