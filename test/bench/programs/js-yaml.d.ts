/** The part of the `js-yaml` package that is used here; it brings no types of its own. */
declare module 'js-yaml' {
  export function load(text: string): unknown;
  export function loadAll(text: string): unknown[];
}
