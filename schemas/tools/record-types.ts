import { type Choice, type Form, listAlternatives, listLeaves } from './forms.ts';
import { generatedNote } from './generated-note.ts';
import type { MapNode } from './read-nodes.ts';
import { toPascal } from './to-pascal.ts';

const header = `// ${generatedNote}
// Every property is optional: what breaks the schema is left out when a record is read.
`;

/** Source of the TypeScript types of the records: an object type per shape of map, a union per shared choice. */
export function toRecordTypes(nodes: ReadonlyMap<string, MapNode>): string {
  const leaves = [...nodes.values()].flatMap((node) => node.keys.flatMap((key) => listLeaves(key.form)));
  const choices = new Map<string, readonly Choice[]>();
  for (const leaf of leaves) {
    if (leaf.form === 'values' && leaf.name !== undefined) addChoices(choices, leaf.name, leaf.choices);
  }
  const unions = [...choices].map(([name, list]) => toUnion(name, list));
  return [header, ...unions, ...[...nodes.values()].map(toObjectType)].join('\n');
}

function addChoices(all: Map<string, readonly Choice[]>, name: string, list: readonly Choice[]): void {
  const known = all.get(name);
  const isSame = known === undefined || printChoices(known) === printChoices(list);
  if (!isSame) throw new Error(`Two different choices are called ${name}.`);
  all.set(name, list);
}

function toUnion(name: string, choices: readonly Choice[]): string {
  return `/** One of the values of \`${name}\` in the schemas. */\nexport type ${toPascal(name)} = ${printChoices(choices)};\n`;
}

function toObjectType(node: MapNode): string {
  const keys = node.keys.map((key) => `  readonly ${printName(key.name)}?: ${printForm(key.form)};\n`);
  return `/** ${node.title}: ${node.description} */\nexport type ${toTypeName(node.id)} = {\n${keys.join('')}};\n`;
}

function printName(name: string): string {
  return /^\w+$/.test(name) ? name : `'${name}'`;
}

function printForm(form: Form): string {
  const parts = listAlternatives(form).map(printAlternative);
  return [...new Set(parts)].join(' | ');
}

function printAlternative(form: Form): string {
  switch (form.form) {
    case 'text':
      return 'string';
    case 'integer':
    case 'number':
      return 'number';
    case 'boolean':
      return 'boolean';
    case 'values':
      return form.name === undefined ? printChoices(form.choices) : toPascal(form.name);
    case 'free-map':
      return 'Readonly<Record<string, unknown>>';
    case 'map':
      return toTypeName(form.node);
    case 'list':
      return printList(printForm(form.of));
    case 'either':
      return printForm(form);
    default:
      return form satisfies never;
  }
}

function printList(item: string): string {
  return item.includes(' ') ? `readonly (${item})[]` : `readonly ${item}[]`;
}

function printChoices(choices: readonly Choice[]): string {
  return choices.map(({ value }) => (typeof value === 'string' ? `'${value}'` : String(value))).join(' | ');
}

function toTypeName(node: string): string {
  return `${toPascal(node)}Data`;
}
