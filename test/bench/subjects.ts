import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { kinds } from '../../server/src/core/terms/kinds.ts';
import type { CachedBase } from './base/base-cache.ts';
import { manyRules } from './base/many-rules.ts';
import type { Size } from './base/sizes.ts';
import type { Step } from './measure.ts';
import { programs } from './programs.ts';

/** Something that is timed on every base: a floor, a peer, or the tool itself. */
export interface Subject {
  readonly name: string;
  readonly steps: (base: CachedBase) => readonly Step[];
  /** Bytes it reads. */
  readonly bytes: (base: CachedBase) => number;
  readonly exitCodes: readonly number[];
  /** The most time the tool may take, in times of this subject's, on bases of a size. */
  readonly targets: Partial<Record<Size, number>>;
}

const root = fileURLToPath(new URL('../..', import.meta.url));
const packages = createRequire(import.meta.url);

/** The tool itself. */
export const lint: Subject = {
  name: 'swaplore lint',
  steps: ({ folder }) => [{ args: [join(root, 'dist/swaplore.mjs'), 'lint', folder], cwd: folder }],
  bytes: (base) => base.bytes,
  exitCodes: [0, 1],
  targets: {},
};

/** The most memory the tool may take, in bytes, on bases of a size. */
export const memoryTargets: Partial<Record<Size, number>> = { L: 250e6 };

/** All that is measured, in the order in which it is run: the tool last. */
export const subjects: readonly Subject[] = [
  floor('read all files', programs.readFiles, {}),
  floor('read + SHA-1', programs.hashFiles, {}),
  floor(`js-yaml ${versionOf('js-yaml')} load`, programs.loadWithJsYaml, { M: 1 }),
  floor(`yaml ${versionOf('yaml')} parse only`, programs.parseWithYaml, { M: 1.3 }),
  {
    name: `ajv-cli ${versionOf('ajv-cli')} schemas`,
    steps: ({ twin }) => kinds.map((kind) => ({ args: ajvArguments(kind), cwd: twin.folder })),
    bytes: ({ twin }) => twin.bytes,
    exitCodes: [0],
    targets: { L: 0.5 },
  },
  {
    name: 'rules × rules, 400',
    steps: ({ folder }) => [{ args: [programs.relateRules], cwd: folder }],
    bytes: () => manyRules().reduce((sum, { text }) => sum + Buffer.byteLength(text), 0),
    exitCodes: [0],
    targets: {},
  },
  lint,
];

function floor(name: string, program: string, targets: Subject['targets']): Subject {
  return {
    name,
    steps: ({ folder }) => [{ args: [program, folder], cwd: folder }],
    bytes: (base) => base.bytes,
    exitCodes: [0],
    targets,
  };
}

/** ajv-cli takes one schema at a time. It is not strict here, as it does not know our words for hovers. */
function ajvArguments(kind: string): readonly string[] {
  const schemas = join(root, 'schemas');
  return [
    ...['--require', programs.useJsYaml4],
    join(dirname(packages.resolve('ajv-cli/package.json')), 'dist/index.js'),
    ...['validate', '--spec=draft2020', '--strict=false', '-c', programs.ajvFormats],
    ...['-s', join(schemas, `${kind}.schema.json`)],
    ...['-r', join(schemas, 'common.schema.json'), '-r', join(schemas, 'gen/terms.schema.json')],
    ...['-d', `${kind}/*.yaml`],
  ];
}

function versionOf(name: string): string {
  return (packages(`${name}/package.json`) as { readonly version: string }).version;
}
