// The limits that are in force, in words, each with the act that lifts it.
import type { PositionName } from '../fingerboard';
import type { Studio } from '../../state';
import { namedPositions, regionBounds, regions, type HandPosition, type Region } from '../../instrument';
import { pitchClass, indexOfBar, type SoundingMidi } from '../../music';
import { noteText } from '../words';
import { editing, regionWords } from '../words/editing';
import { stringText } from '../words/strings';

export interface InForce {
  readonly key: string;
  readonly text: string;
  /** Something the hand must not do; a pin or a kept bar is none. */
  readonly isLimit: boolean;
  readonly lift: () => void;
}

const { limits: words } = editing;
const names = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** "B♭1", in the sounding octave, as everywhere beside the staff. */
export const pitchWords = (midi: SoundingMidi): string =>
  `${noteText(names[pitchClass(midi)] ?? 'C')}${Math.floor(midi / 12) - 1}`;

/** The positions with a numeral of their own in a region; those above the last one belong to the octave. */
export const positionsIn = (region: Region, highest: number): readonly HandPosition[] => {
  const { from, to } = regionBounds(region);
  const last = namedPositions.at(-1) ?? 12;
  const all = Array.from({ length: highest }, (_, index) => (index + 1) as HandPosition);
  return all.filter((position) => position >= from && position <= (to >= last ? highest : to));
};

/** Positions named one by one; more are told by region or counted. */
const mostNamed = 4;

function barredInForce(studio: Studio, positionName: PositionName, highest: number): readonly InForce[] {
  const { barred } = studio.study;
  let left = [...barred];
  const whole = regions.flatMap((region): InForce[] => {
    const own = positionsIn(region, highest);
    if (own.length === 0 || !own.every((position) => left.includes(position))) return [];
    left = left.filter((position) => !own.includes(position));
    const text = `${words.wholeRegion(regionWords[region])} barred`;
    return [
      {
        key: `region ${region}`,
        text,
        isLimit: true,
        lift: () => studio.setBarred(barred.filter((one) => !own.includes(one))),
      },
    ];
  });
  if (left.length > mostNamed) {
    const rest = left;
    const lift = (): void => studio.setBarred(barred.filter((one) => !rest.includes(one)));
    return [...whole, { key: 'positions', text: words.positions(left.length), isLimit: true, lift }];
  }
  const single = left.map((position): InForce => ({
    key: `position ${position}`,
    text: words.position(positionName(position)),
    isLimit: true,
    lift: () => studio.toggleBarred(position),
  }));
  return [...whole, ...single];
}

/** In the order of the panel; pins and locked bars come last. */
export function limitsInForce(
  studio: Studio,
  positionName: PositionName,
  highest: number,
): readonly InForce[] {
  const { study, instrument } = studio;
  const list: InForce[] = [...barredInForce(studio, positionName, highest)];
  const add = (key: string, text: string, lift: () => void, isLimit = true): void => {
    list.push({ key, text, isLimit, lift });
  };
  if (study.lowStay !== null)
    add('stay', words.stay(study.stayIn, study.lowStay), () => studio.setLowStay(null));
  for (const { region, share } of study.shares) {
    const text = words.share(regionWords[region], words.percent(share));
    add(`share ${region}`, text, () => studio.setShare(region, null));
  }
  if (study.spread > 0)
    add('spread', words.spreadInForce(words.percent(study.spread)), () => studio.set('spread', 0));
  if (study.lowest !== null)
    add('lowest', words.below(pitchWords(study.lowest)), () => studio.setLowest(null));
  if (study.highest !== null)
    add('highest', words.above(pitchWords(study.highest)), () => studio.setHighest(null));
  if (study.highestStop !== null)
    add('stop', words.stop(words.stopOf(study.highestStop)), () => studio.setHighestStop(null));
  if (study.relaxedOnly) add('relaxed', words.relaxedOnly, () => studio.set('relaxedOnly', false));
  for (const string of study.barredStrings) {
    const text = words.string(stringText(instrument, string));
    add(`string ${string}`, text, () => studio.toggleString(string));
  }
  for (const bar of studio.locked) {
    const index = indexOfBar(bar);
    const lift = (): void => studio.toggleLocked({ from: index, to: index });
    add(`locked ${bar}`, words.locked(bar), lift, false);
  }
  for (const { bar, beat } of study.pins) {
    add(`pin ${bar}.${beat}`, words.pin(bar, beat), () => studio.unpinAt({ bar, beat }), false);
  }
  return list;
}
