import { formats } from '../../../server/src/core/schema/formats.ts';

/** Called by ajv-cli: makes known the text formats that the schemas name. */
export default function addFormats(ajv: { addFormat(name: string, test: (text: string) => boolean): unknown }): void {
  for (const [name, test] of Object.entries(formats)) ajv.addFormat(name, test);
}
