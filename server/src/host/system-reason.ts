const reasons: Readonly<Record<string, string>> = {
  EACCES: 'permission denied',
  EPERM: 'permission denied',
  ENOENT: 'nothing is there',
  ELOOP: 'it leads back to itself',
  EEXIST: 'something else stands there',
  EISDIR: 'it is a folder',
  ENOTDIR: 'a part of its path is no folder',
  EMFILE: 'too many files are open',
  EIO: 'the disk reports an error',
  ENOSPC: 'no space is left on the disk',
  EDQUOT: 'no space is left for this user',
  EROFS: 'the disk can only be read',
  ENAMETOOLONG: 'its name is too long',
};

/** Why the system refused something, in words. */
export function reasonOf(error: unknown): string {
  const code = codeOf(error);
  return reasons[code] ?? `the system says ${code || String(error)}`;
}

/** The system's own name for what it refused, such as `ENOENT`; empty where there is none. */
export function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : '';
}
