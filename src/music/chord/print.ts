// Writes a spec in our own spelling of chord symbols.
import { accidentals, type ChordSpec, type AlteredDegree } from './spec';

/** The parts of a symbol after the root, in the order in which they are written. */
export interface SuffixParts {
  /** "m", "maj", "dim", "aug" or nothing. */
  readonly quality: string;
  /** "7", "69", "7sus4", "5" or nothing. */
  readonly extension: string;
  /** "b9", "#11". */
  readonly alterations: readonly string[];
  /** "add9", "no5". */
  readonly changes: readonly string[];
}

const stepText = ({ degree, alter }: AlteredDegree): string => `${accidentals(alter)}${degree}`;

function qualityOf(spec: ChordSpec): string {
  const seventh = spec.majorSeventh ? 'maj' : '';
  if (spec.base === 'minor') return `m${spec.majorSeventh ? 'Maj' : ''}`;
  if (spec.base === 'diminished') return `dim${spec.majorSeventh ? 'Maj' : ''}`;
  if (spec.base === 'augmented') return 'aug';
  return seventh;
}

function suspensionOf(spec: ChordSpec): string {
  const names = spec.suspended.map((tone) => ({ '2m': 'b2', '2M': '2', '4P': '4', '4A': '#4' })[tone]);
  if (names.length === 0) return '';
  return names.join('') === '24' ? 'sus24' : names.map((name) => `sus${name}`).join('');
}

/** Splits what a spec says into the parts of its symbol. */
export function suffixParts(spec: ChordSpec): SuffixParts {
  const isSixNine = spec.six && spec.additions.some((step) => step.degree === 9 && step.alter === 0);
  const number =
    spec.top > 0 ? String(spec.top) : isSixNine ? '69' : spec.six ? '6' : spec.base === 'power' ? '5' : '';
  const additions = spec.additions.filter((step) => !(isSixNine && step.degree === 9 && step.alter === 0));
  // Without a seventh, flat thirteen is called flat six.
  const isSeventh = spec.top > 0 || spec.additions.some((step) => step.degree === 7);
  const alterations = spec.alterations.map((step) =>
    step.degree === 13 && !isSeventh ? { ...step, degree: 6 } : step,
  );
  const size = (step: AlteredDegree): number => step.degree * 10 + step.alter;
  const sorted = (steps: readonly AlteredDegree[]): string[] =>
    [...steps].sort((a, b) => size(a) - size(b)).map(stepText);
  const omissions = [...spec.omissions].sort((a, b) => a - b);
  return {
    quality: qualityOf(spec),
    extension: `${number}${suspensionOf(spec)}${spec.altered ? 'alt' : ''}`,
    alterations: sorted(alterations),
    changes: [...sorted(additions).map((text) => `add${text}`), ...omissions.map((degree) => `no${degree}`)],
  };
}

/**
 * The symbol after the root. Accidentals that would be taken for the root's are put in brackets: "C(b5)". After a root
 * with two accidentals a number needs a word before it: "Bbbdom9" (Bbb9 is read as B flat, flat nine).
 */
export function printSuffix(spec: ChordSpec, root: string): string {
  if (root.length > 2 && spec.base === 'power') {
    return printSuffix({ ...spec, base: 'major', omissions: [3, ...spec.omissions] }, root);
  }
  const { quality, extension, alterations, changes } = suffixParts(spec);
  const isBare = quality === '' && extension === '';
  const written = isBare && alterations.length > 0 ? `(${alterations.join('')})` : alterations.join('');
  if (root.length > 2 && quality === '' && spec.top > 0)
    return `dom${extension}${written}${changes.join('')}`;
  return `${quality}${extension}${written}${changes.join('')}`;
}
