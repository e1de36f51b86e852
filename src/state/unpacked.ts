// Plain data out of what people hand over, a file's text or the body of a link: a value, or why there is none. Never a throw.
import { deflateSync, inflateSync, strFromU8, strToU8 } from 'fflate';

export type Unpacked =
  { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly reason: UnpackFault };
export type UnpackFault = 'too large' | 'damaged';

const fault = (reason: UnpackFault): Unpacked => ({ ok: false, reason });

/** @param most characters that are read */
export function fromText(text: string, most: number): Unpacked {
  if (text.length > most) return fault('too large');
  try {
    return { ok: true, value: JSON.parse(text) as unknown };
  } catch {
    return fault('damaged');
  }
}

const toBase64Url = (bytes: Uint8Array): string => {
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
};

const fromBase64Url = (text: string): Uint8Array =>
  Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (character) =>
    character.charCodeAt(0),
  );

/** The body of a link: JSON, deflated, in the letters that an address may have. */
export const toBody = (value: unknown): string =>
  toBase64Url(deflateSync(strToU8(JSON.stringify(value)), { level: 9 }));

/** @param most bytes that a body may inflate to, not quite */
export function fromBody(body: string, most: number): Unpacked {
  try {
    const bytes = inflateSync(fromBase64Url(body), { out: new Uint8Array(most) });
    return bytes.length >= most ? fault('too large') : fromText(strFromU8(bytes), most);
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
