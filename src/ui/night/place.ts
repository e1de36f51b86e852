// How the first note of a tune is told: what it is and where it lies.
import { isOpenString, type HandPosition } from '../../instrument';
import type { FirstNote } from '../../night';
import { fingerText, pitchText } from '../fingerboard/words';
import { lettered } from '../words/strings';

/** "C2 on the E string, 4th finger, in III½"; "A1, open A string". */
export function firstText(
  { pitch, string, placement }: FirstNote,
  positionName: (position: HandPosition) => string,
): string {
  const note = pitchText(pitch);
  const name = lettered(string, placement.string);
  if (isOpenString(placement)) return `${note}, open ${name} string`;
  return `${note} on the ${name} string, ${fingerText(placement.finger)}, in ${positionName(placement.position)}`;
}
