/** Whether a value is a map of keys: neither a list nor a plain value. */
export function isMap(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
