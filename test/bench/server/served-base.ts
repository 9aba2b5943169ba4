import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { CachedBase } from '../base/base-cache.ts';
import { makeContradictions } from '../base/contradictions.ts';

/** A generated base as a server is given it: the records of its first families in one file of 5,000 lines, contradictions planted. */
export interface ServedBase {
  readonly folder: string;
  /** All files of records, by path. */
  readonly paths: readonly string[];
  /** An outcome of about 70 lines. */
  readonly small: string;
  /** The file of 5,000 lines. */
  readonly big: string;
  /** Outcomes in which planted contradictions show. */
  readonly contradictory: readonly string[];
}

const linesOfSmall = 70;
const linesOfBig = 5000;
const big = 'all.yaml';
const contradictions = makeContradictions(20);

/** The served twin of a generated base, made now unless an earlier run has left it. */
export function servedBase(base: CachedBase): ServedBase {
  const folder = join(dirname(base.folder), 'served-1');
  if (!existsSync(folder)) writeServed(base.folder, folder);
  const paths = recordFilesOf(folder);
  const outcomes = paths.filter((path) => path.startsWith('outcomes/') && !path.includes('planted'));
  const distances = outcomes
    .slice(0, 500)
    .map((path) => ({ path, from: Math.abs(linesOf(textAt(folder, path)) - linesOfSmall) }));
  const [nearest] = distances.sort((a, b) => a.from - b.from);
  return {
    folder,
    paths,
    small: nearest?.path ?? '',
    big,
    contradictory: contradictions.planted.map(({ path }) => path),
  };
}

/** The text of a file of a base, with the line ends that most have. */
export function textAt(folder: string, path: string): string {
  return readFileSync(join(folder, path), 'utf8').replaceAll('\r\n', '\n');
}

/** Written aside and moved into place, so that a run cut short leaves no half base behind. */
function writeServed(from: string, folder: string): void {
  const unfinished = `${folder}.${process.pid}`;
  cpSync(from, unfinished, { recursive: true });
  writeFileSync(join(unfinished, big), joinFirst(unfinished));
  for (const { path, text } of contradictions.files) {
    mkdirSync(dirname(join(unfinished, path)), { recursive: true });
    writeFileSync(join(unfinished, path), text);
  }
  renameSync(unfinished, folder);
}

/** Takes the first families with their outcomes out of a base, as one text of exactly so many lines: comments fill it up. */
function joinFirst(folder: string): string {
  const families = recordFilesOf(folder).filter((path) => path.startsWith('families/'));
  const texts: string[] = [];
  let lines = 0;
  for (const family of families) {
    const name = family.slice(family.lastIndexOf('/') + 1, -'.yaml'.length);
    const outcomes = recordFilesOf(folder).filter((path) => path.startsWith(`outcomes/${name}/`));
    for (const path of [family, ...outcomes]) {
      const text = textAt(folder, path);
      if (lines + linesOf(text) + 1 > linesOfBig)
        return `${texts.join('---\n')}${'# end of this year\n'.repeat(linesOfBig - lines)}`;
      lines += linesOf(text) + (texts.length > 0 ? 1 : 0);
      texts.push(text);
      rmSync(join(folder, path));
    }
  }
  throw new RangeError(`The base has no ${linesOfBig} lines`);
}

function recordFilesOf(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith('.yaml') && path !== 'swaplore.yaml')
    .sort();
}

function linesOf(text: string): number {
  return text.split('\n').length - 1;
}
