// Plain data out of what people hand over, a file's text or the body of a link (link-body.ts): a value, or why there is none.
// Never a throw.

export type Unpacked =
  { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly reason: UnpackFault };
export type UnpackFault = 'too large' | 'damaged';

export const fault = (reason: UnpackFault): Unpacked => ({ ok: false, reason });

/** @param most characters that are read */
export function fromText(text: string, most: number): Unpacked {
  if (text.length > most) return fault('too large');
  try {
    return { ok: true, value: JSON.parse(text) as unknown };
  } catch {
    return fault('damaged');
  }
}

/** FNV-1a, 32 bits: enough to notice a link that was cut or mistyped; not a protection against a forger. */
export function checksum(text: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return (hash >>> 0).toString(36);
}
