// Scales by the names that players give them.
import data from '../../../shared/chords/scales.json' with { type: 'json' };
import { plainText } from '../chord';
import { scaleNames, type ScaleName } from './formulas';

const longestName = 40;

/** Letters, digits and sharps only: "Dorian ♭2", "dorian flat 2" and "dorian-b2" are one name. */
const normal = (text: string): string =>
  plainText(text.replaceAll('♮', 'nat'))
    .text.toLowerCase()
    .replace(/flat ?/g, 'b')
    .replace(/sharp ?/g, '#')
    .replace(/natural(?= ?\d)/g, 'nat')
    .replace(/dominant/g, 'dom')
    .replace(/diminished/g, 'dim')
    .replace(/[^a-z0-9#]/g, '');

const known: ReadonlyMap<string, ScaleName> = new Map(
  data.rows.flatMap((row) => {
    const name = scaleNames.find((one) => one === row.name);
    if (name === undefined) throw new RangeError(`scales.json: ${row.name} is not among the names`);
    return [row.name, ...row.also].map((spelling) => [normal(spelling), name] as const);
  }),
);

/** The scale of a name in any of its usual spellings; undefined when it is none. A root before it is not read. */
export const parseScaleName = (text: string): ScaleName | undefined =>
  text.length > longestName ? undefined : known.get(normal(text));

/** Changes of one letter that make one name of another. */
function distance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 0; i < a.length; i += 1) {
    const next = [i + 1];
    for (let j = 0; j < b.length; j += 1) {
      next.push(Math.min(row[j + 1]! + 1, next[j]! + 1, row[j]! + (a[i] === b[j] ? 0 : 1)));
    }
    row = next;
  }
  return row.at(-1)!;
}

/** The names nearest to what was typed, the nearest first. */
export function nearestScaleNames(text: string, count = 3): readonly ScaleName[] {
  const typed = normal(text.slice(0, longestName));
  const ranked = [...known]
    .map(([spelling, name]) => ({
      name,
      far: distance(typed, spelling) / Math.max(spelling.length, typed.length, 1),
    }))
    .sort((a, b) => a.far - b.far);
  return [...new Set(ranked.map(({ name }) => name))].slice(0, count);
}
