import { lineScalar } from '../edits/write-scalar.ts';
import { onCommitDay } from './on-commit-day.ts';
import type { Tool } from './tool.ts';

/** A pipeline for GitLab: a report of code quality on every push, and a review of every merge request in its log. */
export function gitlabPipeline({ spec }: Tool): string {
  return `# Lints the base on every push, for the log and for the report that GitLab shows in merge requests.
# What a merge request comes to for the bench stands in the log of its job \`review\`.
# GitLab reads this from the top of a repository only: where the base lies deeper, move the file there.
workflow: # one pipeline for each change: its merge request's where there is one
  rules:
    - if: $CI_PIPELINE_SOURCE == "merge_request_event"
    - if: $CI_COMMIT_BRANCH && $CI_OPEN_MERGE_REQUESTS
      when: never
    - if: $CI_COMMIT_BRANCH
variables:
  # What to install: a tarball in the repository, as \`npm pack\` makes it, or a name and version in a registry.
  SWAPLORE: ${lineScalar(spec, 'plain', false)}
  GIT_DEPTH: 0 # a review goes back to where the change began
default:
  image: node:22
  before_script:
    - npm install --global --ignore-scripts "$SWAPLORE"
lint:
  script:
    - swaplore lint --format gitlab ${onCommitDay} > swaplore.json || [ $? -eq 1 ] # errors are findings too
    - swaplore lint ${onCommitDay}
  artifacts:
    when: always
    reports:
      codequality: swaplore.json
review:
  rules:
    - if: $CI_PIPELINE_SOURCE == "merge_request_event"
  script:
    - swaplore review --base "$CI_MERGE_REQUEST_DIFF_BASE_SHA" ${onCommitDay}
`;
}
