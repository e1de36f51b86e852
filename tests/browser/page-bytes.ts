// How much of the built program the first picture needs: the page, its styles, and the script with all that it imports outright.
import { readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';

const dist = resolve(import.meta.dirname, '../../dist');
const packed = (file: string): number => gzipSync(readFileSync(file), { level: 9 }).length;

/** Files that a script of the build imports before it runs. */
const importsOf = (file: string): readonly string[] =>
  [...readFileSync(file, 'utf8').matchAll(/(?:\bfrom|\bimport)\s*"(\.\/[^"]+\.js)"/g)].map(([, path]) =>
    join(dirname(file), path!),
  );

/** Bytes as sent by a server that compresses text, by file, largest first; fonts and pictures are not counted. */
export function bytesOfPage(): readonly (readonly [string, number])[] {
  const html = join(dist, 'index.html');
  const text = readFileSync(html, 'utf8');
  const named = [...text.matchAll(/(?:href|src)="\.\/([^"]+\.(?:js|css))"/g)].map(([, path]) =>
    join(dist, path!),
  );
  const all = new Set([html, ...named]);
  for (const file of all) if (file.endsWith('.js')) for (const other of importsOf(file)) all.add(other);
  return [...all]
    .map((file): readonly [string, number] => [file.slice(dist.length + 1), packed(file)])
    .sort((a, b) => b[1] - a[1]);
}
