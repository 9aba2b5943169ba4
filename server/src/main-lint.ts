/** `swaplore lint` by itself: it runs most often, and starts in less time without the code of the other commands. */
import { lint } from './cli/lint.ts';
import { startCli } from './cli/start-cli.ts';

startCli([lint]);
