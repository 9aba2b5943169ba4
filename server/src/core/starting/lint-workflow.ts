import type { NewFile } from './new-file.ts';

/**
 * A workflow for GitHub that lints a base on every push, on the day of the commit, so that an old commit is judged as it was then.
 * The tool comes from the repository itself: a package's name could be somebody else's.
 */
export const lintWorkflow: NewFile = {
  path: '.github/workflows/swaplore.yml',
  text: `# Lints the base on every push and pull request, and writes the findings beside the lines they are about.
# GitHub reads this from the top of a repository only: where the base lies deeper, move the file there.
name: Swaplore
on: [push, pull_request]
permissions:
  contents: read
env:
  # What to install: a tarball in the repository, as \`npm pack\` makes it, or a name and version in a registry.
  SWAPLORE: ./tools/swaplore.tgz
jobs:
  lint:
    runs-on: ubuntu-latest
    steps:
      - uses: actions/checkout@v4
      - uses: actions/setup-node@v4
        with:
          node-version: 22
      - name: Install Swaplore
        run: npm install --global --ignore-scripts "$SWAPLORE"
      - name: Lint
        run: swaplore lint --format github --today "$(git show -s --format=%cs)"
`,
};
