// The verbs that make the next version of a study. Each gives the study itself where nothing would change.
import type { Key } from '../music';
import type { HandPosition, Placement, Region, StringNumber } from '../instrument';
import type { LineNote, LineShape, OwnFingering, OwnLine, OwnNote, Pin, WishInConflict } from '../pipeline';
import { letGo, unlock } from './keeping';
import {
  liftedLimits,
  plainNames,
  plainRows,
  plainValue,
  type PlainInput,
  type PlainName,
} from '../pipeline';
import { changeSetup, defaultSetup, type Setup } from './setup';
import { studyRange, type LessonNames, type Study } from './study';

export * from './study';

const within = (value: number, range: { readonly least: number; readonly most: number }): number =>
  Math.min(range.most, Math.max(range.least, value));

/** The same object when nothing would change, so that an unchanged study is never recorded or solved again. */
function change<Name extends keyof Study>(study: Study, name: Name, value: Study[Name]): Study {
  return Object.is(study[name], value) ? study : { ...study, [name]: value };
}

/** Changes one plain setting. A number outside its range is brought to its nearer end; what is no number changes nothing. */
export function setPlain<Name extends PlainName>(study: Study, name: Name, value: PlainInput<Name>): Study {
  const wanted = plainValue(name, value);
  if (wanted === undefined || Object.is(study[name], wanted)) return study;
  const next = { ...study, [name]: wanted };
  return plainRows[name].makesAnother ? letGo(next) : next;
}

/** The shape of the line through a section, null for those without one of their own; no shape lifts the wish. */
export function setShape(study: Study, section: string | null, shape: LineShape | null): Study {
  const others = study.shapes.filter((one) => one.section !== section);
  if (shape === null && others.length === study.shapes.length) return study;
  const shapes = shape === null ? others : [...others, { section, shape }];
  return shapes.length > studyRange.shapes.most ? study : letGo({ ...study, shapes });
}

/** Heights for bars of the form, from 1, in the place of those they had; null takes a bar's away. */
export function setHeights(study: Study, heights: ReadonlyMap<number, number | null>): Study {
  const others = study.heights.filter(({ bar }) => !heights.has(bar));
  const drawn = [...heights].flatMap(([bar, height]) =>
    height === null ? [] : [{ bar, height: within(height, studyRange.heights.height) }],
  );
  const next = [...others, ...drawn].sort((a, b) => a.bar - b.bar);
  const isSame =
    next.length === study.heights.length &&
    next.every(({ bar, height }, at) => {
      const old = study.heights[at]!;
      return old.bar === bar && old.height === height;
    });
  return isSame || next.length > studyRange.heights.most ? study : letGo({ ...study, heights: next });
}

export const setChartText = (study: Study, text: string): Study =>
  change(study, 'chartText', text.slice(0, studyRange.chartText.most));

export function setKey(study: Study, key: Key | null): Study {
  const same = study.key?.tonic === key?.tonic && study.key?.mode === key?.mode;
  // In another key nothing that was shown fits, so locked bars go, too.
  return same ? study : { ...study, key, kept: [], redraws: 0 };
}

export const setInstrument = (study: Study, id: string): Study =>
  study.instrument === id
    ? study
    : letGo({
        ...study,
        instrument: id,
        stringLength: null,
        setup: changeSetup(study.setup, { heel: null, tuning: null }),
      });

export const setSetup = (study: Study, part: Partial<Setup>): Study =>
  change(study, 'setup', changeSetup(study.setup, part));

const ascending = (positions: Iterable<HandPosition>): HandPosition[] =>
  [...new Set(positions)].sort((a, b) => a - b);

export function setBarred(study: Study, positions: Iterable<HandPosition>): Study {
  const barred = ascending(positions);
  const same =
    barred.length === study.barred.length && barred.every((position, i) => position === study.barred[i]);
  return same ? study : { ...study, barred };
}

export const toggleBarred = (study: Study, position: HandPosition): Study =>
  setBarred(
    study,
    study.barred.includes(position)
      ? study.barred.filter((other) => other !== position)
      : [...study.barred, position],
  );

export function toggleString(study: Study, string: StringNumber): Study {
  const { barredStrings } = study;
  const others = barredStrings.filter((one) => one !== string);
  return others.length < barredStrings.length
    ? { ...study, barredStrings: others }
    : { ...study, barredStrings: [...others, string].sort((a, b) => a - b) };
}

/** Null lifts the limit on a region. */
export function setShare(study: Study, region: Region, share: number | null): Study {
  const others = study.shares.filter((one) => one.region !== region);
  if (share === null || !Number.isFinite(share))
    return others.length === study.shares.length ? study : { ...study, shares: others };
  const wanted = within(share, studyRange.share);
  if (study.shares.some((one) => one.region === region && one.share === wanted)) return study;
  return { ...study, shares: [...others, { region, share: wanted }] };
}

/** Lets go of all limits on the hand; pins and locked bars stay. */
export const liftLimits = (study: Study): Study => ({
  ...study,
  ...liftedLimits,
  barred: [],
  barredStrings: [],
  shares: [],
});

type Moment = Pick<LineNote, 'bar' | 'beat'>;

/** The pin at a moment of the line, undefined when there is none. */
export const pinAt = (study: Pick<Study, 'pins'>, { bar, beat }: Moment): Pin | undefined =>
  study.pins.find((pin) => pin.bar === bar && pin.beat === beat);

/** Asks for a part in the chord or for an open string at a beat, whatever the note. */
export function pinRole(study: Study, moment: Moment, role: NonNullable<Pin['role']>): Study {
  const others = unpin(study, moment).pins;
  const pin: Pin = { bar: moment.bar, beat: moment.beat, role };
  return others.length >= studyRange.pins.most ? study : { ...study, pins: [...others, pin] };
}

/** Holds one way to play at a beat: this note, on this string, with this finger in this position. */
export function pinPlacement(study: Study, moment: Moment, placement: Placement): Study {
  const { midi, string, stop, finger, position } = placement;
  const pin: Pin = { bar: moment.bar, beat: moment.beat, midi, string, stop, finger, position };
  const others = unpin(study, moment).pins;
  return others.length >= studyRange.pins.most ? study : { ...study, pins: [...others, pin] };
}

export const unpin = (study: Study, moment: Moment): Study =>
  pinAt(study, moment)
    ? { ...study, pins: study.pins.filter((pin) => pin.bar !== moment.bar || pin.beat !== moment.beat) }
    : study;

export const unpinAll = (study: Study): Study => (study.pins.length === 0 ? study : { ...study, pins: [] });

/** Lets go of wishes that stand in the way. */
export const giveUpAll = (study: Study, wishes: readonly WishInConflict[]): Study =>
  wishes.reduce(giveUp, study);

export function giveUp(study: Study, { source }: WishInConflict): Study {
  if (source.kind === 'pin') return unpin(study, source.pin);
  const { limit, position, bar } = source;
  switch (limit) {
    case 'layer':
      // A lesson's rule is no wish of the study.
      return study;
    case 'stay':
      return setPlain(study, 'lowStay', null);
    case 'place':
      return setSetup(study, { place: defaultSetup.place });
    case 'hardest move':
      return setSetup(study, { hardest: null });
    case 'barred string':
      return { ...study, barredStrings: [] };
    case 'lowest note':
      return setPlain(study, 'lowest', null);
    case 'highest note':
      return setPlain(study, 'highest', null);
    case 'highest stop':
      return setPlain(study, 'highestStop', null);
    case 'relaxed only':
      return setPlain(study, 'relaxedOnly', false);
    case 'share':
      return { ...study, shares: [], spread: 0 };
    case 'kept bar':
      return bar === undefined ? study : unlock(study, bar);
    case 'barred position':
      return setBarred(
        study,
        study.barred.filter((barred) => barred !== position),
      );
  }
}

/** Lays a line of the player's own over the changes, or takes it away: then they are walked anew. */
export const setOwn = (study: Study, own: OwnLine | null): Study =>
  own === study.own ? study : { ...study, own, kept: [], redraws: 0, lesson: null };

/** Whose fingers a line of the player's own has. */
export const setOwnFingering = (study: Study, fingering: OwnFingering): Study =>
  study.own && study.own.fingering !== fingering ? setOwn(study, { ...study.own, fingering }) : study;

/** The notes of a line of the player's own changed; the same study where they are as they were. */
export const editOwn = (study: Study, edit: (notes: readonly OwnNote[]) => readonly OwnNote[]): Study => {
  if (!study.own) return study;
  const notes = edit(study.own.notes);
  return notes === study.own.notes ? study : setOwn(study, { ...study.own, notes });
};

/** Remembers the lesson on the sheet; the line under it stays as it is. */
export function setLesson(study: Study, lesson: LessonNames | null): Study {
  const { lesson: old } = study;
  const isSame = old?.layer === lesson?.layer && old?.ground === lesson?.ground && old?.from === lesson?.from;
  return isSame ? study : { ...study, lesson };
}

const namesIn = (one: Study, other: Study): readonly (keyof Study)[] =>
  (Object.keys({ ...one, ...other }) as (keyof Study)[]).filter((name) => !Object.is(one[name], other[name]));

/** How a lesson is played and by whom, not what it asks for: it is made again for these, and stays on the sheet. */
const besideLesson: ReadonlySet<keyof Study> = new Set([
  'key',
  'instrument',
  'setup',
  'barred',
  'barredStrings',
  'shares',
  'stars',
  ...plainNames.filter((name) => plainRows[name].isBesideLesson),
]);

/** A version of a study that puts the same question to a lesson: another tempo, another hand, other limits. */
export function asksSameLesson(before: Study, after: Study): boolean {
  // What is let go of the study's own line is no part of a lesson.
  const names = namesIn(before, after).filter((name) => name !== 'kept' && name !== 'redraws');
  return names.length > 0 && names.every((name) => besideLesson.has(name));
}

/** Two versions of a study that differ in nothing that a line is made of but the tempo. */
export const isOtherTempo = (one: Study, other: Study): boolean =>
  one.tempo !== other.tempo &&
  namesIn(one, other).every((name) => name === 'tempo' || name === 'kept' || name === 'lesson');

/** Two versions of a study that differ in nothing but the lesson over their line. */
export const haveSameLine = (one: Study, other: Study): boolean =>
  namesIn(one, other).every((name) => name === 'lesson');

/** A take is walked: a line of the player's own gives way to it. */
export const setTake = (study: Study, seed: number): Study =>
  Number.isFinite(seed)
    ? letGo(change(setOwn(study, null), 'seed', Math.round(within(seed, studyRange.seed))))
    : study;

/** The next take; after the last number it starts again at the first. */
export const newTake = (study: Study): Study =>
  setTake(study, study.seed >= studyRange.seed.most ? studyRange.seed.least : study.seed + 1);
