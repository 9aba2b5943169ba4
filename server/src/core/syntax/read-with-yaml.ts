/**
 * Invariant 2: never throws. Invariant 5: gives a tape like every reader.
 * The recovering reader, on the `yaml` package: slow, exact, and still useful on broken text.
 * Scalars stay text here (failsafe schema); `core-schema.ts` says what they stand for, the same for both readers.
 */
import {
  Composer,
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  Lexer,
  type Node,
  type Pair,
  Parser,
  Scalar,
  type YAMLParseError,
} from 'yaml';
import { inThousands } from '../text/in-thousands.ts';
import { limits } from './limits.ts';
import type { SyntaxFault } from './syntax-fault.ts';
import { syntaxReason } from './syntax-reasons.ts';
import type { EntryKind, Span, Tape, TapeDocument, TapeEntry } from './tape.ts';

/** A tape and what was wrong with the text; of each document only the first fault, since the rest follow from it. */
export interface Reading {
  readonly tape: Tape;
  readonly faults: readonly SyntaxFault[];
}

/** Reads any text into a tape. Documents with a fault are marked broken and hold what could be recovered. */
export function readWithYaml(text: string): Reading {
  try {
    const tokens = tokenize(text);
    if (!Array.isArray(tokens)) return { tape: emptyTape(text), faults: [tokens] };
    return composeTape(text, tokens);
  } catch (error) {
    // The package states that it never throws on bad text; if it does, the file is a finding, not a crash.
    const reason = error instanceof Error ? error.message : String(error);
    const fault: SyntaxFault = { kind: 'syntax', start: 0, end: 0, reason: `The reader gave up: ${reason}.` };
    return { tape: emptyTape(text), faults: [fault] };
  }
}

type Token = ReturnType<Parser['next']> extends Generator<infer T> ? T : never;

/** Tokens of the whole text, or the fault where it nests deeper than the composer, which recurses, can bear. */
function tokenize(text: string): Token[] | SyntaxFault {
  const parser = new Parser();
  const tokens: Token[] = [];
  for (const lexeme of new Lexer().lex(text)) {
    for (const token of parser.next(lexeme)) tokens.push(token);
    if (parser.stack.length > limits.depth + 1 && collectionDepth(parser) > limits.depth) {
      const reason = `Maps and lists are nested more than ${limits.depth} deep here.`;
      return { kind: 'too-deep', start: parser.offset - lexeme.length, end: parser.offset, reason };
    }
  }
  for (const token of parser.end()) tokens.push(token);
  return tokens;
}

const collectionTokens: ReadonlySet<string> = new Set(['block-map', 'block-seq', 'flow-collection']);

function collectionDepth(parser: Parser): number {
  return parser.stack.filter((token) => collectionTokens.has(token.type)).length;
}

function composeTape(text: string, tokens: readonly Token[]): Reading {
  const composer = new Composer({
    schema: 'failsafe',
    // Or `!!binary`, `!!omap` and their like would turn text and children into something else, without spans.
    resolveKnownTags: false,
    uniqueKeys: false,
    prettyErrors: false,
    logLevel: 'silent',
  });
  const entries: TapeEntry[] = [];
  const documents: TapeDocument[] = [];
  const faults: SyntaxFault[] = [];
  const aliasUses: Span[] = [];
  for (const document of composer.compose(tokens, true, text.length)) {
    const writer = new TapeWriter(text, entries, aliasUses);
    const root = writer.writeRoot(document);
    const [first] = document.errors;
    const fault = first ? describeError(text, first) : writer.fault;
    if (fault) faults.push(fault);
    documents.push({ root, isBroken: fault !== undefined });
  }
  const excess = aliasUses[limits.aliases];
  if (excess) {
    const reason = `More than ${inThousands(limits.aliases)} aliases are used in this file.`;
    return { tape: emptyTape(text), faults: [{ kind: 'too-deep', start: excess.start, end: excess.end, reason }] };
  }
  return { tape: { text, entries, documents }, faults };
}

function describeError(text: string, error: YAMLParseError): SyntaxFault {
  const start = Math.min(error.pos[0], text.length);
  const end = Math.min(Math.max(error.pos[1], start), text.length);
  return { kind: 'syntax', start, end, reason: syntaxReason(error.code, error.message) };
}

function emptyTape(text: string): Tape {
  return { text, entries: [], documents: [] };
}

type Writable = { -readonly [Name in keyof TapeEntry]: TapeEntry[Name] };

/** What an anchor stands before: the entry of a value, or a scalar used as a key, which has no entry. */
type Anchored = { readonly entry: number } | { readonly key: Scalar };

/** Where a value hangs: its key, or nothing for list items and roots. */
interface KeySpan {
  readonly key: string | undefined;
  readonly keyStart: number;
  readonly keyEnd: number;
}

const noKey: KeySpan = { key: undefined, keyStart: -1, keyEnd: -1 };

/** Writes one document. Entries are reserved before their children, so that `skip` can be filled in after them. */
class TapeWriter {
  fault: SyntaxFault | undefined;
  private readonly anchors = new Map<string, Anchored>();
  /** Maps and lists whose end is not reached yet: an alias to one of them would contain itself. */
  private readonly open = new Set<number>();

  constructor(
    private readonly text: string,
    private readonly entries: TapeEntry[],
    /** Every use of an alias, in keys too. */
    private readonly aliasUses: Span[],
  ) {}

  writeRoot(document: Document.Parsed): number {
    const { contents } = document;
    const isNothing = contents === null || (isScalar(contents) && kindOfScalar(contents) === 'empty' && !contents.tag);
    return isNothing ? -1 : this.write(contents, noKey, document.range[1]);
  }

  private write(node: Node | null, at: KeySpan, fallback: number): number {
    const index = this.entries.length;
    const [start, end] = node?.range ?? [fallback, fallback];
    const anchor = node && !isAlias(node) ? (node as { anchor?: string }).anchor : undefined;
    if (anchor !== undefined) this.anchors.set(anchor, { entry: index });
    const tag = node && !isAlias(node) ? node.tag : undefined;
    const { key, keyStart, keyEnd } = at;
    // All fields at once, so that entries, made by the hundred thousand, keep one shape.
    const entry: Writable = {
      kind: 'empty',
      key,
      keyStart,
      keyEnd,
      start,
      end,
      skip: index + 1,
      text: '',
      tag,
      target: -1,
    };
    this.entries.push(entry);
    if (isMap(node)) {
      entry.kind = 'map';
      this.writeChildren(entry, index, node, () => this.writePairs(node.items as Pair<Node, Node | null>[]));
    } else if (isSeq(node)) {
      entry.kind = 'list';
      this.writeChildren(entry, index, node, () => this.writeItems(node.items as Node[]));
    } else if (isAlias(node)) setAlias(entry, this.resolveAlias(node.source, entry));
    else if (isScalar(node)) setScalar(entry, node);
    // An empty value stands where its key ends: where the package puts it depends on what follows.
    if (entry.kind === 'empty' && keyEnd >= 0) entry.start = entry.end = keyEnd;
    return index;
  }

  /** Without brackets a collection ends with its last child: where the package says it does depends on blank lines and comments. */
  private writeChildren(entry: Writable, index: number, node: { readonly flow?: boolean }, write: () => number): void {
    this.open.add(index);
    const last = write();
    this.open.delete(index);
    entry.skip = this.entries.length;
    // In a broken document that child may stand before it, as in `&]:`.
    if (!node.flow) entry.end = Math.max(entry.start, this.entries[last]?.end ?? entry.end);
  }

  /** Writes the values of a map and gives the index of the last. */
  private writePairs(pairs: readonly Pair<Node, Node | null>[]): number {
    let last = -1;
    for (const pair of pairs) {
      const [keyStart, keyEnd] = pair.key.range ?? [0, 0];
      last = this.write(pair.value, { key: this.keyText(pair.key, keyStart, keyEnd), keyStart, keyEnd }, keyEnd);
    }
    return last;
  }

  /** Writes the items of a list and gives the index of the last. */
  private writeItems(items: readonly Node[]): number {
    let last = -1;
    for (const item of items) {
      // A list item may itself be a lone pair, as in `[a: 1]`; the package gives it as a map, so nothing special is due.
      last = this.write(item, noKey, 0);
    }
    return last;
  }

  private keyText(key: Node, start: number, end: number): string {
    if (isScalar(key)) {
      if (key.anchor !== undefined) this.anchors.set(key.anchor, { key });
      return String(key.value ?? '');
    }
    const target = isAlias(key) ? this.resolveAlias(key.source, { start, end }) : undefined;
    if (target && 'key' in target) return String(target.key.value);
    const entry = target && this.entries[target.entry];
    // A map or list as key is not text; what was typed stands for it, alias or not.
    return entry && entry.kind !== 'map' && entry.kind !== 'list' ? entry.text : this.text.slice(start, end);
  }

  private resolveAlias(name: string, { start, end }: Span): Anchored | undefined {
    this.aliasUses.push({ start, end });
    const target = this.anchors.get(name);
    if (target && !('entry' in target && this.open.has(target.entry))) return target;
    const reason =
      target === undefined
        ? `The alias \`*${name}\` has no anchor \`&${name}\` before it.`
        : `The alias \`*${name}\` stands inside the value it repeats.`;
    this.fault ??= { kind: 'syntax', start, end, reason };
    return undefined;
  }
}

/** An alias of a key is written as the scalar it repeats, at the place of the alias. */
function setAlias(entry: Writable, target: Anchored | undefined): void {
  if (target && 'key' in target) {
    setScalar(entry, target.key);
    entry.tag = target.key.tag;
    return;
  }
  entry.kind = 'alias';
  entry.target = target?.entry ?? -1;
}

function setScalar(entry: Writable, node: Scalar): void {
  entry.kind = kindOfScalar(node);
  entry.text = String(node.value);
}

function kindOfScalar(node: Scalar): EntryKind {
  if (node.type === Scalar.QUOTE_DOUBLE || node.type === Scalar.QUOTE_SINGLE) return 'quoted';
  if (node.type === Scalar.BLOCK_FOLDED || node.type === Scalar.BLOCK_LITERAL) return 'block';
  return node.value === '' || node.value === null ? 'empty' : 'plain';
}
