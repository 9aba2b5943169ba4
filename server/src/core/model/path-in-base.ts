/**
 * Invariant 8: the path, relative to the base and with `/`, of a file that a record names relative to its own file; undefined where
 * it leads out of the base or is no such path: absolute, with a drive letter or a scheme, or with backslashes.
 */
export function pathInBase(recordFile: string, written: string): string | undefined {
  if (written.startsWith('/') || /^[a-z][a-z0-9+.-]*:/i.test(written) || written.includes('\\')) return undefined;
  const steps = written.split('/');
  const last = steps.at(-1) ?? '';
  // These end in a folder.
  if (['', '.', '..'].includes(last)) return undefined;
  const parts = recordFile.split('/').slice(0, -1);
  for (const step of steps) {
    if (step === '..') {
      if (parts.pop() === undefined) return undefined;
    } else if (step !== '.' && step !== '') parts.push(step);
  }
  return parts.join('/');
}
