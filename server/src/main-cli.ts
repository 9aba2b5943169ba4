import { commands } from './cli/commands.ts';
import { startCli } from './cli/start-cli.ts';

startCli(commands);
