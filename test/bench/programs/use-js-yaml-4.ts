// Loaded before ajv-cli: has it read YAML with the `js-yaml` bundled here, whose `load` is what ajv-cli calls `safeLoad`.
import Module from 'node:module';
import { load } from 'js-yaml';

type Loader = (request: string, ...rest: unknown[]) => unknown;

const internals = Module as unknown as { _load: Loader };
const original = internals._load;
internals._load = (request, ...rest) => (request === 'js-yaml' ? { load, safeLoad: load } : original(request, ...rest));
