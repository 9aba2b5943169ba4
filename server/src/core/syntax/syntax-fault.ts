/** A fault in the text of a file itself, whatever its schema. Plain data; the checks put it into words. */
export type SyntaxFault =
  | { readonly kind: 'syntax'; readonly start: number; readonly end: number; readonly reason: string }
  | { readonly kind: 'not-text'; readonly reason: string }
  | { readonly kind: 'too-large'; readonly bytes: number }
  | { readonly kind: 'too-deep'; readonly start: number; readonly end: number; readonly reason: string }
  | {
      readonly kind: 'duplicate-key';
      readonly key: string;
      readonly start: number;
      readonly end: number;
      readonly firstStart: number;
      readonly firstEnd: number;
    };
