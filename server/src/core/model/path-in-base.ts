/**
 * Invariant 8: the path, relative to the base and with `/`, of a file that a record names relative to its own file; undefined where
 * it leads out of the base or is no such path: absolute, with a drive letter or a scheme, or with backslashes.
 */
export function pathInBase(recordFile: string, written: string): string | undefined {
  if (written === '' || written.startsWith('/') || /^[a-z][a-z0-9+.-]*:/i.test(written) || /[\\\0]/.test(written)) {
    return undefined;
  }
  const parts = recordFile.split('/').slice(0, -1);
  for (const part of written.split('/')) {
    if (part === '..') {
      if (parts.pop() === undefined) return undefined;
    } else if (part !== '.' && part !== '') parts.push(part);
  }
  return parts.length > 0 && !written.endsWith('/') ? parts.join('/') : undefined;
}
