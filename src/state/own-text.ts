// The notes of a line of one's own as text, short enough for a link, and back. What cannot be read is refused as a whole.
import { soundingMidi } from '../music';
import { saysNothing, type OwnNote } from '../pipeline';

/** Notes that a line of one's own can have. */
export const mostOwnNotes = 4_000;
const mostText = mostOwnNotes * 40;
const lasting = 4_096;

const fingers = '01234T';
type GivenFinger = OwnNote['otherFingers'][number];

/** "0:480:480:43" for a plain note; string, finger and other fingers follow where the file has them: "0:480:480:43:3:1:24". */
function noteText(note: OwnNote): string {
  const plain = [note.bar, note.at, note.ticks, note.midi];
  const held = [note.string ?? '', note.finger ?? '', note.otherFingers.join('')];
  return (saysNothing(note) ? plain : [...plain, ...held]).join(':');
}

export const ownToText = (notes: readonly OwnNote[]): string => notes.map(noteText).join(' ');

const pattern = /^(\d{1,5}):(\d{1,6}):(\d{1,6}):(\d{1,3})(?::([1-8]?):([0-4T]?):([0-4T]{0,6}))?$/;

/** Undefined for what is damaged: notes must rise in time and not begin at one moment. */
export function ownFromText(text: string): readonly OwnNote[] | undefined {
  if (text.length > mostText) return undefined;
  const words = text === '' ? [] : text.split(' ');
  if (words.length > mostOwnNotes) return undefined;
  const notes: OwnNote[] = [];
  for (const word of words) {
    const match = pattern.exec(word);
    if (!match) return undefined;
    const [bar, at, ticks, midi] = match.slice(1, 5).map(Number) as [number, number, number, number];
    const before = notes.at(-1);
    const isLater = !before || bar > before.bar || (bar === before.bar && at > before.at);
    if (!isLater || ticks < 1 || midi > 127 || bar > lasting) return undefined;
    const isFinger = (sign: string): sign is GivenFinger => sign !== '' && fingers.includes(sign);
    notes.push({
      bar,
      at,
      ticks,
      midi: soundingMidi(midi),
      string: match[5] ? Number(match[5]) : null,
      finger: isFinger(match[6] ?? '') ? (match[6] as GivenFinger) : null,
      otherFingers: [...(match[7] ?? '')].filter(isFinger),
    });
  }
  return notes;
}
