// Installs the dependencies where they are missing or older than the lock file. Uses nothing but Node, so that it runs on a fresh clone.
import { spawnSync } from 'node:child_process';
import { statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
const [major, minor] = process.versions.node.split('.').map(Number);

if (major < 20 || (major === 20 && minor < 19)) {
  console.error(`Swaplore needs Node 20.19 or later; this is ${process.versions.node}.`);
  process.exit(2);
}

function timeOf(path) {
  return statSync(`${root}${path}`, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}

if (timeOf('node_modules/.package-lock.json') < timeOf('package-lock.json')) {
  console.error('Installing dependencies (npm ci) …');
  const { status } = spawnSync('npm', ['ci', '--silent'], {
    cwd: root,
    stdio: 'inherit',
    shell: process.platform === 'win32',
  });
  if (status !== 0) process.exit(status ?? 1);
}
