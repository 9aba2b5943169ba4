import { npxCommand } from './npx-command.ts';
import type { Tool } from './tool.ts';

/** A hook for the program `pre-commit` that lints a base before every commit. */
export function preCommitConfig({ spec }: Tool): string {
  return `# Lints the base before every commit, once \`pre-commit install\` was run in a clone. https://pre-commit.com
# pre-commit reads this from the top of a repository only: where the base lies deeper, move the file there.
repos:
  - repo: local
    hooks:
      - id: swaplore
        name: Lint the base
        # Behind \`--package=\`: a tarball in the repository, as \`npm pack\` makes it, or a name and version in a registry.
        entry: ${npxCommand(spec)} lint
        language: system
        always_run: true # a record that is gone is a change of the base too
        pass_filenames: false # a base is judged whole
`;
}
