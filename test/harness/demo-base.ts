import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../knowledge/', import.meta.url));

/** The texts of the demo base by path: records and drawings. Only tests of the real data read it; a change of data can break no others. */
export function demoTexts(): Record<string, string> {
  return Object.fromEntries(
    demoPaths()
      .filter((path) => /\.(yaml|svg)$/.test(path))
      .map((path) => [path, readFileSync(join(root, path), 'utf8')]),
  );
}

/** The same with the captures and ROM images that records name. */
export function demoBase(): Record<string, string | Uint8Array> {
  const others = demoPaths().filter((path) => /\.(json|bin)$/.test(path));
  return { ...demoTexts(), ...Object.fromEntries(others.map((path) => [path, readFileSync(join(root, path))])) };
}

function demoPaths(): string[] {
  return readdirSync(root, { recursive: true, encoding: 'utf8' }).map((path) => path.split('\\').join('/'));
}
