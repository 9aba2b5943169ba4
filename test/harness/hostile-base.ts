import { keyNodes } from '../../schemas/gen/key-table.ts';
import { kinds } from '../../server/src/core/terms/kinds.ts';

/** The name of what a page gets where any of these texts is run in it. */
export const hostileMark = 'hostileTextRan';

/** A host that nothing may ever be asked for. */
export const hostileHost = 'hostile.invalid';

const run = `globalThis.${hostileMark}=1`;

/** Texts that do something wherever they are taken for more than text. */
const hostileTexts: readonly string[] = [
  `<img src=x onerror="${run};alert(1)">`,
  `<img src="https://${hostileHost}/pixel.png">`,
  `</script><script>${run}</script>`,
  `</style><style>*{display:none}</style>`,
  `"><svg onload='${run}'>`,
  `<iframe src="javascript:top.${hostileMark}=1"></iframe>`,
  `<a href="command:workbench.action.closeAllEditors">close</a>`,
  `[read more](https://${hostileHost}/page)`,
  `![picture](https://${hostileHost}/picture.png)`,
  '[undo](command:workbench.action.closeAllEditors)',
  `[open](javascript:${run})`,
  '[hosts](file:///etc/hosts)',
  'command:workbench.action.closeAllEditors',
  `javascript:${run}`,
  'file:///etc/hosts',
  `https://${hostileHost}/bare`,
  `www.${hostileHost}`,
  `mailto:somebody@${hostileHost}`,
  '$(trash) $(sync~spin)',
  '\u202egnp.yaml\u202c \u2066turned\u2069 \u200f',
  `\u001b[2J\u001b[31mred\u001b[0m \u001b]8;;https://${hostileHost}/term\u0007link\u001b]8;;\u0007`,
  'bell \u0007 null \u0000 back \b\b\b delete \u007f',
  'two\r\nlines\u2028and\u2029more',
  '`` ` ``` code | table | cell\n# heading\n- [ ] task\n\n    block',
  '*bold* _slanted_ ~~gone~~ $0 $1 {{x}} %s',
];

/** All of them in one. */
const hostileText = hostileTexts.join(' ');

/** As a scalar of YAML, which takes the escapes of JSON. */
function quoted(text: string): string {
  return JSON.stringify(text).replace(/\u007f/g, '\\x7f');
}

const all = quoted(hostileText);

/** Files by path, under names that hold what a file system lets them hold. */
export function hostileBase(): Readonly<Record<string, string>> {
  return {
    'swaplore.yaml': `swaplore: 1\nname: ${all}\nworks_at: reads\nignore: [${all}]\nseverity: { ${all}: error }\n`,
    'makers/wren.yaml': maker,
    'families/tern.yaml': family,
    'boards/tern.yaml': board,
    'drives/tern.yaml': `${drive('d-0117')}---\n${drive('d-0118')}`,
    'rules/tern.yaml': rules,
    'outcomes/left.yaml': outcome('left', 'left', 'works'),
    'outcomes/moved.yaml': outcome('moved', 'chip_moved', 'fails'),
    'outcomes/moved-too.yaml': outcome('moved-too', 'chip_moved', 'works'),
    ...Object.fromEntries(kinds.map((kind) => [`everywhere/${kind}.yaml`, everywhere(kind)])),
    ...Object.fromEntries(
      hostileNames.map((name, at) => [`names/${name}.yaml`, `kind: maker\nid: ${quoted(hostileText + at)}\n`]),
    ),
    'broken/text.yaml': `kind: maker\nid: [${hostileTexts.slice(0, 19).join('\n  ')}\n`,
    'broken/keys.yaml': `kind: maker\nid: wren\n${hostileTexts.map((text) => `${quoted(text)}: 1\n`).join('')}`,
    'broken/kinds.yaml': hostileTexts.map((text) => `kind: ${quoted(text)}\nid: ${quoted(text)}\n`).join('---\n'),
    'long/value.yaml': `kind: drive\nid: d-0119\nfamily: ${'<b>'.repeat(300_000)}\nmodel: ${all}\n`,
    'long/wwn.yaml': `kind: drive\nid: d-0120\nfamily: tern-2\nwwn: ${'<u>'.repeat(300_000)}\n`,
    'long/rule.yaml': `kind: rule\nid: long-rule\nclaim: needs\nwhen: { patient: { model: ${'w'.repeat(900_000)} } }\nbasis: measured\n`,
    'long/id.yaml': `kind: maker\nid: ${'W'.repeat(990_000)}\nname: W\n`,
    'long/notes.yaml': `kind: maker\nid: long\nname: Long\nnotes: ${'javascript:x '.repeat(75_000)}\n`,
    'long/key.yaml': `kind: maker\nid: long-key\nname: Long\n${'k'.repeat(900)}: 1\n${quoted('<i>'.repeat(200_000))}: 1\n`,
  };
}

const hostileNames: readonly string[] = [
  `<img src=x onerror=${run}>`,
  '[a](command:workbench.action.closeAllEditors)',
  `javascript:${run}`,
  '\u202elmay',
  '\u001b[31mred',
  '$(trash) %41 #1 ?q',
];

const details = `notes: ${all}
sources:
  - { title: ${all}, url: ${all} }
${hostileTexts.map((text) => `  - { title: ${quoted(text)}, url: ${quoted(text)} }\n`).join('')}photos:
  - { file: ${all}, shows: ${all} }
  - { file: "photos/[a](command:x) <img src=x>.png", shows: ${all} }
`;

const maker = `kind: maker
id: wren
name: ${all}
label:
  - { printed_as: ${all}, key: model, meaning: ${all} }
${details}`;

const family = `kind: family
id: tern-2
maker: wren
name: ${all}
models: [${all}]
adaptives: { stored_in: rom_chip }
host_needs: [${all}]
${details}`;

const board = `kind: board
id: b-1
maker: wren
part_number: ${all}
families: [tern-2]
revisions:
  - { rev: ${all}, controller: ${all}, motor_driver: ${all} }
  - { rev: "2", controller: ${all}, motor_driver: [${all}, other], drop_in_for: [${all}] }
${details}`;

function drive(id: string): string {
  return `kind: drive
id: ${id}
family: tern-2
model: ${all}
part_number: ${all}
firmware: ${all}
site: ${all}
country: ${all}
preamp: ${all}
serial: ${all}
wwn: ${all}
date_code: ${all}
board: { id: b-1, rev: ${all}, sticker: ${all}, controller: ${all} }
shelf: { place: ${all}, spare: true }
examined: [{ on: 2026-01-01, repaired: ${all} }]
condition: { board: good, media: good, fault: ${all}, as_of: 2026-01-01 }
${details}`;
}

const rules = `kind: rule
id: tern-rom-travels
applies_to: { families: [tern-2] }
claim: needs
when: { rom_travels: true, patient: { model: ${all} } }
basis: measured
because: ${all}
exceptions: [{ outcome: moved, because: ${all} }]
${details}---
kind: rule
id: tern-moved-suffices
applies_to: { families: [tern-2] }
claim: enough
when: { donor: { firmware: ${all}, preamp: ${all} } }
basis: measured
because: ${all}
`;

function outcome(id: string, rom: string, result: string): string {
  return `kind: outcome
id: ${id}
date: 2026-03-14
by: ${all}
patient: d-0117
donor: d-0118
rom: ${rom}
host: { name: ${all}, port: onboard }
controls: { donor_on_own_board: works, patient_on_own_board: verified, swapped_back: both_work }
observed: { spins: true, reads: ${result === 'works'} }
identity: [{ value: firmware, patient_before: ${all}, after: ${all} }]
reached: ${result === 'works' ? 'reads' : 'spins'}
result: ${result}
${details}`;
}

/** A record in which every key holds them, those that are refused included. */
function everywhere(kind: (typeof kinds)[number]): string {
  const keys = (keyNodes[kind] ?? []).map(({ name }) => name).filter((name) => name !== 'kind');
  return `kind: ${kind}\n${keys.map((key) => `${key}: ${all}\n`).join('')}x-own: ${all}\n`;
}
