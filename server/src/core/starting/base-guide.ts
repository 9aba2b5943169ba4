import { type Kind, kinds, pluralOf } from '../terms/kinds.ts';
import { markdownText } from '../text/markdown-text.ts';
import { type CiKitId, ciKitIds, ciKits } from './ci-kits.ts';
import type { NewFile } from './new-file.ts';
import { npxCommand } from './npx-command.ts';
import type { Tool } from './tool.ts';

/** What a record of each kind is, in a few words. */
const purposes: Readonly<Record<Kind, string>> = {
  maker: 'who built drives, and how labels and date codes are read',
  family: 'drives of one platform: where they keep what is unique to one unit',
  board: 'part numbers with their revisions and chips',
  drive: 'the units in the shop, patients and donors alike',
  outcome: 'every assembly that was tried, and what it came to',
  rule: 'what the bench goes by, held against the outcomes',
};

/** What the guide of a base tells of. */
interface Guided {
  readonly name: string;
  /** The records to be deleted some day. */
  readonly examples: readonly NewFile[];
  readonly kits: readonly CiKitId[];
  readonly tool: Tool;
}

/** The README of a new base: how to record, check and review, in short. */
export function baseGuide({ name, examples, kits, tool }: Guided): NewFile {
  const folders = kinds.map((kind) => `- \`${pluralOf(kind)}/\`: ${purposes[kind]}`).join('\n');
  const invented = examples.map(({ path }) => `- \`${path}\``).join('\n');
  return {
    path: 'README.md',
    text: `# ${markdownText(name)}

What this bench has learnt about circuit boards of hard drives: which board brings which drive up, and under which
conditions. It is read and checked by Swaplore.

## Before anything is powered

- If the data matters to anyone, stop and hand the drive to a professional recovery lab. Every attempt can lower the chance.
- Disconnect power before a board is touched, and measure the supply lines and the motor for shorts first.
- On wanted data, never try the donor's board with its own ROM, and never run a test that writes. Data not known is wanted.
- Read a ROM twice and compare before anything is moved or written. Keep the original chip and both images.
- ROM images and serial numbers belong to customers: images stay out of this repository, serials are masked.

## Record

${folders}

One file for each record, named for its id. Folders and names are habit; the \`kind\` inside says what a record is.

1. Record both drives, as far as they can be read (\`swaplore record drive\` asks). What is not known is left out.
2. Record the outcome on the same day, also where it failed, with the controls: they make a failure mean something
   (\`swaplore record\` asks; \`swaplore record --from answers.json\` has the answers from a file).
3. A mistake found later is \`retracted\` with its day and reason, not deleted.

What stands in the shop's own spreadsheet need not be typed again: \`swaplore import shop.csv --suggest-map\` proposes a map of its
columns, and with \`--map\` its rows become records.

\`swaplore key outcome\` lists the keys, \`swaplore key outcome.rom\` explains one. The extension for VS Code does so while
somebody types.

## Check

\`\`\`sh
swaplore lint
swaplore contradictions
\`\`\`

The first finds what does not fit; nothing at error level should reach the main branch. The second says how the outcomes
stand to the rules, and what to look up or try next.

Nobody has to think of the first:

${kitList(kits)}

${whereFrom(tool)}

## Review

\`swaplore review --base origin/main\` says what a change comes to: verdicts, rules and odds before and after, and what is new among
the findings. What is left for people to ask:

- Does an outcome say what was seen, with its controls, rather than what was made of it?
- Does a new rule say why it should hold, and on what basis?
- Is a finding answered by a better record? A weaker severity, an exception or an ignored path needs a reason.
- Is there nothing that leads to a customer?

## Elsewhere

\`swaplore report --out pages\` writes the base as pages for a browser, \`swaplore export --to csv --out tables\` as tables for other
programs. Neither folder goes into git.

## The examples

These records are invented. They show one swap, and are to be deleted, all at once, when the first of the shop's own are
there:

${invented}
`,
  };
}

function kitList(kits: readonly CiKitId[]): string {
  return ciKitIds
    .filter((id) => kits.includes(id))
    .map((id) => `- \`${ciKits[id].path}\`: ${ciKits[id].describe}.`)
    .join('\n');
}

function whereFrom({ spec, tarball }: Tool): string {
  const source =
    tarball === undefined
      ? `Swaplore comes from npm's registry as \`${spec}\`.`
      : `Swaplore comes out of this repository, as the tarball \`${tarball}\`, which has to be put there first: in the folder of
Swaplore's source, \`npm run build\` and then \`npm pack\` make one.`;
  return `${source} With nothing installed, this runs the same:

\`\`\`sh
${npxCommand(spec)} lint
\`\`\``;
}
