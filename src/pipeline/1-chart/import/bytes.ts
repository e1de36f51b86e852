// Bytes of a file to text, for every reader of files: byte order marks, the encoding an XML file names, UTF-8 where the bytes
// are that, else the encoding of older western texts.

const marks: readonly (readonly [encoding: string, bytes: readonly number[]])[] = [
  ['utf-8', [0xef, 0xbb, 0xbf]],
  ['utf-16le', [0xff, 0xfe]],
  ['utf-16be', [0xfe, 0xff]],
];

/** What an XML declaration may name besides UTF-8. */
const namedEncodings: ReadonlySet<string> = new Set([
  'utf-8',
  'utf-16',
  'us-ascii',
  'iso-8859-1',
  'iso-8859-15',
  'windows-1252',
]);

const startsWith = (bytes: Uint8Array, start: readonly number[]): boolean =>
  start.every((byte, index) => bytes[index] === byte);

/** The first characters, read as ASCII without the zeros that UTF-16 puts between them. */
const asciiStart = (bytes: Uint8Array): string =>
  String.fromCharCode(...bytes.subarray(0, 200)).replaceAll('\0', '');

/** Bytes that are looked at to find UTF-16 without a mark, and the share of zeros among them that western text has. */
const sample = 400;
const mostlyZeros = 0.7;

/** UTF-16 without a mark: most characters of a chart have a zero for their high byte. */
function unmarkedUtf16(bytes: Uint8Array): string | undefined {
  const start = bytes.subarray(0, Math.min(sample, bytes.length - (bytes.length % 2)));
  const zerosAt = (parity: number): number =>
    start.reduce((sum, byte, index) => sum + (byte === 0 && index % 2 === parity ? 1 : 0), 0);
  const pairs = start.length / 2;
  if (pairs < 2 || bytes.length % 2 === 1) return undefined;
  if (zerosAt(1) >= mostlyZeros * pairs && zerosAt(0) === 0) return 'utf-16le';
  if (zerosAt(0) >= mostlyZeros * pairs && zerosAt(1) === 0) return 'utf-16be';
  return undefined;
}

/** The encoding that the bytes or an XML head name; undefined where nothing does. */
function encodingOf(bytes: Uint8Array): string | undefined {
  const marked = marks.find(([, start]) => startsWith(bytes, start));
  if (marked) return marked[0];
  const utf16 = unmarkedUtf16(bytes);
  if (utf16 !== undefined) return utf16;
  const named = /^\s*<\?xml[^>]*\sencoding\s*=\s*["']([\w-]+)["']/
    .exec(asciiStart(bytes))?.[1]
    ?.toLowerCase();
  const isKnown = named !== undefined && namedEncodings.has(named) && !/^utf/.test(named);
  return isKnown ? named : undefined;
}

/** Latin-1 with the quotation marks and dashes that one maker of programs put into its gaps; every byte is a character. */
const olderEncoding = 'windows-1252';
/** What stands in those gaps, from 0x80. Source: WHATWG Encoding Standard, index windows-1252. */
const inGaps = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

/** The same in every program: some decoders leave the gaps as control characters. */
const decodeOlder = (bytes: Uint8Array, encoding = olderEncoding): string =>
  new TextDecoder(encoding)
    .decode(bytes)
    .replace(/[\u0080-\u009f]/g, (control) => inGaps[control.charCodeAt(0) - 0x80]!);

function decodeUnnamed(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return decodeOlder(bytes);
  }
}

/** Never throws: what is not text in the encoding becomes the replacement character. The mark itself is left out. */
export function decodeText(bytes: Uint8Array): string {
  const encoding = encodingOf(bytes);
  if (encoding === undefined) return decodeUnnamed(bytes);
  return encoding.startsWith('utf') ? new TextDecoder(encoding).decode(bytes) : decodeOlder(bytes, encoding);
}

/** A zip archive, by its first bytes. */
export const isZip = (bytes: Uint8Array): boolean => startsWith(bytes, [0x50, 0x4b, 0x03, 0x04]);

/** Text has no control characters but blanks and line ends. */
export function isBinary(text: string): boolean {
  const start = text.slice(0, 4096);
  return [...start].some((character) => character < ' ' && !'\t\n\v\f\r\u001a\u001b'.includes(character));
}
