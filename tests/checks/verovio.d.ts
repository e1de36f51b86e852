// The part of the engraving library that the checks use; it brings no types.
declare module 'verovio/wasm' {
  const createModule: () => Promise<unknown>;
  export default createModule;
}
declare module 'verovio/esm' {
  export class VerovioToolkit {
    constructor(module: unknown);
    /** 1 when the data was read. */
    loadData(data: string): number;
    /** Base64 of a Standard MIDI File. */
    renderToMIDI(): string;
    getLog(): string;
  }
}
