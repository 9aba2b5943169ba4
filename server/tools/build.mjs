// Bundles what users run. The bundle is one file, so that starting it reads one file.
import { readFileSync } from 'node:fs';
import { build } from 'esbuild';

const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));

await build({
  entryPoints: ['server/src/main-cli.ts'],
  outfile: 'dist/swaplore.mjs',
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  minifySyntax: true,
  legalComments: 'none',
  define: { SWAPLORE_VERSION: JSON.stringify(version) },
  banner: {
    js: "#!/usr/bin/env node\nimport { createRequire } from 'node:module';\nconst require = createRequire(import.meta.url);",
  },
  logLevel: 'warning',
});
