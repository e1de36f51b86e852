// A plain static host: files below a folder, under a path, nothing else.
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join } from 'node:path';

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
};

export interface Host {
  /** Of the page, with the slash at its end. */
  readonly address: string;
  /** What was asked for and is not there. */
  readonly missed: string[];
  readonly close: () => Promise<void>;
}

/** Serves the files below a folder as they are at the moment; the preview server remembers their sizes. */
export async function serve(folder: string, path = '/'): Promise<Host> {
  const missed: string[] = [];
  const server = createServer((request, response) => {
    const asked = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    const inside = asked.startsWith(path) ? asked.slice(path.length) : null;
    try {
      if (inside === null) throw new Error('outside');
      const file = inside === '' ? 'index.html' : inside;
      const bytes = readFileSync(join(folder, file));
      response
        .writeHead(200, { 'content-type': types[extname(file)] ?? 'application/octet-stream' })
        .end(bytes);
    } catch {
      missed.push(asked);
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  const { port } = server.address() as AddressInfo;
  return {
    address: `http://127.0.0.1:${port}${encodeURI(path)}`,
    missed,
    close: () =>
      new Promise((closed) => {
        server.closeAllConnections();
        server.close(() => closed());
      }),
  };
}
