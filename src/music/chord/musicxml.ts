// Chords as MusicXML 4.0 writes them: a kind, and degrees added to it, altered in it or taken out of it. An added degree
// counts from a dominant chord (major and perfect intervals, minor seventh), an altered one from the tone of the kind.
import data from '../../../shared/chords/musicxml-kinds.json' with { type: 'json' };
import { degreeOf, parseNoteName, semitonesOf, type IntervalName, type NoteName } from '../tonal';
import type { Chord, ChordReading, Remark } from '../types';
import { chordOfFormula, formulaOf } from './assemble';
import { plainText } from './characters';
import { describe } from './describe';
import { readSuffix } from './grammar';
import { tokenise } from './lexer';
import { printSuffix } from './print';
import { circumstancesOf, intervalOfStep, realise, statedTones } from './realise';
import { settle } from './settle';
import { plainSpec, type ChordSpec, type Formula } from './spec';

export const degreeTypes = ['add', 'alter', 'subtract'] as const;
export type DegreeType = (typeof degreeTypes)[number];

/** A <degree> element. */
export interface XmlDegree {
  readonly value: number;
  readonly alter: number;
  readonly type: DegreeType;
}

/** What stands in a <harmony> element beside root and bass. */
export interface XmlKind {
  readonly kind: string;
  /** For the text attribute: the symbol without its root. */
  readonly text: string;
  readonly degrees: readonly XmlDegree[];
}

/** A <harmony> element as it was read from a file, nothing in it checked. */
export interface XmlHarmony {
  /** Root as a note name, "Bb". */
  readonly root: string;
  readonly kind: string;
  readonly kindText?: string | null;
  readonly degrees: readonly XmlDegree[];
  readonly bass?: string | null;
}

interface Kind {
  readonly kind: string;
  readonly spec: ChordSpec;
  readonly write: boolean;
}

const kinds: readonly Kind[] = data.rows.map(({ kind, symbol, write }) => ({
  kind,
  write,
  spec: readSuffix(tokenise(symbol)).spec,
}));

/** Size of a degree in a dominant chord, from which added degrees are counted. */
const dominantSizes: Readonly<Record<number, number>> = {
  2: 2,
  3: 4,
  4: 5,
  5: 7,
  6: 9,
  7: 10,
  9: 14,
  11: 17,
  13: 21,
};

/** What is in `a` and not in `b`. */
const without = (a: readonly IntervalName[], b: readonly IntervalName[]): IntervalName[] =>
  a.filter((tone) => !b.includes(tone));

/** The tones of a formula with those that the kind of an eleventh or a dominant implies. */
function withImplied(formula: Formula): IntervalName[] {
  const implied = formula.altered ? [] : formula.colours.filter((tone) => degreeOf(tone) <= 5);
  return [...formula.tones, ...implied];
}

/** The degrees that turn one chord into another. */
function degreesBetween(kind: readonly IntervalName[], chord: readonly IntervalName[]): XmlDegree[] {
  const lost = without(kind, chord);
  const gained = without(chord, kind);
  const degrees: XmlDegree[] = lost.map((tone): XmlDegree => {
    const value = degreeOf(tone);
    const index = gained.findIndex((candidate) => degreeOf(candidate) === value);
    if (index < 0) return { value, alter: 0, type: 'subtract' };
    const [other] = gained.splice(index, 1);
    return { value, alter: semitonesOf(other!) - semitonesOf(tone), type: 'alter' };
  });
  const added = gained.map((tone): XmlDegree => {
    const value = degreeOf(tone);
    return { value, alter: semitonesOf(tone) - dominantSizes[value]!, type: 'add' };
  });
  return [...degrees, ...added];
}

/** How far a degree takes the chord from its kind: an altered tone is nearest, an added one farthest. */
const effortOf = ({ type, alter }: XmlDegree): number =>
  type === 'alter' ? 2 * Math.abs(alter) : type === 'subtract' ? 2.5 : 3;

/** The one kind whose eleventh stands in for its third. */
const eleventh = 'dominant-11th';

/**
 * The kind that needs the fewest degrees, with those. Reading it back gives the same chord, except that a second beside a
 * third comes back as a ninth: the format has one word for both.
 */
export function musicXmlKind(chord: Chord): XmlKind {
  const formula = formulaOf(chord);
  const spec = describe(formula);
  const text = printSuffix(spec, chord.root);
  if (formula.altered) return { kind: 'dominant', text, degrees: alteredDegrees(formula) };
  const tones = withImplied(formula);
  const isEleventh = formula.colours.some((tone) => tone === '3M');
  const choices = kinds
    .filter(
      ({ kind, spec: { top }, write }) => write && top <= spec.top && (kind === eleventh) === isEleventh,
    )
    .map(({ kind, spec: kindSpec }) => {
      const degrees = degreesBetween(withImplied(realise(kindSpec)), tones);
      return { kind, degrees, effort: degrees.reduce((sum, degree) => sum + effortOf(degree), 0) };
    });
  const { kind, degrees } = choices.reduce((best, next) => (next.effort < best.effort ? next : best));
  // A fifth stated beside a flat thirteen has to be said, since the kind only permits it.
  const statesFifth = ['3M', '5P', '7m', '13m'].every((tone) => formula.tones.some((name) => name === tone));
  return { kind, text, degrees: statesFifth ? [...degrees, { value: 5, alter: 0, type: 'add' }] : degrees };
}

/** The altered dominant for programs that do not read the text: no fifth, and every alteration once by its sound. */
function alteredDegrees(formula: Formula): XmlDegree[] {
  const fifths: readonly string[] = ['5d', '5A'];
  const choices = formula.colours.filter((tone) => !fifths.includes(tone));
  return degreesBetween(['1P', '3M', '5P', '7m'] as IntervalName[], [...formula.tones, ...choices]);
}

/** A tone that a degree names, counted from a dominant chord. */
function toneOfDegree(value: number, alter: number): IntervalName | undefined {
  // In our steps the plain seventh is minor and the flat one the same; here a flat one is diminished.
  const isFlatSeventh = value === 7 && alter === -1;
  return intervalOfStep({ degree: value, alter: isFlatSeventh ? -2 : alter });
}

/** A tone of a chord moved by semitones, the degree kept. */
function moved(tone: IntervalName, alter: number): IntervalName | undefined {
  const value = degreeOf(tone);
  return toneOfDegree(value, semitonesOf(tone) - dominantSizes[value]! + alter);
}

const otherNames: Readonly<Record<number, number>> = { 2: 9, 4: 11, 6: 13, 9: 2, 11: 4, 13: 6 };
const order: Readonly<Record<DegreeType, number>> = { subtract: 0, alter: 1, add: 2 };

/** Applies degrees to the tones of a kind; `onUnread` hears of those that no chord has. */
function formulaFrom(
  spec: ChordSpec,
  tones: Set<string>,
  degrees: readonly XmlDegree[],
  onUnread: (degree: XmlDegree) => void,
): Formula {
  const find = (value: number): IntervalName | undefined =>
    [...(tones as Set<IntervalName>)].find((tone) => degreeOf(tone) === value);
  const omissions = [...spec.omissions];
  const steps: string[] = [];
  const add = (degree: XmlDegree): void => {
    const tone = toneOfDegree(degree.value, degree.alter);
    if (tone === undefined) return onUnread(degree);
    tones.add(tone);
    if (degree.value === 2 || degree.value === 4) steps.push(tone);
  };
  for (const degree of [...degrees].sort((a, b) => order[a.type] - order[b.type])) {
    const { value, alter, type } = degree;
    const own = find(value) ?? find(otherNames[value] ?? value);
    if (type === 'add' || (type === 'alter' && own === undefined)) add(degree);
    else if (type === 'alter') {
      const tone = moved(own!, alter);
      if (tone === undefined) onUnread(degree);
      else {
        tones.delete(own!);
        tones.add(tone);
      }
    } else if (own === undefined) onUnread(degree);
    else if (value === 3 && spec.top === 11) omissions.push(3);
    else tones.delete(own);
  }
  const isThirdless = omissions.includes(3) || (!tones.has('3M') && !tones.has('3m'));
  if (isThirdless) suspend(tones, steps);
  const statesFifth = degrees.some(({ value, type }) => value === 5 && type === 'add');
  return settle(tones, { ...circumstancesOf(spec), omissions, statesFifth });
}

/** Without a third an added second or fourth takes its place. */
function suspend(tones: Set<string>, steps: readonly string[]): void {
  const names: Readonly<Record<string, string>> = { '9m': '2m', '9M': '2M', '11P': '4P', '11A': '4A' };
  for (const tone of steps) {
    const name = names[tone];
    if (name !== undefined && tones.delete(tone)) tones.add(name);
  }
}

/** The spec that a kind's text says, when it can be read. */
function specOfText(text: string | null | undefined): ChordSpec | undefined {
  if (text === null || text === undefined || text.trim() === '' || text.length > 40) return undefined;
  const { spec, refusal } = readSuffix(tokenise(plainText(text).text));
  return refusal === null ? spec : undefined;
}

/** How a kind was understood. */
interface Understood {
  readonly formula: Formula;
  /** What is to be said about it; null for a kind of the standard. */
  readonly remark: 'chord-file-kind-empty' | 'chord-file-kind-text' | 'chord-file-kind-sound' | null;
}

/** Chords named by what they do in a key, which are read by their sound. */
const namedByFunction: ReadonlySet<string> = new Set([
  'Neapolitan',
  'Italian',
  'French',
  'German',
  'Tristan',
]);

const kindWords: ReadonlyMap<string, string> = new Map(Object.entries(data.words.rows));

/** The spec of a kind that the standard does not know: as its text says, as a symbol in its place, or word by word. */
function specOfUnknown({ kind, kindText }: XmlHarmony): ChordSpec | undefined {
  const words = kind.split('-').map((word) => kindWords.get(word.toLowerCase()));
  const spelled = words.every((word) => word !== undefined) ? words.join('') : undefined;
  return specOfText(kindText) ?? specOfText(spelled) ?? specOfText(kind);
}

function understand(harmony: XmlHarmony, onUnread: (degree: XmlDegree) => void): Understood | undefined {
  const { kind, degrees } = harmony;
  const ofText = specOfText(harmony.kindText);
  // No kind says "altered"; the text does.
  if (ofText?.altered === true && kind.startsWith('dominant'))
    return { formula: realise(ofText), remark: null };
  if (kind === 'other' && degrees.length > 0) {
    return { formula: formulaFrom(plainSpec, new Set(), degrees, onUnread), remark: null };
  }
  const known = kinds.find((row) => row.kind === kind);
  if (known !== undefined) {
    const formula = formulaFrom(known.spec, statedTones(known.spec), degrees, onUnread);
    return { formula, remark: namedByFunction.has(kind) ? 'chord-file-kind-sound' : null };
  }
  // A text is the whole symbol, its degrees included.
  const spec = specOfUnknown(harmony);
  if (spec !== undefined) return { formula: realise(spec), remark: 'chord-file-kind-text' };
  if (kind !== '') return undefined;
  const major = formulaFrom(plainSpec, statedTones(plainSpec), degrees, onUnread);
  return { formula: major, remark: 'chord-file-kind-empty' };
}

/**
 * The chord of a <harmony> element. Like `parseChord` it never throws: what cannot be read is refused, and a degree that
 * no chord has is passed over with a remark. Places are 0, since the text is the file's.
 */
export function chordFromMusicXml(harmony: XmlHarmony): ChordReading {
  const place = { at: 0, length: 0 };
  if (harmony.kind === 'none') return { kind: 'no chord' };
  const root = parseNoteName(harmony.root);
  const refuse = (code: string, part: string): ChordReading => ({
    kind: 'refused',
    code,
    ...place,
    values: { symbol: harmony.root.slice(0, 20), part: part.slice(0, 40) },
  });
  if (root === undefined) return refuse('chord-file-root', harmony.root);
  const unread: XmlDegree[] = [];
  const understood = understand(harmony, (degree) => unread.push(degree));
  if (understood === undefined) return refuse('chord-file-kind', harmony.kind);
  const { formula, remark } = understood;
  const bass: NoteName | null = parseNoteName(harmony.bass ?? '') ?? null;
  const chord = chordOfFormula(root, formula, bass);
  const said = (code: string, part: string): Remark => ({
    code,
    ...place,
    values: { symbol: chord.symbol, part: part.slice(0, 40) },
  });
  const remarks = [
    ...(remark === null ? [] : [said(remark, harmony.kind)]),
    ...unread.map(({ value, alter, type }) => said('chord-file-degree', `${type} ${value} ${alter}`)),
  ];
  return { kind: 'chord', chord, optional: false, remarks };
}
