// Assembles the loops of the solver: `npm run kernel`, after a change of relax.wat. Its bytes are kept beside it, so that
// nothing has to be assembled to run or build; a test holds them against the text.
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';
import wabt from 'wabt';

const folder = new URL('../pipeline/4-solver/kernel/', import.meta.url);
const text = new URL('relax.wat', folder);
const home = new URL('relax-bytes.ts', folder);

const perLine = 96;

/** The module that relax.wat is assembled into, as text of a TypeScript file. */
export async function assembled() {
  const module = (await wabt()).parseWat('relax.wat', readFileSync(text, 'utf8'), { simd: true });
  module.validate();
  const base64 = Buffer.from(module.toBinary({}).buffer).toString('base64');
  const lines = base64.match(new RegExp(`.{1,${perLine}}`, 'g'));
  return [
    '// Assembled from relax.wat by `npm run kernel`; not to be changed by hand.',
    '',
    'const base64 =',
    `${lines.map((line) => `  '${line}'`).join(' +\n')};`,
    '',
    'export const relaxBytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));',
    '',
  ].join('\n');
}

export const keptBytes = () => readFileSync(home, 'utf8');

if (process.argv[1] && pathToFileURL(process.argv[1]).href === import.meta.url) {
  writeFileSync(home, await assembled());
  console.log(`written: ${fileURLToPath(home)}`);
}
