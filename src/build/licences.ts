// Whose code is in the built program, held against whose licence comes with it.
import type { Plugin } from 'vite';
import { licenceHome } from './licence-home.mjs';

/** Name of the package that a module belongs to, or whose licence it is; undefined for our own. */
export const packageOf = (module: string): string | undefined =>
  /shared[\\/]licences[\\/](.+)\.txt/.exec(module)?.[1] ??
  /^.*node_modules[\\/]((?:@[^\\/]+[\\/])?[^\\/]+)[\\/]/.exec(module)?.[1]?.replace('\\', '/');

/** A text that is shown, or a style: no code of the package's. */
const isText = (module: string): boolean => /\?.*\braw\b/.test(module);

export interface Licences {
  /** Notes what one bundle is made of; a program has several. */
  readonly collect: () => Plugin;
  /** Ends the build when code of a package is in it whose licence is not. */
  readonly check: () => Plugin;
}

export function licences(): Licences {
  const modules = new Set<string>();
  const missing = (): string[] => {
    const texts = new Set([...modules].filter(isText).map(packageOf));
    const used = new Set([...modules].filter((module) => !isText(module)).map(packageOf));
    return [...used].filter(
      (name): name is string => name !== undefined && !texts.has(name) && !texts.has(licenceHome(name)),
    );
  };
  return {
    collect: () => ({
      name: 'licences-collect',
      generateBundle: (_options, output) => {
        for (const one of Object.values(output))
          if (one.type === 'chunk')
            for (const module of one.moduleIds) modules.add(module.replace(/^\0/, ''));
      },
    }),
    check: () => ({
      name: 'licences-check',
      apply: 'build',
      closeBundle: {
        order: 'post',
        sequential: true,
        handler() {
          const names = missing().sort();
          if (names.length > 0)
            this.error(`in the program, but not among the licences of About: ${names.join(', ')}`);
        },
      },
    }),
  };
}
