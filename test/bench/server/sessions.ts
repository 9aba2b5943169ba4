import { setTimeout } from 'node:timers/promises';
import type { Diagnostic, Position } from 'vscode-languageserver/node';
import { LineIndex } from '../../../server/src/core/text/line-index.ts';
import type { Random } from '../base/random.ts';
import { type ServedBase, textAt } from './served-base.ts';
import { type LanguageServer, ServerProcess } from './server-process.ts';

/** What is measured. */
export type Figure =
  | 'firstCold'
  | 'firstCached'
  | 'indexedCold'
  | 'indexedCached'
  | 'checkedCold'
  | 'checkedCached'
  | 'answerCold'
  | 'answerCached'
  | 'keySmall'
  | 'keyBig'
  | 'keyBroken'
  | 'joint'
  | 'hoverSmall'
  | 'hoverBig'
  | 'completionSmall'
  | 'completionBig'
  | 'memoryCold'
  | 'memory'
  | 'memoryBefore'
  | 'memoryAfter';

/** Measurements by what was measured: milliseconds, or bytes of memory. */
export class Figures {
  private readonly found = new Map<Figure, number[]>();

  /** Keeps measurements. */
  add(figure: Figure, ...values: readonly number[]): void {
    this.found.set(figure, [...this.of(figure), ...values]);
  }

  /** All measurements of one kind. */
  of(figure: Figure): readonly number[] {
    return this.found.get(figure) ?? [];
  }
}

/** What was measured of a server that waits so long for another key, in milliseconds. */
export interface ServedFigures {
  readonly figures: Figures;
  readonly debounceMs: number;
}

const edits = { small: 80, big: 40, joint: 40, warmUp: 10 };
const asked = 100;
const openFiles = 50;
const openedAndClosed = 1000;

/** Time between two keystrokes, and time after which a server has nothing left to do, in milliseconds. */
const betweenMs = 50;
const restMs = 3000;

/** Time between two hovers while a base is read, however long the answers take. */
const hoverEveryMs = 20;

/** An id nobody has; that it is missing can be said once the base is read. */
const missing = 'd-not-there';

/** Everything of the server that is measured, on a base it has never seen and then on one it remembers. */
export async function measureOwn(
  server: LanguageServer,
  base: ServedBase,
  random: Random,
  figures: Figures,
): Promise<void> {
  const cold = await start(server, base, random, figures, 'Cold');
  await openMany(cold, base, openFiles);
  await setTimeout(restMs);
  figures.add('memoryCold', cold.residentBytes());
  await cold.end();
  const warm = await start(server, base, random, figures, 'Cached');
  await measureOpen(warm, base, random, figures);
  await measureJoint(warm, base, figures);
  await measureMemory(warm, base, figures);
  await warm.end();
}

/** What of the same a server can be asked that knows single files. */
export async function measurePeer(
  server: LanguageServer,
  base: ServedBase,
  random: Random,
  figures: Figures,
): Promise<void> {
  const process = new ServerProcess(server, base.folder);
  await process.begin();
  const first = process.untilPublished(base.small, (diagnostics) => diagnostics.length > 0);
  await process.open(base.small, faulty(base));
  const firstMs = (await first) - process.startedMs;
  figures.add('firstCold', firstMs);
  figures.add('firstCached', firstMs);
  await measureOpen(process, base, random, figures);
  await measureMemory(process, base, figures);
  await process.end();
}

/** Has a server run once, so that the code it needs is compiled, as it is after anybody's first day. */
export async function warmUp(server: LanguageServer, base: ServedBase, random: Random): Promise<void> {
  await (await start(server, base, random, new Figures(), 'Cold')).end();
}

/** Starts a server with a file to open at once, and asks it for hovers until everything about that file is said. */
async function start(
  server: LanguageServer,
  base: ServedBase,
  random: Random,
  figures: Figures,
  from: 'Cold' | 'Cached',
): Promise<ServerProcess> {
  const process = new ServerProcess(server, base.folder);
  const { startedMs } = process;
  await process.begin();
  const first = process.untilPublished(base.small, (diagnostics) => diagnostics.length > 0);
  const checked = process.untilPublished(base.small, (diagnostics) =>
    diagnostics.some(({ message }) => JSON.stringify(message).includes(missing)),
  );
  const text = faulty(base);
  await process.open(base.small, text);
  figures.add(`first${from}`, (await first) - startedMs);
  let isChecked = false;
  void checked.then(() => {
    isChecked = true;
  });
  const keys = keysOf(text);
  const answers: Promise<number>[] = [];
  while (!isChecked) {
    answers.push(process.hover(base.small, random.pick(keys)));
    await setTimeout(hoverEveryMs);
  }
  figures.add(`indexed${from}`, (await process.indexed) - startedMs);
  figures.add(`checked${from}`, (await checked) - startedMs);
  figures.add(`answer${from}`, ...(await Promise.all(answers)));
  return process;
}

/** What a server takes for open files: memory, keystrokes, hovers, completions. */
async function measureOpen(process: ServerProcess, base: ServedBase, random: Random, figures: Figures): Promise<void> {
  await openMany(process, base, openFiles);
  await setTimeout(restMs);
  figures.add('memory', process.residentBytes());
  const small = faulty(base);
  figures.add('keySmall', ...(await keystrokes(process, base.small, small, edits.small)));
  await askAbout(process, base.small, small, random, { hover: 'hoverSmall', completion: 'completionSmall' }, figures);
  const big = withFault(textAt(base.folder, base.big));
  const shown = process.untilPublished(base.big, (diagnostics) => diagnostics.length > 0);
  await process.open(base.big, big);
  await shown;
  figures.add('keyBig', ...(await keystrokes(process, base.big, big, edits.big)));
  await askAbout(process, base.big, big, random, { hover: 'hoverBig', completion: 'completionBig' }, figures);
  const broken = positionOf(big, /\nhost:/g, 0.25);
  await process.type(base.big, { from: broken, to: broken, text: ' [unclosed' }, () => true);
  figures.add('keyBroken', ...(await keystrokes(process, base.big, big, edits.big)));
  await process.close(base.big);
}

/** Types one letter after the other at the end of a value that is not known anyway, and gives the time until each is answered. */
async function keystrokes(
  process: ServerProcess,
  path: string,
  text: string,
  count: number,
): Promise<readonly number[]> {
  const end = positionOf(text, /\nreached: \w+/g, 0.5);
  const start = { ...end, character: end.character - 1 };
  const times: number[] = [];
  for (let edit = 0; edit < count + edits.warmUp; edit++) {
    const letter = String.fromCharCode(97 + ((edit + 1) % 26));
    times.push(await process.type(path, { from: start, to: end, text: letter }, () => true));
    await setTimeout(betweenMs);
  }
  return times.slice(edits.warmUp);
}

/** Asks about keys all over a text, one after the other. */
async function askAbout(
  process: ServerProcess,
  path: string,
  text: string,
  random: Random,
  { hover, completion }: { readonly hover: Figure; readonly completion: Figure },
  figures: Figures,
): Promise<void> {
  const keys = keysOf(text);
  for (let ask = 0; ask < asked; ask++) {
    const key = random.pick(keys);
    if (process.can('hoverProvider')) figures.add(hover, await process.hover(path, key));
    if (process.can('completionProvider')) figures.add(completion, await process.complete(path, key));
  }
}

/** Has planted contradictions go and come again, and waits each time until that is shown. */
async function measureJoint(
  process: ServerProcess,
  { folder, contradictory }: ServedBase,
  figures: Figures,
): Promise<void> {
  const hasJoint = (diagnostics: readonly Diagnostic[]) =>
    diagnostics.some(({ code }) => code === 'joint-contradiction');
  for (let edit = 0; edit < edits.joint; edit++) {
    const path = contradictory[edit % contradictory.length] ?? '';
    const text = textAt(folder, path);
    const end = positionOf(text, /\nreached: \w+/g, 0);
    const opened = process.untilPublished(path, () => true);
    await process.open(path, text);
    // What is published of a file that is opened as it was saved has not changed; so it may be that nothing is.
    await Promise.race([opened, setTimeout(restMs / 10)]);
    const broken = { from: end, to: end, text: 'x' };
    const gone = await process.type(path, broken, (diagnostics) => diagnostics.length > 0 && !hasJoint(diagnostics));
    await setTimeout(betweenMs);
    const mended = { from: end, to: { ...end, character: end.character + 1 }, text: '' };
    const back = await process.type(path, mended, hasJoint);
    figures.add('joint', gone, back);
    await setTimeout(betweenMs);
    await process.close(path);
  }
}

/** Opens and closes very many files. */
async function measureMemory(process: ServerProcess, { folder, paths }: ServedBase, figures: Figures): Promise<void> {
  figures.add('memoryBefore', process.residentBytes());
  for (const path of paths.slice(-openedAndClosed)) {
    await process.open(path, textAt(folder, path));
    // A file that is seen: long enough for its server to look at it.
    await process.hover(path, { line: 0, character: 1 });
    await process.close(path);
  }
  await setTimeout(restMs);
  figures.add('memoryAfter', process.residentBytes());
}

async function openMany(process: ServerProcess, { folder, paths, small }: ServedBase, count: number): Promise<void> {
  const others = paths.filter((path) => path.startsWith('outcomes/') && path !== small);
  for (const path of others.slice(0, count - 1)) await process.open(path, textAt(folder, path));
}

/** The small file with a value that no schema takes, and one that names a record nobody has. */
function faulty({ folder, small }: ServedBase): string {
  return withFault(textAt(folder, small)).replace(/\ndonor: .*/, `\ndonor: ${missing}`);
}

function withFault(text: string): string {
  const { line } = positionOf(text, /\nreached: \w+/g, 0.5);
  return text
    .split('\n')
    .map((old, number) => (number === line ? `${old}a` : old))
    .join('\n');
}

/** The end of what matches, at about so great a share of all matches. */
function positionOf(text: string, pattern: RegExp, share: number): Position {
  const ends = Array.from(text.matchAll(pattern), (match) => match.index + match[0].length);
  return new LineIndex(text).positionAt(ends[Math.floor(share * ends.length)] ?? 0);
}

/** Positions within the keys of a text. */
function keysOf(text: string): readonly Position[] {
  return text.split('\n').flatMap((line, number) => {
    const [, indent] = /^( *)[a-z_]+:/.exec(line) ?? [];
    return indent === undefined ? [] : [{ line: number, character: indent.length + 1 }];
  });
}
