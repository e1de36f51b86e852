// How the built page wants to be served. The preview server does so; DEVELOPERS.md lists the same for any other host.
import type { OutgoingHttpHeaders, ServerResponse } from 'node:http';
import type { Plugin } from 'vite';

/** For every answer: no other page may show this one in a frame (CSP Level 3), no kind of file is guessed (Fetch Standard). */
export const headersForAll: Readonly<Record<string, string>> = {
  'Content-Security-Policy': "frame-ancestors 'none'",
  'X-Frame-Options': 'DENY',
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
};

/** Names under `assets/` carry a hash of their content and are kept for good (RFC 8246); all else is asked for (RFC 9111). */
export const cacheFor = (path: string): string =>
  path.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache';

/** Says the headers last, whatever the server would have said itself. */
function dress(response: ServerResponse, cache: string): void {
  const plain = response.writeHead.bind(response) as (
    code: number,
    headers: OutgoingHttpHeaders,
  ) => ServerResponse;
  const dressed = (code: number, ...rest: readonly unknown[]): ServerResponse => {
    const given =
      rest.find((one): one is OutgoingHttpHeaders => typeof one === 'object' && one !== null) ?? {};
    return plain(code, { ...given, ...headersForAll, 'Cache-Control': code < 400 ? cache : 'no-store' });
  };
  response.writeHead = dressed;
}

/** The plugin: the preview server answers as a host should. */
export const hosting = (): Plugin => ({
  name: 'hosting',
  // A file that is missing is missing: it does not come back as the page.
  config: () => ({ appType: 'mpa' }),
  configurePreviewServer: ({ middlewares }) => {
    middlewares.use((request, response, next) => {
      dress(response, cacheFor(new URL(request.url ?? '/', 'http://localhost').pathname));
      next();
    });
  },
});
