// The licence texts that travel with the program, fetched when they are opened.
import { version as packageVersion } from '../../../package.json' with { type: 'json' };
import { about } from '../words/about';
import { soundWords } from './words';

export interface Licence {
  readonly name: string;
  readonly text: () => Promise<string>;
}

export const version: string = packageVersion;

/** Texts of the packages whose code is in the built program, by path; the build ends when one is missing. */
const packageTexts = import.meta.glob<string>(
  [
    '../../../node_modules/{svelte,esm-env,tonal,tone,idb,fflate,valibot,lru-cache}/LICEN[CS]E*',
    '../../../node_modules/{standardized-audio-context,automation-events,tslib}/LICEN[CS]E*',
    '../../../node_modules/workbox-{core,precaching,routing,strategies,window}/LICENSE',
    '../../../node_modules/@babel/runtime/LICENSE',
    '../../../node_modules/clsx/license',
    '../../../node_modules/xmlchars/LICENSE',
    // The package comes without the text, which stands in its repository.
    '../../../shared/licences/saxes.txt',
  ],
  { query: '?raw', import: 'default', exhaustive: true },
);

const packageName = (path: string): string =>
  /licences\/(.*)\.txt$/.exec(path)?.[1] ?? path.replace(/^.*node_modules\//, '').replace(/\/[^/]*$/, '');

async function allPackageTexts(): Promise<string> {
  const texts = await Promise.all(
    Object.entries(packageTexts).map(async ([path, load]) => `${packageName(path)}\n\n${await load()}`),
  );
  return texts.join('\n\n––––––––––\n\n');
}

/** A text among the files served beside the program. */
async function served(address: string): Promise<string> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`no licence text at ${address}`);
  return response.text();
}

export const licences: readonly Licence[] = [
  { name: about.program, text: async () => (await import('../../../LICENSE?raw')).default },
  { name: about.fonts, text: async () => (await import('@fontsource/alegreya/LICENSE?raw')).default },
  {
    name: about.sansFont,
    text: async () => (await import('@fontsource/alegreya-sans/LICENSE?raw')).default,
  },
  { name: about.musicFont, text: () => served('./fonts/ramble-notes-licence.txt') },
  { name: about.samples, text: () => served('./samples/LICENSE.txt') },
  { name: soundWords.title, text: async () => (await import('./sound-sources')).soundSources() },
  { name: about.packages, text: allPackageTexts },
];
