import { existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { dirname, isAbsolute, join } from 'node:path';
import { configPath } from '../../core/checks/config-invalid.ts';

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * The user's folder for what may be computed again at any time; undefined where the system names none, and where it lies in a base
 * or a git repository: whoever can propose a change could plant findings there, or code.
 * Source: XDG Base Directory Specification 0.8, `XDG_CACHE_HOME`; on macOS and Windows the folders their makers give for caches.
 */
export function findCacheFolder(env: Environment, platform: NodeJS.Platform): string | undefined {
  return ownFolder(platformFolder(env, platform, caches));
}

/**
 * The user's folder for what is begun and not finished, under the same conditions.
 * Source: XDG Base Directory Specification 0.8, `XDG_STATE_HOME`; on macOS and Windows the folders their makers give for applications.
 */
export function findStateFolder(env: Environment, platform: NodeJS.Platform): string | undefined {
  return ownFolder(platformFolder(env, platform, states));
}

/**
 * The user's folder for settings, under the same conditions.
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
