// What the build refuses to ship, and what a host is told.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vite';
import { describe, expect, it } from 'vitest';
import { cacheFor, headersForAll } from '../../src/build/hosting';
import { licences, packageOf } from '../../src/build/licences';

const developers = readFileSync(fileURLToPath(new URL('../../DEVELOPERS.md', import.meta.url)), 'utf8');

/** Calls a hook of a plugin as a build would; gives what it fails with. */
function call(
  plugin: Plugin,
  hook: 'generateBundle' | 'closeBundle',
  ...given: readonly unknown[]
): string | null {
  const one = plugin[hook] as { handler: unknown } | ((...args: readonly unknown[]) => unknown);
  const run = (typeof one === 'function' ? one : one.handler) as (...args: readonly unknown[]) => unknown;
  let said: string | null = null;
  run.call({ error: (message: string) => void (said = message) }, ...given);
  return said;
}
const bundle = (...moduleIds: readonly string[]) => ({ 'a.js': { type: 'chunk', moduleIds } });

describe('licences', () => {
  it('are told from the paths of modules', () => {
    expect(packageOf('/x/node_modules/saxes/saxes.js')).toBe('saxes');
    expect(packageOf('/x/node_modules/@babel/runtime/helpers/y.js')).toBe('@babel/runtime');
    expect(packageOf('/x/node_modules/a/node_modules/b/index.js')).toBe('b');
    expect(packageOf('/x/shared/licences/saxes.txt?raw')).toBe('saxes');
    expect(packageOf('/x/src/main.ts')).toBeUndefined();
  });

  it.each([
    ['of no package', ['/x/src/main.ts'], null],
    ['with its text', ['/x/node_modules/a/a.js', '/x/node_modules/a/LICENSE?raw'], null],
    ['without its text', ['/x/node_modules/b/b.js', '/x/node_modules/a/LICENSE?raw'], /: b$/],
    ['a text alone', ['/x/node_modules/a/LICENSE?raw'], null],
    [
      'in the wings of another',
      ['/x/node_modules/@tonaljs/note/n.js', '/x/node_modules/tonal/LICENSE?raw'],
      null,
    ],
  ])('code %s', (_what, modules, failure) => {
    const { collect, check } = licences();
    // A worker is a bundle of its own.
    for (const module of modules) call(collect(), 'generateBundle', {}, bundle(module));
    const said = call(check(), 'closeBundle');
    if (failure === null) expect(said).toBeNull();
    else expect(said).toMatch(failure);
  });
});

describe('what a host should say', () => {
  it('stands in the guide as the preview says it', () => {
    const said = [
      ...Object.entries(headersForAll),
      ['Cache-Control', cacheFor('/assets/x.js')],
      ['Cache-Control', cacheFor('/')],
    ];
    for (const [name, value] of said) expect(developers).toContain(`\`${name}: ${value}\``);
  });
});
