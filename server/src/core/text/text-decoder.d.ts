/**
 * The two globals the core takes from its surroundings: Node, browsers and workers all have them.
 * Source: Encoding Standard, https://encoding.spec.whatwg.org/#interface-textdecoder
 */
declare class TextDecoder {
  constructor(label: 'utf-8', options: { readonly fatal: boolean });
  decode(bytes: Uint8Array): string;
}

declare class TextEncoder {
  encode(text: string): Uint8Array;
}
