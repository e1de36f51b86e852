// The words about the scale of a chord, and why it is that one.
import reasons from '../../../shared/words/scale-reasons.json' with { type: 'json' };
import type { Chord, Key, ScaleName } from '../../music';
import type { WhyScale } from '../../pipeline';
import { keyText, symbolText } from '../words';

/** Why the chord is walked through its scale, as a sentence. */
export function scaleSentence(chord: Chord, key: Key, { reason, next }: WhyScale): string {
  const values: Readonly<Record<string, string>> = {
    chord: symbolText(chord.symbol),
    key: keyText(key),
    next: symbolText(next ?? chord.symbol),
  };
  return reasons[reason].message.replace(/\{(\w+)\}/g, (whole, name: string) => values[name] ?? whole);
}

/** "A flat 2" reads better with its sign. */
export const scaleText = (name: string): string =>
  name.replace(/flat (?=\d)/g, '♭').replace(/natural (?=\d)/g, '♮');

export const scaleWords = {
  title: 'Scale',
  over: (chord: string): string => `Scale over ${symbolText(chord)}`,
  usual: (name: ScaleName): string => `as usual: ${scaleText(name)}`,
} as const;
