/**
 * The files a knowledge base begins with.
 * Laws (test/property/new-base.property.test.ts):
 * - nothing is found in a new base, on the day it is made or later
 * - its config has the name that was given
 * - its files are laid out as an editor lays them out
 */
import { configPath } from '../checks/config-invalid.ts';
import { lineScalar } from '../edits/write-scalar.ts';
import type { Day } from '../terms/calendar.ts';
import { baseGuide } from './base-guide.ts';
import { type CiKitId, filesOfKits } from './ci-kits.ts';
import { exampleRecords } from './example-records.ts';
import type { NewFile } from './new-file.ts';
import type { Tool } from './tool.ts';

/** What a base is made from. */
export interface NewBase {
  /** What the shop calls it; not empty. */
  readonly name: string;
  /** The day it is made, in the years 1970 to 2100. */
  readonly today: Day;
  /** What checks it by itself, each with the tool. */
  readonly kits: readonly CiKitId[];
  readonly tool: Tool;
}

/** The files of a new base. The config comes last: once it is there, so is all else. */
export function newBase({ name, today, kits, tool }: NewBase): readonly NewFile[] {
  const examples = exampleRecords(today);
  const guide = baseGuide({ name, examples, kits, tool });
  return [guide, gitIgnore, ...filesOfKits(kits, tool), recommendedExtensions, ...examples, configNamed(name)];
}

const gitIgnore: NewFile = {
  path: '.gitignore',
  text: `# What \`swaplore report --out pages\` and \`swaplore export --to csv --out tables\` write can be written again.
/pages/
/tables/
# ROM images belong to customers. Their checksums stand in the records.
*.bin
*.rom
`,
};

const recommendedExtensions: NewFile = {
  path: '.vscode/extensions.json',
  text: `${JSON.stringify({ recommendations: ['swaplore.swaplore'] }, undefined, 2)}\n`,
};

function configNamed(name: string): NewFile {
  return {
    path: configPath,
    text: `# The folder of this file is a base, with every .yaml file below it. \`swaplore key config\` lists all settings.
swaplore: 1 # version of the format
name: ${lineScalar(name, 'plain', false)} # stands at the head of reports
works_at: reads # lowest stage that counts as working; agree on it before the first swap is recorded
serials: masked # whole serial numbers lead to customers, and git forgets nothing
`,
  };
}
