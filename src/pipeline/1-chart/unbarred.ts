// Lines of chords without bar lines that other signs stand between: dashes, arrows, commas, semicolons, tabs, words that are
// sung. What is meant is a bar for each; the signs become bar lines, unit for unit.
import { parseChord } from '../../music';
import { isBarGlyph } from './scanner';
import type { Span } from './types';

/** A name and a colon, or a bullet, before the chords. */
const lead = /^ *(?:\p{L}[\p{L} ]{0,23}\d? *:(?=[ \t])|[•‣◦▪●∙*](?= ))?[ \t]*/u;
/** Signs that can stand for a bar line; all in a line are of one kind. */
const signs: readonly RegExp[] = [
  /(?<=[ \t])(?:[-–=]{1,2}>|[→⇒➔])(?=[ \t]|$)/gu,
  /(?<=[ \t])[-–—](?=[ \t]|$)/gu,
  /,(?=[ \t]|$)(?![^()]*\))/gu,
  /;(?=[ \t]|$)/gu,
  /\t/gu,
];
/** Chords of a bar without a bar line; longer ones are no line of chords. */
const mostInBar = 4;
const sung = /\[([A-G][^\]\s]{0,14})\]/gu;

const isChord = (text: string): boolean => parseChord(text).kind !== 'refused';

const isBar = (piece: string): boolean => {
  const words = piece.split(/[ \t]+/u).filter(Boolean);
  return words.length > 0 && words.length <= mostInBar && words.every(isChord);
};

/** Bar lines for the signs of one kind; undefined where not every piece between them is a bar. */
function barred(line: string, sign: RegExp): string | undefined {
  const from = lead.exec(line)![0].length;
  const music = line.slice(from);
  const pieces = music.split(sign);
  // A sign at the end leads on to the next line.
  if (pieces.at(-1)!.trim() === '') pieces.pop();
  if (pieces.length < 2 || !pieces.every(isBar)) return undefined;
  return line.slice(0, from) + music.replace(sign, (text) => '|'.padStart(text.length));
}

/** "Dm7 - - - G7 - - -": dashes for the other beats of a bar behind every chord. */
function barredByBeats(line: string): string | undefined {
  const from = lead.exec(line)![0].length;
  const music = line.slice(from);
  const bars = [...music.matchAll(/([^ -][^ ]*)((?: +-){2,11})(?= |$)/gu)];
  const [first] = bars;
  const isWhole =
    bars
      .map(([bar]) => bar)
      .join('')
      .replaceAll(' ', '') === music.replaceAll(' ', '');
  const count = (dashes: string): number => dashes.split('-').length;
  if (bars.length < 2 || !isWhole || !bars.every(([, chord]) => isChord(chord!))) return undefined;
  if (bars.some(([, , dashes]) => count(dashes!) !== count(first![2]!))) return undefined;
  const starts = bars.slice(1).map(({ index }) => from + index - 1);
  return starts.reduce((text, at) => `${text.slice(0, at)}|${text.slice(at + 1)}`, line);
}

/** "[Dm7]Walk a[G7]long": every chord in brackets begins a bar, the words between become blanks. */
function withoutWords(line: string): string | undefined {
  const chords = [...line.matchAll(sung)];
  const isSung = /\][\p{Ll}\p{Lu}]?\p{Ll}/u.test(line) || /\p{Ll}\[/u.test(line);
  if (chords.length === 0 || !isSung || !chords.every(([, chord]) => isChord(chord!))) return undefined;
  let music = '';
  for (const { index, 1: chord = '' } of chords) music = `${music.padEnd(index)}|${chord} `;
  return music.padEnd(line.length);
}

/**
 * The lines with bar lines where signs stood for them, and where those lines are.
 * @param typed the same lines as they were typed, tabs included
 */
export function withBarLines(
  lines: readonly string[],
  typed: readonly string[],
): { readonly lines: readonly string[]; readonly places: readonly Span[] } {
  const places: Span[] = [];
  const read = lines.map((line, index) => {
    if (isBarGlyph.test(line) || line.length > 400) return line;
    const tabbed = typed[index]!.includes('\t')
      ? [...line].map((one, at) => (typed[index]![at] === '\t' ? '\t' : one)).join('')
      : line;
    let found = withoutWords(line) ?? barredByBeats(line);
    for (const sign of signs) found ??= barred(tabbed, sign);
    if (found === undefined) return line;
    const start = line.search(/[^ ]/u);
    places.push({ line: index + 1, column: start + 1, length: line.trimEnd().length - start });
    return found.replaceAll('\t', ' ');
  });
  return { lines: read, places };
}
