import { githubSarifWorkflow } from './github-sarif-workflow.ts';
import { githubWorkflow } from './github-workflow.ts';
import { gitlabPipeline } from './gitlab-pipeline.ts';
import { lintScript } from './lint-script.ts';
import type { NewFile } from './new-file.ts';
import { preCommitConfig } from './pre-commit-config.ts';
import type { Tool } from './tool.ts';

/** A file with which one system checks a base by itself. */
interface CiKit {
  readonly path: string;
  /** What it does there: a part of a sentence, without a full stop. */
  readonly describe: string;
  readonly textWith: (tool: Tool) => string;
}

/** Every kit there is, by the id that `swaplore init --ci` takes. */
export const ciKits = {
  github: {
    path: '.github/workflows/swaplore.yml',
    describe: 'GitHub lints every push, with findings beside their lines, and reviews a pull request in its summary',
    textWith: githubWorkflow,
  },
  'github-sarif': {
    path: '.github/workflows/swaplore-sarif.yml',
    describe: 'GitHub hands findings to its code scanning, where a repository has that',
    textWith: githubSarifWorkflow,
  },
  gitlab: {
    path: '.gitlab-ci.yml',
    describe: 'GitLab lints every push, with a report of code quality, and reviews a merge request in the log',
    textWith: gitlabPipeline,
  },
  shell: {
    path: 'ci/lint.sh',
    describe: 'a script for any other system lints, and reviews what was changed since a revision',
    textWith: lintScript,
  },
  'pre-commit': {
    path: '.pre-commit-config.yaml',
    describe: 'the program `pre-commit` lints before a commit is made',
    textWith: preCommitConfig,
  },
} as const satisfies Record<string, CiKit>;

/** Names a kit. */
export type CiKitId = keyof typeof ciKits;

/** The ids of all kits, in the order they are listed. */
export const ciKitIds = Object.keys(ciKits) as readonly CiKitId[];

/** The kits of a base of which nobody said anything else. */
export const usualKits: readonly CiKitId[] = ['github'];

/** The files of these kits, in the order of the table. */
export function filesOfKits(ids: readonly CiKitId[], tool: Tool): readonly NewFile[] {
  return ciKitIds
    .filter((id) => ids.includes(id))
    .map((id) => ({ path: ciKits[id].path, text: ciKits[id].textWith(tool) }));
}
