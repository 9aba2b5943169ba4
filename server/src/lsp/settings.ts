/** The settings of an editor, each a switch: what it is named below `swaplore.`, what it does, and how it stands where nobody sets it. */
export const settingRows = [
  {
    name: 'lenses.rules',
    default: true,
    describe: 'Show above each rule how many outcomes support it and how many are against it.',
  },
  {
    name: 'lenses.families',
    default: true,
    describe: 'Show above each family how many pairs of drives worked, with the exact interval.',
  },
  { name: 'hints.verdicts', default: true, describe: 'Show the derived verdict beside the result of an outcome.' },
  { name: 'hints.decoded', default: true, describe: 'Show date codes, capacities and other coded values decoded.' },
  {
    name: 'fixOnSave',
    default: false,
    describe: 'Mend what follows from the file alone whenever it is saved.',
  },
] as const;

/** The name of a setting, below `swaplore.`. */
type SettingName = (typeof settingRows)[number]['name'];

/** How the settings stand. */
export type Settings = Readonly<Record<SettingName, boolean>>;

/** Settings as a client sends them, nested or by dotted names; what is missing or no switch stands at its default. */
export function readSettings(sent: unknown): Settings {
  const rows = settingRows.map(({ name, default: usual }) => [name, valueAt(sent, name) ?? usual] as const);
  return Object.fromEntries(rows) as Record<SettingName, boolean>;
}

function valueAt(sent: unknown, name: string): boolean | undefined {
  const dotted = keyOf(sent, name);
  const value = dotted ?? name.split('.').reduce<unknown>(keyOf, sent);
  return typeof value === 'boolean' ? value : undefined;
}

function keyOf(value: unknown, key: string): unknown {
  return typeof value === 'object' && value !== null ? (value as Readonly<Record<string, unknown>>)[key] : undefined;
}
