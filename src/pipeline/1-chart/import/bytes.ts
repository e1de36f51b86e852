// Bytes of a file to text: byte order marks, the encoding an XML file names, UTF-8 else.

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

function encodingOf(bytes: Uint8Array): string {
  const marked = marks.find(([, start]) => startsWith(bytes, start));
  if (marked) return marked[0];
  if (startsWith(bytes, [0x3c, 0])) return 'utf-16le';
  if (startsWith(bytes, [0, 0x3c])) return 'utf-16be';
  const named = /^\s*<\?xml[^>]*\sencoding\s*=\s*["']([\w-]+)["']/
    .exec(asciiStart(bytes))?.[1]
    ?.toLowerCase();
  return named !== undefined && namedEncodings.has(named) && named !== 'utf-16' ? named : 'utf-8';
}

/** Never throws: what is not text in the encoding becomes the replacement character. The mark itself is left out. */
export const decodeText = (bytes: Uint8Array): string => new TextDecoder(encodingOf(bytes)).decode(bytes);

/** A zip archive, by its first bytes. */
export const isZip = (bytes: Uint8Array): boolean => startsWith(bytes, [0x50, 0x4b, 0x03, 0x04]);

/** Text has no control characters but blanks and line ends. */
export function isBinary(text: string): boolean {
  const start = text.slice(0, 4096);
  return [...start].some((character) => character < ' ' && !'\t\n\v\f\r\u001a\u001b'.includes(character));
}
