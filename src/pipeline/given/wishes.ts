// The masks of a given line: pins and limits, and the place to live where one is chosen.
import { nameOfPitchClass, pitchClass, pitchText, spellPitch } from '../../music';
import { liesIn, positionName } from '../../instrument';
import { wishesOf, type Wish } from '../3-candidates';
import type { GivenRequest } from './types';

export function givenWishes(request: GivenRequest): readonly Wish[] {
  const { instrument, hand, limits, pins = [], key, place } = request;
  const masks = wishesOf(limits, pins, instrument, hand, {
    positionName,
    pitchName: (midi) =>
      pitchText(spellPitch(midi, nameOfPitchClass(pitchClass(midi), (key?.fifths ?? 0) > 0))),
    stringName: (number) =>
      instrument.strings.find((string) => string.number === number)?.numeral ?? String(number),
  });
  if (!place) return masks;
  const living: Wish = {
    words: `${place.name}: ${place.words}`,
    source: { kind: 'limit', limit: 'barred position' },
    allows: (placement) => liesIn(place, placement),
  };
  return [...masks, living];
}
