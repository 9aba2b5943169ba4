import { wrapText } from '../core/reports/render-text.ts';
import { type KeyRow, keyNodes } from '../core/schema/key-rows.ts';
import { nearestClause, nearNames } from '../core/text/near-names.ts';
import { type Command, jsonOption } from './command.ts';
import { exitCodes, UsageError } from './exit-codes.ts';
import { styled, type Terminal, toJsonText } from './terminal.ts';

/** A key with the map it stands in: a kind, or a path such as `drive.board`. */
interface Found {
  readonly node: string;
  readonly row: KeyRow;
}

/** `swaplore key`: what a key means, where it is read, and why it matters. */
export const key: Command = {
  name: 'key',
  takes: 'NAME',
  positionals: { min: 1, max: 1 },
  describe: 'Explain a key, by name or path (rev, drive.board.rev), or list the keys of a map (drive, drive.board).',
  options: [jsonOption],
  run: (args, terminal) => {
    const [name = ''] = args.positionals;
    const rows = Object.hasOwn(keyNodes, name) ? keyNodes[name] : undefined;
    const found = rows ? rows.map((row) => ({ node: name, row })) : findKeys(name);
    if (found.length === 0) throw unknownName(name);
    if (args.values['json'] === true) {
      terminal.out(toJsonText(found.map(({ node, row }) => ({ in: node, ...row }))));
    } else {
      terminal.out(
        `${found.map((one) => (rows ? summarise(one, terminal) : explain(one, terminal))).join(rows ? '\n' : '\n\n')}\n`,
      );
    }
    return exitCodes.clean;
  },
};

function findKeys(name: string): Found[] {
  const dot = name.lastIndexOf('.');
  const wantedNode = dot < 0 ? undefined : name.slice(0, dot);
  const wanted = name.slice(dot + 1);
  return Object.entries(keyNodes)
    .filter(([node]) => wantedNode === undefined || node === wantedNode)
    .flatMap(([node, rows]) => rows.filter((row) => row.name === wanted).map((row) => ({ node, row })))
    .filter(
      ({ node }, _, all) =>
        wantedNode !== undefined || !isConditionNode(node) || all.every((one) => isConditionNode(one.node)),
    );
}

/** In conditions the comparable keys stand again; asked for by bare name, the key itself is meant. */
function isConditionNode(node: string): boolean {
  return node.endsWith('Condition');
}

function unknownName(name: string): UsageError {
  const names = new Set(Object.entries(keyNodes).flatMap(([node, rows]) => [node, ...rows.map((row) => row.name)]));
  const nearest = nearestClause(nearNames(name, names));
  return new UsageError(`Key \`${name}\` is not known${nearest}.`, 'swaplore key drive lists the keys of a drive.');
}

function summarise({ row }: Found, terminal: Terminal): string {
  const name = `${row.name}${row.required ? ' (required)' : ''}`;
  return [styled(terminal, 'bold', name), ...wrapText(row.description, terminal.columns, '  ')].join('\n');
}

function explain({ node, row }: Found, terminal: Terminal): string {
  const facts = [
    ['What', row.description],
    ['Where', row.where],
    ['Why', row.why],
    ['Read from', row.readFrom.replace('_', ' ')],
    ['Unit', row.unit],
    ['Compared as', row.comparableAs],
    ['Example', examplesOf(row)],
  ] as const;
  const lines = facts.flatMap(([label, text]) =>
    text === undefined ? [] : wrapText(`${label}: ${text}`, terminal.columns, '  '),
  );
  const values = (row.values ?? []).flatMap(({ value, meaning }) =>
    wrapText(meaning === '' ? value : `${value}: ${meaning}`, terminal.columns, '    '),
  );
  const title = `${node}.${row.name}: ${row.title}${row.required ? ' (required)' : ''}`;
  return [styled(terminal, 'bold', title), ...lines, ...(values.length > 0 ? ['  Values:', ...values] : [])].join('\n');
}

function examplesOf(row: KeyRow): string {
  return row.examples
    .slice(0, 2)
    .map((example) => JSON.stringify(example))
    .join(' or ');
}
