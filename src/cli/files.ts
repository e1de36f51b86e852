// Files and streams as a terminal gives them: read up to a limit, written whole, and what goes wrong said in words.
import { createReadStream } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import type { Readable, Writable } from 'node:stream';

/** Charts larger than this are refused: the longest real ones are a few kilobytes. */
export const mostChartBytes = 4 * 1024 * 1024;

/** Something could not be read or written; the message says what, in a sentence. */
export class FileError extends Error {}

/** Nobody reads what is written: the reader at the other end of the pipe has gone. */
export class PipeClosed extends Error {}

/** The codes of POSIX errors that a person meets, in words. */
const reasons: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'it is a folder',
  ENOTDIR: 'a part of its path is not a folder',
  EACCES: 'it is not allowed',
  EPERM: 'it is not allowed',
  EROFS: 'nothing can be written there',
  ENOSPC: 'no room is left',
  EDQUOT: 'no room is left',
  EFBIG: 'it would be too large',
  ENAMETOOLONG: 'its name is too long',
  ELOOP: 'its links lead in a circle',
  EIO: 'the device failed',
  EMFILE: 'too many files are open',
};

export function reasonOf(error: unknown): string {
  const { code = '', message } = error as NodeJS.ErrnoException;
  return reasons[code] ?? message;
}

async function readAll(stream: Readable, name: string): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of stream as AsyncIterable<Uint8Array>) {
    chunks.push(chunk);
    length += chunk.length;
    if (length > mostChartBytes)
      throw new FileError(`${name} is larger than ${mostChartBytes / 1024 / 1024} MB: not a chart`);
  }
  return Buffer.concat(chunks);
}

/** Reads a file, or standard input for `-`. @throws FileError */
export async function readBytes(path: string): Promise<Uint8Array> {
  try {
    return path === '-'
      ? await readAll(process.stdin, 'standard input')
      : await readAll(createReadStream(path), path);
  } catch (error) {
    if (error instanceof FileError) throw error;
    const name = path === '-' ? 'standard input' : path;
    throw new FileError(`cannot read ${name}: ${reasonOf(error)}`);
  }
}

/** Resolves when everything has been handed on. @throws PipeClosed, FileError */
export function writeTo(stream: Writable, body: string | Uint8Array, name: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const fail = (error: NodeJS.ErrnoException): void => {
      reject(
        error.code === 'EPIPE'
          ? new PipeClosed(name)
          : new FileError(`cannot write to ${name}: ${reasonOf(error)}`),
      );
    };
    stream.once('error', fail);
    stream.write(body, (error) => {
      if (error) fail(error);
      else resolve();
    });
  });
}

/** Writes to a file, or to standard output for null or `-`. Text ends with a line break. @throws PipeClosed, FileError */
export async function writeOutput(output: string | Uint8Array, path: string | null): Promise<void> {
  if (output.length === 0) return;
  const body = typeof output === 'string' && !output.endsWith('\n') ? `${output}\n` : output;
  if (path === null || path === '-') return writeTo(process.stdout, body, 'standard output');
  try {
    await writeFile(path, body);
  } catch (error) {
    const isMissing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    throw new FileError(`cannot write ${path}: ${isMissing ? 'there is no such folder' : reasonOf(error)}`);
  }
}
