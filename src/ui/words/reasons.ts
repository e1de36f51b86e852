// Positions within sentences that the pipeline has put together with numerals, by the names the person chose.
import { positionName as numeralOf, type HandPosition } from '../../instrument';
import type { LineNote, WishInConflict } from '../../pipeline';
import type { PositionName } from '../fingerboard';
import { noteText, withSigns } from './notes';

const positionOf = ({ source }: WishInConflict): HandPosition | undefined =>
  source.kind === 'limit' ? source.position : source.pin.position;

const literally = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** A sentence about wishes: every wish with a position says it by its chosen name, each time it is named. */
export function withPositionsNamed(
  sentence: string,
  wishes: readonly WishInConflict[],
  positionName: PositionName,
): string {
  return wishes.reduce((text, wish) => {
    const position = positionOf(wish);
    if (position === undefined) return text;
    const named = wish.words.replace(numeralOf(position), positionName(position));
    // The words of one wish may be part of another's: "I barred" of "II barred", "in II" of "in II½".
    const words = new RegExp(`(?<![\\w½])${literally(wish.words)}(?![\\w½])`, 'g');
    return text.replace(words, () => named);
  }, sentence);
}

/** "♭" and "♯" as the pipeline writes them in sentences. */
const written = (name: string): string => name.replaceAll('b', '♭').replaceAll('#', '♯');

/** The note that a reason leads to: every sentence of `shared/lessons/devices.json` says "into" before it. */
const nextNote = /( into )([A-G][♭♯]{0,2})/;

/** Why a note is there, with its name, that of the note after it and the positions as the person calls them. */
export function reasonText(
  { pitch, reason, carry }: Pick<LineNote, 'pitch' | 'reason' | 'carry'>,
  positionName: PositionName,
): string {
  const own = written(pitch.name);
  const rest = reason.startsWith(own) ? noteText(pitch.name) + reason.slice(own.length) : reason;
  const named = withSigns(rest).replace(nextNote, (_, words: string, note: string) => words + noteText(note));
  if (!carry) return named;
  return named.replace(
    `from ${numeralOf(carry.from)} to ${numeralOf(carry.to)}`,
    `from ${positionName(carry.from)} to ${positionName(carry.to)}`,
  );
}
