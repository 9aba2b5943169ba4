import { readFileSync, realpathSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { codeOf, reasonOf } from '../system-reason.ts';
import { findConfigFolder, isShared } from './cache-folder.ts';

/** The variable that holds the key. */
const variable = 'SWAPLORE_KEY';

/** Fewest bytes of a key. Source: RFC 2104, section 3, which discourages keys shorter than what the hash gives, 32 bytes of SHA-256. */
const fewestBytes = 32;

/** The user's key for digests of serial numbers, or why there is none: a sentence, and what to do. */
export type SerialKey = { readonly key: Uint8Array } | { readonly reason: string; readonly help: string };

/**
 * The key of `SWAPLORE_KEY`, else of the file `key` in the user's folder for settings; white space around it is no part of it. A file
 * that lies in a base or a git repository, itself or by a link, is not read: whoever can propose a change could choose the key.
 */
export function findSerialKey(env: Readonly<Record<string, string | undefined>>, platform: NodeJS.Platform): SerialKey {
  const named = env[variable];
  if (named !== undefined && named !== '') return keyOf(named, `The key in ${variable}`);
  const folder = findConfigFolder(env, platform);
  if (folder === undefined) {
    return without(`${variable} is not set, and no folder for settings lies outside of bases and git repositories.`);
  }
  const path = join(folder, 'key');
  try {
    if (isShared(dirname(realpathSync(path)))) return without(`The key ${path} lies in a base or a git repository.`);
    return keyOf(readFileSync(path, 'utf8'), `The key in ${path}`);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return without(`${variable} is not set, and there is no file ${path}.`);
    return without(`The key ${path} cannot be read: ${reasonOf(error)}.`);
  }
}

function keyOf(text: string, what: string): SerialKey {
  const key = new TextEncoder().encode(text.trim());
  if (key.length >= fewestBytes) return { key };
  return without(`${what} is ${key.length} bytes long, but at least ${fewestBytes} are needed.`);
}

function without(reason: string): SerialKey {
  return {
    reason,
    help: `Make one for the whole bench, for instance with: openssl rand -hex ${fewestBytes}. Keep it out of every repository.`,
  };
}
