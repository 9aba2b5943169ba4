// Loaded before whatever is measured: says at the end how much processor time and memory it has taken.
import { writeSync } from 'node:fs';

/** The pipe that `measure-steps.ts` listens to. */
const reportPipe = 3;

process.on('exit', () => {
  const { user, system } = process.cpuUsage();
  writeSync(
    reportPipe,
    JSON.stringify({ cpuMs: (user + system) / 1000, peakBytes: 1024 * process.resourceUsage().maxRSS }),
  );
});
