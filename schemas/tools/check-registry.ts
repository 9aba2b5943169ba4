import type { DefiningModule } from './find-modules.ts';
import { generatedNote } from './generated-note.ts';

/** Source of the module that lists every check, by file name. */
export function toCheckRegistry(files: readonly DefiningModule[]): string {
  const imports = files.map(({ file, name }) => `import { ${name} } from './${file}';\n`).join('');
  const names = files.map(({ name }) => `  ${name},\n`).join('');
  const list = files.length === 0 ? '[]' : `[\n${names}]`;
  return `// ${generatedNote}
${imports}
/** Every check, by file name. */
// biome-ignore format: one check a line
export const checks = ${list} as const;
`;
}
