// Scales, arpeggios and patterns on the command line: what is asked for, and its fingering.
import { parseKey, type NoteName, type ScaleName } from '../music';
import {
  patternDirections,
  patternFigures,
  patternReaches,
  patternScales,
  type PatternDirection,
  type PatternFigure,
  type PatternReach,
  type PatternWish,
} from '../pipeline';
import { walkFormatUsage } from './formats';

export const scaleOptions = {
  figure: { type: 'string' },
  octaves: { type: 'string' },
  direction: { type: 'string' },
} as const;

export const scaleUsage = `  ramble scale NAME [--figure F] [--octaves 1|2|neck] [--direction up|down|both] [--way open|usual] [--tempo N]
                    [--avoid half] ${walkFormatUsage} [--out FILE]`;

/** "Bb", "Bb major", "F# dorian", "A minor": the tonic and the scale. */
function nameOf(text: string): { readonly tonic: NoteName; readonly scale: ScaleName } | string {
  const [, head = '', tail = ''] = /^\s*(\S+)\s*(.*?)\s*$/.exec(text) ?? [];
  const key = parseKey(head.replaceAll('♭', 'b').replaceAll('♯', '#'));
  const wanted = tail.toLowerCase() || 'major';
  const scale = patternScales.find(({ id, words }) => id === wanted || words === wanted)?.id;
  if (key && scale && key.mode === 'major') return { tonic: key.tonic, scale };
  const known = patternScales.map(({ words }) => words).join(', ');
  return `a scale is a note and one of ${known}, such as "Bb major", not "${text}"`;
}

const reaches: Readonly<Record<string, PatternReach>> = {
  '1': 'one octave',
  '2': 'two octaves',
  neck: 'whole neck',
};
const directions: Readonly<Record<string, PatternDirection>> = {
  both: 'up and down',
  up: 'up',
  down: 'down',
};

export interface ScaleValues {
  readonly figure?: string | undefined;
  readonly octaves?: string | undefined;
  readonly direction?: string | undefined;
}

/** The pattern of a command line, or a sentence on what is wrong. */
export function scaleWish(name: string, values: ScaleValues): PatternWish | string {
  const named = nameOf(name);
  if (typeof named === 'string') return named;
  const figure: PatternFigure | undefined = patternFigures.find((one) => one === (values.figure ?? 'scale'));
  if (!figure) return `--figure takes ${patternFigures.join(', ')}, not "${values.figure}"`;
  const reach = reaches[values.octaves ?? '1'];
  if (!reach) return `--octaves takes 1, 2 or neck for ${patternReaches.join(', ')}, not "${values.octaves}"`;
  const direction = directions[values.direction ?? 'both'];
  if (!direction)
    return `--direction takes up, down or both for ${patternDirections.join(', ')}, not "${values.direction}"`;
  return { ...named, figure, reach, direction };
}
