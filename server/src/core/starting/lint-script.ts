import { npxCommand } from './npx-command.ts';
import type { Tool } from './tool.ts';

/** A script for any POSIX shell that lints a base, and reviews what was changed since a revision that is given. */
export function lintScript({ spec }: Tool): string {
  return `#!/bin/sh
# Lints the base, wherever there are a POSIX shell and npm: sh ci/lint.sh
# With a revision it also says what a change since then comes to: sh ci/lint.sh origin/main
# Exit code: 0 nothing at error level, 1 errors, 2 could not run, 3 a fault of the tool.
set -eu
cd "$(dirname "$0")/.."
# What to run: a tarball below the folder of the base, as \`npm pack\` makes it, or a name and version in a registry.
: "\${SWAPLORE:=${spec}}"

run() {
  ${npxCommand('"$SWAPLORE"')} "$@"
}

code=0
run lint || code=$?
if [ $# -gt 0 ]; then
  run review --base "$1" || code=$(($? > code ? $? : code))
fi
exit "$code"
`;
}
