/** What runs where a base is checked: something npm can install. */
export interface Tool {
  /** As npm takes it; it stands for itself in a shell without quotes. */
  readonly spec: string;
  /** Path of the tarball in the repository; undefined where the tool comes from a registry. */
  readonly tarball: string | undefined;
}

/** What runs unless something else is named: a tarball in the repository, since a name in a registry could be somebody else's. */
export const usualTool: Tool = inRepository('tools/swaplore.tgz');

const tarballs = /^(?:\.\/)?((?:[\w.-]+\/)*[\w.-]+\.tgz)$/;
const packages = /^(?:@[a-z0-9][\w.-]*\/)?[a-z0-9][\w.-]*@\d+\.\d+\.\d+(?:-[\w.-]+)?$/;

/** Reads what `--tool` takes: a path below the repository's top, or a name with its exact version; undefined for anything else. */
export function findTool(text: string): Tool | undefined {
  const [, path] = tarballs.exec(text) ?? [];
  if (path !== undefined) return path.split('/').includes('..') ? undefined : inRepository(path);
  return packages.test(text) ? { spec: text, tarball: undefined } : undefined;
}

function inRepository(path: string): Tool {
  return { spec: `./${path}`, tarball: path };
}
