// What the pure core may take for granted beside the language: text coders, base64 and WebAssembly, which browsers, workers
// and Node have alike, and fonts that the bundler gives as addresses.

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

/** Base64 to bytes, a letter a byte. */
declare function atob(base64: string): string;

/** As much of it as the solver's loops need. */
declare const WebAssembly: {
  readonly Module: new (bytes: Uint8Array<ArrayBuffer>) => object;
  readonly Instance: new (module: object) => { readonly exports: unknown };
};
