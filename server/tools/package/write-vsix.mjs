// Packs the extension as `npm run build` left it: what .vscodeignore lets through, and nothing else. Prints the size, which is limited.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const limitBytes = 1_500_000;
const here = fileURLToPath(new URL('./', import.meta.url));
const project = fileURLToPath(new URL('../../../', import.meta.url));
const { name, version } = JSON.parse(readFileSync(`${project}package.json`, 'utf8'));
const vsce = `${here}node_modules/@vscode/vsce/vsce`;

function run(program, args) {
  const { status } = spawnSync(program, args, { cwd: project, stdio: 'inherit', shell: process.platform === 'win32' });
  if (status !== 0) process.exit(status ?? 1);
}

if (!existsSync(vsce)) run('npm', ['ci', '--silent', '--prefix', here]);
const file = `${name}-${version}.vsix`;
// Everything is bundled, and links of the README lead to files that are not packed.
const options = ['--no-dependencies', '--no-rewrite-relative-links', '--allow-missing-repository'];
run(process.execPath, [vsce, 'package', ...options, '--out', file]);
const { size } = statSync(`${project}${file}`);
console.log(`${file}: ${size} bytes`);
if (size > limitBytes) {
  console.error(`${file} is larger than ${limitBytes} bytes.`);
  process.exitCode = 1;
}
