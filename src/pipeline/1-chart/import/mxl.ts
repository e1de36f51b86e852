// Compressed MusicXML: the score in a zip archive, unpacked in small steps that stop at a limit.
//
// The size that an archive declares is only a claim, so both it and the bytes that really come out are limited.
// Source: W3C MusicXML 4.0, container format.
import { Unzip, UnzipInflate, type UnzipFile } from 'fflate';
import { decodeText } from './bytes';
import { foreignArchive } from './file-kinds';
import { childrenNamed, descend, readXml } from './xml';

/** The largest score that is unpacked. */
export const mostUnpackedBytes = 20 * 1024 * 1024;
/** A scan of parts, with pictures and sounds beside them, has fewer. */
const mostEntries = 1000;
/** Deflate makes at most about a thousand bytes of one, so a step stays small. */
const stepBytes = 4096;

export type MxlFault = 'mxl-broken' | 'mxl-large' | 'mxl-no-score';
/** The score; or a fault, or what the archive holds instead. */
export type MxlReading =
  { readonly score: Uint8Array } | { readonly fault: MxlFault } | { readonly holds: string };

class Refusal extends Error {
  constructor(readonly fault: MxlFault) {
    super(fault);
  }
}

const containerPath = 'META-INF/container.xml';
const scorePattern = /\.(musicxml|xml)$/i;

function concat(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

/** Unpacks the wanted files of an archive, all together no larger than the limit. */
function unpack(archive: Uint8Array, isWanted: (name: string) => boolean): Map<string, Uint8Array> {
  const files = new Map<string, Uint8Array>();
  let total = 0;
  let entries = 0;
  const take = (file: UnzipFile): void => {
    entries += 1;
    if (entries > mostEntries) throw new Refusal('mxl-large');
    if (!isWanted(file.name) || files.has(file.name)) return;
    if ((file.originalSize ?? 0) > mostUnpackedBytes) throw new Refusal('mxl-large');
    const parts: Uint8Array[] = [];
    file.ondata = (error, part, isLast) => {
      // What this handler throws comes back to it as an error.
      if (error) throw error instanceof Refusal ? error : new Refusal('mxl-broken');
      total += part.length;
      if (total > mostUnpackedBytes) throw new Refusal('mxl-large');
      parts.push(part);
      if (isLast) files.set(file.name, concat(parts));
    };
    file.start();
  };
  const unzip = new Unzip(take);
  unzip.register(UnzipInflate);
  for (let at = 0; at < archive.length; at += stepBytes) {
    unzip.push(archive.subarray(at, at + stepBytes), at + stepBytes >= archive.length);
  }
  return files;
}

/** The path of the score that the container names first. */
function namedScore(container: Uint8Array | undefined): string | undefined {
  if (container === undefined) return undefined;
  const reading = readXml(decodeText(container));
  if ('fault' in reading) return undefined;
  const rootFiles = descend(reading.root, 'rootfiles');
  const scores = rootFiles ? childrenNamed(rootFiles, 'rootfile') : [];
  const isScore = ({ attributes }: { readonly attributes: Readonly<Record<string, string>> }): boolean => {
    const type = attributes['media-type'];
    return type === undefined || type.includes('musicxml');
  };
  return scores.find(isScore)?.attributes['full-path'];
}

/** The bytes of the score, or why there are none. Never throws. */
export function readMxl(archive: Uint8Array): MxlReading {
  try {
    const path = namedScore(unpack(archive, (name) => name === containerPath).get(containerPath));
    let holds: string | undefined;
    // Archives of some programs have no container; then the first score in them is the one.
    const isScore = (name: string): boolean => {
      if (path !== undefined) return name === path;
      holds ??= foreignArchive(name);
      return holds === undefined && scorePattern.test(name) && !name.startsWith('META-INF/');
    };
    const [score] = unpack(archive, isScore).values();
    if (holds !== undefined) return { holds };
    return score === undefined ? { fault: 'mxl-no-score' } : { score };
  } catch (error) {
    return { fault: error instanceof Refusal ? error.fault : 'mxl-broken' };
  }
}
