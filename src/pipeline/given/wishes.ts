// The masks of a given line: pins and limits.
import { nameOfPitchClass, pitchClass, scientificName, spellPitch } from '../../music';
import { positionName, stringName } from '../../instrument';
import { wishesOf, type Wish } from '../3-candidates';
import type { GivenRequest } from './types';

export function givenWishes(request: GivenRequest): readonly Wish[] {
  const { instrument, hand, limits, pins = [], key } = request;
  return wishesOf(limits, pins, instrument, hand, {
    positionName,
    pitchName: (midi) =>
      scientificName(spellPitch(midi, nameOfPitchClass(pitchClass(midi), (key?.fifths ?? 0) > 0))),
    stringName: (number) => stringName(instrument, number),
  });
}
