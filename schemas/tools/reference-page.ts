import { kinds } from '../../server/src/core/terms/kinds.ts';
import { generatedNote } from './generated-note.ts';
import { type KeyRow, toKeyRow } from './key-rows.ts';
import type { MapNode } from './read-nodes.ts';
import { type ReferenceEntry, toReferenceText } from './reference-text.ts';

type Nodes = ReadonlyMap<string, MapNode>;

interface Section {
  readonly heading: string;
  readonly text: string;
  readonly entries: readonly ReferenceEntry[];
}

/** The shape whose keys are check ids; the page of the checks explains those. */
const explainedElsewhere = 'severityTable';

/** The reference of every key, for users: a section per kind of document, then one per shape used at several places. */
export function toReferencePage(nodes: Nodes): string {
  const sections = toSections(nodes);
  const seen = new Map<string, string>();
  const texts = sections.flatMap(({ heading, text, entries }, index) => {
    const twin =
      entries.length === 0 ? undefined : sections.slice(0, index).find((other) => isSame(other.entries, entries));
    if (twin !== undefined) return [`## ${heading}`, text, `Its keys are those of ${toLink(twin.heading)}.`];
    return [`## ${heading}`, text, ...entries.map((entry) => toText(entry, heading, seen))];
  });
  return `${[`<!-- ${generatedNote} -->`, '# Keys', introduction, ...texts].join('\n\n')}\n`;
}

const introduction = `Every key of the knowledge files: what it is, where it stands on a drive or in the shop, and why it matters for a
swap. A key that is not required may be left out; that means *not known*, and nothing more. Records of every kind
also take the [keys of every record](#keys-of-every-record), and any map takes keys of the shop's own that begin
with \`x-\`.`;

function toSections(nodes: Nodes): readonly Section[] {
  const everywhere = findSharedRows(nodes);
  const toSection = (node: MapNode, heading: string): Section => {
    const rows = node.keys.map(toKeyRow).filter((row) => !everywhere.some((shared) => isSame(row, shared)));
    return { heading, text: node.description, entries: rows.flatMap((row) => toEntries(row, row.name, nodes)) };
  };
  const documents = [...nodes.values()].filter((node) => !node.shared && !node.id.includes('.'));
  const shapes = [...nodes.values()].filter((node) => node.shared && node.id !== explainedElsewhere);
  return [
    ...documents.map((node) => toSection(node, node.id)),
    {
      heading: 'Keys of every record',
      text: 'These keys mean the same in records of every kind.',
      entries: everywhere.flatMap((row) => toEntries(row, row.name, nodes)),
    },
    ...shapes.map((node) => toSection(node, toShapeHeading(node))),
  ];
}

function findSharedRows(nodes: Nodes): readonly KeyRow[] {
  const [first = [], ...others] = kinds.map((kind) => nodes.get(kind)?.keys.map(toKeyRow) ?? []);
  return first.filter((row) => others.every((rows) => rows.some((other) => isSame(row, other))));
}

function isSame(left: unknown, right: unknown): boolean {
  return JSON.stringify(left) === JSON.stringify(right);
}

function toEntries(row: KeyRow, path: string, nodes: Nodes): readonly ReferenceEntry[] {
  const node = row.node === undefined ? undefined : nodes.get(row.node);
  if (node === undefined) return [{ row, path }];
  if (node.id === explainedElsewhere) return [{ row, path, keys: 'the [check ids](checks.md)' }];
  if (node.shared) return [{ row, path, keys: `see ${toLink(toShapeHeading(node))}` }];
  const below = node.keys.map(toKeyRow).flatMap((inner) => toEntries(inner, `${path}.${inner.name}`, nodes));
  return [{ row, path }, ...below];
}

/** The text of an entry; of one whose words stood under another heading before, only what differs. */
function toText(entry: ReferenceEntry, heading: string, seen: Map<string, string>): string {
  const words = JSON.stringify([entry.row.description, entry.row.where, entry.row.why]);
  const earlier = seen.get(words);
  if (earlier === undefined) seen.set(words, `\`${entry.path}\` of ${toLink(heading)}`);
  return toReferenceText(entry, earlier);
}

function toShapeHeading(node: MapNode): string {
  return `Shape: ${node.id}`;
}

function toLink(heading: string): string {
  return `[${heading}](#${heading
    .toLowerCase()
    .replace(/[^a-z0-9 -]/g, '')
    .replaceAll(' ', '-')})`;
}
