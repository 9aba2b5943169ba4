// The main job on the demo base: check its files, then hold its outcomes against its rules.
import { spawnSync } from 'node:child_process';

const commands = [
  ['lint', 'knowledge'],
  ['contradictions', '--folder', 'knowledge'],
];

for (const command of commands) {
  console.log(`\n$ swaplore ${command.join(' ')}`);
  const { status } = spawnSync(process.execPath, ['dist/swaplore.cjs', ...command], { stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 3);
}
