/** Text of relax-bytes.ts as relax.wat is assembled into it. */
export function assembled(): Promise<string>;
/** Text of relax-bytes.ts as it is kept. */
export function keptBytes(): string;
