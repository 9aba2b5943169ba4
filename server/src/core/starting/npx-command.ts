/**
 * The words with which npx runs the tool without installing it; `spec` is what npm takes, or what a shell makes it of.
 * Without `--prefix` npm would look for a tarball beside the next `package.json` or `node_modules` upward.
 */
export function npxCommand(spec: string): string {
  return `npx --yes --ignore-scripts --prefix=. --package=${spec} -- swaplore`;
}
