// The limits that are in force, in words, each with the act that lifts it.
import type { PositionName } from '../fingerboard';
import type { Studio, Study } from '../../state';
import { plainDefaults, plainLimits, type PlainLimit } from '../../pipeline';
import { namedPositions, regionBounds, regions, type HandPosition, type Region } from '../../instrument';
import { indexOfBar, plainPitch, type SoundingMidi } from '../../music';
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

/** "B♭1", in the sounding octave, as everywhere beside the staff. */
export function pitchWords(midi: SoundingMidi): string {
  const { name, octave } = plainPitch(midi);
  return `${noteText(name)}${octave}`;
}

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

/** Each plain limit while it is in force. */
const plainWords: {
  readonly [Name in PlainLimit]: (value: NonNullable<Study[Name]>, study: Study) => string;
} = {
  lowStay: (beats, { stayIn }) => words.stay(stayIn, beats),
  spread: (share) => words.spreadInForce(words.percent(share)),
  lowest: (midi) => words.below(pitchWords(midi)),
  highest: (midi) => words.above(pitchWords(midi)),
  highestStop: (stop) => words.stop(words.stopOf(stop)),
  relaxedOnly: () => words.relaxedOnly,
};

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
  const addPlain = <Name extends PlainLimit>(name: Name): void => {
    const value = study[name];
    const usual = plainDefaults[name];
    if (value !== null && value !== usual)
      add(name, plainWords[name](value, study), () => studio.set(name, usual));
  };
  addPlain('lowStay');
  for (const { region, share } of study.shares) {
    const text = words.share(regionWords[region], words.percent(share));
    add(`share ${region}`, text, () => studio.setShare(region, null));
  }
  for (const name of plainLimits) if (name !== 'lowStay') addPlain(name);
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
