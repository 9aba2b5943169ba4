import { lineScalar } from '../edits/write-scalar.ts';
import { onCommitDay } from './on-commit-day.ts';
import type { Tool } from './tool.ts';

/** The steps that both workflows for GitHub begin with. */
export function githubSteps(fetchDepth: 'last commit' | 'history'): string {
  const history = `        with:
          fetch-depth: 0 # a review goes back to where the change began
`;
  return `      - uses: actions/checkout@v4
${fetchDepth === 'history' ? history : ''}      - uses: actions/setup-node@v4
        with:
          node-version: 22
      - name: Install Swaplore
        id: install
        run: npm install --global --ignore-scripts "$SWAPLORE"
`;
}

/** The part of both workflows for GitHub that says what they install. */
export function githubTool({ spec }: Tool): string {
  return `env:
  # What to install: a tarball in the repository, as \`npm pack\` makes it, or a name and version in a registry.
  SWAPLORE: ${lineScalar(spec, 'plain', false)}
`;
}

/** A workflow for GitHub that lints a base on every push and reviews every pull request. */
export function githubWorkflow(tool: Tool): string {
  return `# Lints the base on every push and pull request, and writes the findings beside the lines they are about.
# What a pull request comes to for the bench stands in the summary of its run.
# GitHub reads this from the top of a repository only: where the base lies deeper, move the file there.
name: Swaplore
on: [push, pull_request]
permissions:
  contents: read
${githubTool(tool)}jobs:
  lint:
    runs-on: ubuntu-latest
    steps:
${githubSteps('history')}      - name: Lint
        run: swaplore lint --format github ${onCommitDay}
      - name: Review
        if: \${{ !cancelled() && steps.install.outcome == 'success' && github.event_name == 'pull_request' }}
        run: swaplore review --base "origin/$GITHUB_BASE_REF" --format markdown ${onCommitDay} >> "$GITHUB_STEP_SUMMARY"
`;
}
