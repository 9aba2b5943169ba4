import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CST, Lexer } from 'yaml';
import type { Intent } from '../../server/src/core/edits/intent.ts';
import { planEdits } from '../../server/src/core/edits/plan-edits.ts';
import { applyEdits, isRefusal, replaceIn, type TextEdit } from '../../server/src/core/edits/text-edit.ts';
import { buildData, type Data } from '../../server/src/core/syntax/build-data.ts';
import { resolvePlain } from '../../server/src/core/syntax/core-schema.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import type { Path, TapeEntry } from '../../server/src/core/syntax/tape.ts';
import { readsAlike } from '../harness/agreeing-readers.ts';
import { arbitraryFile, arbitraryIntent, arbitraryIntents, arbitraryValue, spotOf } from '../harness/arbitrary-edit.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

interface Done {
  readonly edits: readonly TextEdit[];
  readonly after: string;
}

/** What became of intents; undefined where they were refused. */
function carryOut(text: string, ...intents: readonly Intent[]): Done | undefined {
  const planned = planEdits({ tape: readText(text).tape, contentId: 'c' }, intents);
  return isRefusal(planned) ? undefined : { edits: planned.edits, after: replaceIn(text, planned.edits) };
}

/** The data of every document, each as JSON would keep it, except that numbers JSON cannot hold and -0 stay apart. */
function dataOf(text: string): readonly (Data | undefined)[] {
  const { tape } = readText(text);
  return tape.documents.map(({ root }) => (root < 0 ? undefined : buildData(tape, root).data));
}

/** Data as a copy that may be changed; empty values count as absent, as everywhere. */
function written(data: unknown): unknown {
  if (Array.isArray(data)) return data.map(written);
  if (typeof data !== 'object' || data === null) return data;
  const entries = Object.entries(data).map(([key, value]) => [key, written(value)] as const);
  return Object.fromEntries(entries.filter(([, value]) => value !== '' && value !== undefined));
}

/** A map or list. */
type Holder = Record<string | number, unknown>;

/** The documents with one of them changed at a path: `change` gets the map or list that holds it and the last step. */
function changed(
  text: string,
  document: number,
  path: Path,
  change: (holder: Holder, step: string | number) => void,
): unknown {
  const documents = written(dataOf(text)) as unknown[];
  let holder = documents[document] as Holder;
  for (const step of path.slice(0, -1)) {
    holder[step] ??= {};
    holder = holder[step] as Holder;
  }
  change(holder, path.at(-1)!);
  return documents;
}

const read = (text: string): unknown => written(dataOf(text));

const marks: ReadonlySet<string> = new Set([CST.DOCUMENT, CST.FLOW_END, CST.SCALAR]);

/** Comments of a text with their offsets, by the tokens of the `yaml` package. */
function commentsIn(text: string): readonly { readonly offset: number; readonly source: string }[] {
  const found: { offset: number; source: string }[] = [];
  let offset = 0;
  for (const lexeme of new Lexer().lex(text)) {
    if (CST.tokenType(lexeme) === 'comment') found.push({ offset, source: lexeme.trimEnd() });
    // The lexer marks documents, flow ends and scalars with characters of its own.
    offset += marks.has(lexeme) ? 0 : lexeme.length;
  }
  return found;
}

const sources = (text: string): readonly string[] => commentsIn(text).map(({ source }) => source);

describe('plan edits', () => {
  it('after set, the path reads as the value and every other path reads as before', () => {
    const seen = { done: 0, refused: 0 };
    assertLaw(
      900,
      fc.property(arbitraryFile, fc.nat(), arbitraryValue, (text, pick, value) => {
        const spot = spotOf(text, pick);
        if (!spot) return;
        const { document, path } = spot;
        const done = carryOut(text, { intent: 'set', document, path, value });
        seen[done ? 'done' : 'refused']++;
        if (!done) return;
        const meant = changed(text, document, path, (holder, step) => {
          if (value === '' && !Array.isArray(holder)) delete holder[step];
          else holder[step] = written(value);
        });
        expect(read(done.after)).toEqual(meant);
      }),
    );
    expectOften(seen.done, 8 * seen.refused);
  });

  it('an inserted member reads as the value, and every other one as before', () => {
    const seen = { done: 0, refused: 0 };
    assertLaw(
      900,
      fc.property(arbitraryFile, fc.nat(), fc.boolean(), arbitraryValue, (text, pick, isBehind, value) => {
        const spot = spotOf(text, pick);
        if (!spot) return;
        const { document, path } = spot;
        const last = path.at(-1)!;
        const own = typeof last === 'number' ? last + Number(isBehind) : 'x-new';
        const place = [...path.slice(0, -1), own];
        const done = carryOut(text, { intent: 'insert', document, path: place, value });
        seen[done ? 'done' : 'refused']++;
        if (!done) return;
        const meant = changed(text, document, place, (holder, step) => {
          if (Array.isArray(holder)) holder.splice(Number(step), 0, written(value));
          else if (value !== '') holder[step] = written(value);
        });
        expect(read(done.after)).toEqual(meant);
      }),
    );
    expectOften(seen.done, 8 * seen.refused);
  });

  it('after remove, every other path reads as before', () => {
    const seen = { done: 0, refused: 0 };
    assertLaw(
      900,
      fc.property(arbitraryFile, fc.nat(), (text, pick) => {
        const spot = spotOf(text, pick);
        if (!spot) return;
        const { document, path } = spot;
        const done = carryOut(text, { intent: 'remove', document, path });
        seen[done ? 'done' : 'refused']++;
        if (!done) return;
        const meant = changed(text, document, path, (holder, step) => {
          if (Array.isArray(holder)) holder.splice(Number(step), 1);
          else delete holder[step];
        });
        expect(read(done.after)).toEqual(meant);
      }),
    );
    expectOften(seen.done, 5 * seen.refused);
  });

  it('after rename, the value reads under the new key and all else as before', () => {
    let count = 0;
    assertLaw(
      600,
      fc.property(arbitraryFile, fc.nat(), fc.string({ minLength: 1, maxLength: 9 }), (text, pick, name) => {
        const spot = spotOf(text, pick);
        if (!spot) return;
        const { document, path } = spot;
        const done = carryOut(text, { intent: 'rename', document, path, name });
        if (!done) return;
        count++;
        const meant = changed(text, document, path, (holder, step) => {
          const value = holder[step];
          delete holder[step];
          if (value !== undefined) Object.defineProperty(holder, name, { value, enumerable: true });
        });
        expect(read(done.after)).toEqual(meant);
      }),
    );
    expectOften(count, 250);
  });

  it('a created document reads as the value, and those before it as before', () => {
    let count = 0;
    assertLaw(
      600,
      fc.property(fc.oneof(arbitraryFile, fc.constantFrom('', '# note', '# note\n')), arbitraryValue, (text, inner) => {
        const value = { kind: 'rule', id: 'r-1', because: inner };
        const done = carryOut(text, { intent: 'create', value });
        if (!done) return;
        count++;
        const before = read(text) as unknown[];
        const isLastEmpty = before.at(-1) === undefined;
        expect(read(done.after)).toEqual([...(isLastEmpty ? before.slice(0, -1) : before), written(value)]);
        expect(done.after.startsWith(text)).toBe(true);
      }),
    );
    expectOften(count, 540);
  });

  it('all comments outside what is removed survive', () => {
    let count = 0;
    assertLaw(
      1200,
      fc.property(arbitraryIntent, ({ text, intent }) => {
        const done = carryOut(text, intent);
        if (!done) return;
        const comments = commentsIn(text);
        const kept = comments.filter(
          ({ offset }) => !done.edits.some(({ start, end }) => start <= offset && offset < end),
        );
        expect(sources(done.after)).toEqual(kept.map(({ source }) => source));
        count += kept.length;
        // A map or list that is set takes out what it does not hold.
        const takesOut = intent.intent === 'remove' || (intent.intent === 'set' && typeof intent.value === 'object');
        if (!takesOut) expect(kept).toHaveLength(comments.length);
      }),
    );
    expectOften(count, 150);
  });

  it('remove after insert gives back the text', () => {
    let count = 0;
    assertLaw(
      1200,
      fc.property(arbitraryFile, fc.nat(), fc.boolean(), arbitraryValue, (text, pick, isBehind, value) => {
        const spot = spotOf(text, pick);
        if (!spot) return;
        const { document, path } = spot;
        const last = path.at(-1)!;
        const place = [...path.slice(0, -1), typeof last === 'number' ? last + Number(isBehind) : 'x-new'];
        const inserted = carryOut(text, { intent: 'insert', document, path: place, value });
        if (!inserted) return;
        count++;
        expect(carryOut(inserted.after, { intent: 'remove', document, path: place })?.after).toBe(text);
      }),
    );
    expectOften(count, 600);
  });

  it('set of the value that stands there changes nothing', () => {
    let count = 0;
    assertLaw(
      600,
      fc.property(arbitraryFile, fc.nat(), (text, pick) => {
        const spot = spotOf(text, pick);
        if (!spot) return;
        const { tape, document, path, entry } = spot;
        const { data, faults } = buildData(tape, entry);
        if (faults.length > 0) return;
        const inside = tape.entries.slice(entry, tape.entries[entry]!.skip);
        // Nothing and what stands elsewhere cannot be set.
        const isSomething = ({ kind, text }: TapeEntry): boolean =>
          kind === 'map' || kind === 'list' || (kind !== 'alias' && text !== '' && resolvePlain(text) !== null);
        if (!inside.every(isSomething)) return;
        count++;
        expect(carryOut(text, { intent: 'set', document, path, value: data as never })?.edits).toEqual([]);
      }),
    );
    expectOften(count, 250);
  });

  it('line endings of the file are kept', () => {
    let count = 0;
    assertLaw(
      900,
      fc.property(arbitraryIntent, ({ text, intent }) => {
        const done = carryOut(text, intent);
        if (!done) return;
        const endings = (of: string): Set<string> => new Set(of.match(/\r\n|\r|\n/g));
        if (endings(text).size !== 1) return;
        count += Number(text.includes('\r\n'));
        for (const ending of endings(done.after)) expect(endings(text)).toContain(ending);
        if (intent.intent === 'create') expect(/[\r\n]$/.test(done.after)).toBe(/[\r\n]$/.test(text));
      }),
    );
    expectOften(count, 150);
  });

  it('edits are sorted, apart from one another and within the text', () => {
    assertLaw(
      600,
      fc.property(arbitraryIntent, ({ text, intent }) => {
        let at = -1;
        for (const { start, end } of carryOut(text, intent)?.edits ?? []) {
          expect(start).toBeGreaterThan(at);
          expect(end).toBeGreaterThanOrEqual(start);
          at = end;
        }
        expect(at).toBeLessThanOrEqual(text.length);
      }),
    );
  });

  it('edits made for another content are refused', () => {
    assertLaw(
      200,
      fc.property(arbitraryIntent, fc.string(), ({ text, intent }, contentId) => {
        const planned = planEdits({ tape: readText(text).tape, contentId: 'c' }, [intent]);
        if (isRefusal(planned) || contentId === 'c') return;
        expect(applyEdits({ text, contentId }, planned)).toEqual({
          refused: 'The file has changed since this edit was made.',
        });
        expect(applyEdits({ text, contentId: 'c' }, planned)).toBe(replaceIn(text, planned.edits));
      }),
    );
  });

  it('both readers read the edited text alike', () => {
    let count = 0;
    assertLaw(
      1200,
      fc.property(arbitraryIntent, ({ text, intent }) => {
        const done = carryOut(text, intent);
        if (done && readsAlike(done.after)) count++;
      }),
    );
    expectOften(count, 600);
  });

  it('several intents at once come to what they come to one by one', () => {
    const seen = { done: 0, refused: 0 };
    assertLaw(
      600,
      fc.property(arbitraryIntents, ({ text, intents }) => {
        let after: string | undefined = text;
        for (const intent of intents) after = after === undefined ? undefined : carryOut(after, intent)?.after;
        expect(carryOut(text, ...intents)?.after).toBe(after);
        seen[after === undefined ? 'refused' : 'done']++;
      }),
    );
    expectOften(seen.done, 150);
    expectOften(seen.refused, 50);
  });
});
