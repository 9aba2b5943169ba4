/**
 * The one global the core takes from its surroundings: Node, browsers and workers all have it.
 * Source: Encoding Standard, https://encoding.spec.whatwg.org/#interface-textdecoder
 */
declare class TextDecoder {
  constructor(label: 'utf-8', options: { readonly fatal: boolean });
  decode(bytes: Uint8Array): string;
}
