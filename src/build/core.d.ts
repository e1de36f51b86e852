// What the pure core may take for granted beside the language: text coders, which browsers, workers and Node have alike, and
// fonts that the bundler gives as addresses.

declare class TextEncoder {
  encode(text: string): Uint8Array<ArrayBuffer>;
}

declare class TextDecoder {
  constructor(label?: string, options?: { readonly fatal?: boolean; readonly ignoreBOM?: boolean });
  decode(bytes: Uint8Array): string;
}

declare module '*?inline' {
  const address: string;
  export default address;
}
