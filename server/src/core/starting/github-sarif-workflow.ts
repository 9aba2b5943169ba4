import { githubSteps, githubTool } from './github-workflow.ts';
import { onCommitDay } from './on-commit-day.ts';
import type { Tool } from './tool.ts';

/** A workflow for GitHub that hands findings to code scanning. Apart from the other, since it may write and not every repository has that. */
export function githubSarifWorkflow(tool: Tool): string {
  return `# Hands the findings to GitHub's code scanning, which keeps them from one commit to the next.
# Code scanning has to be at hand: in public repositories it is, in private ones where GitHub's plan has it.
# GitHub reads this from the top of a repository only: where the base lies deeper, move the file there.
name: Swaplore code scanning
on: [push, pull_request]
permissions:
  contents: read
  security-events: write
${githubTool(tool)}jobs:
  scan:
    runs-on: ubuntu-latest
    steps:
${githubSteps('last commit')}      - name: Lint
        run: swaplore lint --format sarif ${onCommitDay} > swaplore.sarif || [ $? -eq 1 ] # errors are findings too
      - uses: github/codeql-action/upload-sarif@v4
        with:
          sarif_file: swaplore.sarif
          category: swaplore
`;
}
