// The server looks for its packages beside itself: it is given a link to those that are installed here.
import { rmSync, symlinkSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const link = fileURLToPath(new URL('node_modules/code-server/lib/vscode/node_modules', import.meta.url));
rmSync(link, { recursive: true, force: true });
symlinkSync(fileURLToPath(new URL('node_modules', import.meta.url)), link, 'junction');
