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
  const folder = platformFolder(env, platform);
  return folder !== undefined && isAbsolute(folder) && !isShared(folder) ? join(folder, 'swaplore') : undefined;
}

/** Whether a folder lies where others bring in files by a pull request. */
function isShared(folder: string): boolean {
  if (existsSync(join(folder, '.git')) || existsSync(join(folder, configPath))) return true;
  return dirname(folder) !== folder && isShared(dirname(folder));
}

function platformFolder(env: Environment, platform: NodeJS.Platform): string | undefined {
  // The specification has relative paths ignored.
  const named = env['XDG_CACHE_HOME'];
  if (named !== undefined && isAbsolute(named)) return named;
  if (platform === 'win32') return env['LOCALAPPDATA'];
  try {
    return platform === 'darwin' ? join(homedir(), 'Library', 'Caches') : join(homedir(), '.cache');
  } catch {
    // No home: a service account, or a container without a list of users.
    return undefined;
  }
}
