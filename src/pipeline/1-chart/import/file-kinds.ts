// Files that are no chart, by their name: what is said instead of a list of characters that could not be read.
import data from '../../../../shared/files/kinds.json' with { type: 'json' };

interface FileKind {
  readonly name: string;
  /** The bytes a file begins with; null for any. */
  readonly bytes: readonly (number | null)[];
}

const kinds: readonly FileKind[] = data.rows.map(({ name, bytes }) => ({
  name,
  bytes: bytes.split(' ').map((byte) => (byte === '??' ? null : parseInt(byte, 16))),
}));

/** What a file of another kind is called; undefined for what may be text or a compressed score. */
export const foreignKind = (file: Uint8Array): string | undefined =>
  kinds.find(({ bytes }) => bytes.every((byte, index) => byte === null || file[index] === byte))?.name;

/** What an archive holds that has this file in it; undefined for any other. */
export const foreignArchive = (path: string): string | undefined =>
  data.archives.rows.find((row) => row.path === path)?.name;

/** True for a page of the web. */
export const isWebPage = (text: string): boolean =>
  /^\s*(?:<\?xml[^>]{0,200}\?>\s*)?<(?:!doctype\s+html|html)\b/iu.test(text);
