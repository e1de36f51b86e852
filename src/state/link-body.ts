// What a link carries, deflated and in the letters that an address may have.
import { deflateSync, inflateSync, strFromU8, strToU8 } from 'fflate';
import { fault, fromText, type Unpacked } from './unpacked';

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
