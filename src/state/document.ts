// The document: one immutable value that says everything about a piece of work, and the verbs that make the next one.
import { tempoRange, type Bpm, type Key, type Millimetres } from '../music';
import {
  defaultHand,
  defaultInstrument,
  lengthRange,
  spanRange,
  type HandPosition,
  type Placement,
} from '../instrument';
import type { LineNote, Pin, WishInConflict } from '../pipeline';

/** One saved piece of work. Everything else on the screen is computed from it. */
export interface Study {
  /** The chart as typed; its title line names the study. */
  readonly chartText: string;
  /** The key to play in; null for the chart's own. */
  readonly key: Key | null;
  /** Null for the chart's own. */
  readonly tempo: Bpm | null;
  readonly choruses: number;
  /** Id of the instrument. */
  readonly instrument: string;
  /** Vibrating length of the strings; null for the instrument's usual one. */
  readonly stringLength: Millimetres | null;
  /** Index to little finger, flat on a table. */
  readonly span: Millimetres;
  /** Positions the hand must not use, ascending. */
  readonly barred: readonly HandPosition[];
  /** Beats the hand may stay low in one go; null for as long as it likes. */
  readonly lowStay: number | null;
  /** What must hold at single beats, at most one a beat. */
  readonly pins: readonly Pin[];
  /** Weighs the hand against the music: 1 as usual. */
  readonly comfort: number;
  /** Number of the take; it seeds the draw. */
  readonly seed: number;
  /** 0 is the best line there is, 1 varies as people do. */
  readonly temperature: number;
}

/** Limits of what a study can hold; the restore gate and the controls share them. */
export const studyRange = {
  chartText: { most: 60_000 },
  choruses: { least: 1, most: 16 },
  span: spanRange,
  stringLength: lengthRange,
  seed: { least: 1, most: 999_999 },
  temperature: { least: 0, most: 1 },
  position: { least: 1, most: 24 },
  lowStay: { least: 1, most: 32 },
  comfort: { least: 0, most: 3 },
  pins: { most: 2_000 },
  tempo: tempoRange,
} as const;

/** How a fresh study starts, apart from its chart. */
export const studyDefaults: Omit<Study, 'chartText'> = {
  key: null,
  tempo: null,
  choruses: 1,
  instrument: defaultInstrument.id,
  stringLength: null,
  span: defaultHand.span,
  barred: [],
  lowStay: null,
  pins: [],
  comfort: 1,
  seed: 1,
  temperature: 1,
};

export const newStudy = (chartText: string, wishes: Partial<Study> = {}): Study => ({
  ...studyDefaults,
  ...wishes,
  chartText,
});

const within = (value: number, range: { readonly least: number; readonly most: number }): number =>
  Math.min(range.most, Math.max(range.least, value));

/** The same object when nothing would change, so that an unchanged study is never recorded or solved again. */
function change<Name extends keyof Study>(study: Study, name: Name, value: Study[Name]): Study {
  return Object.is(study[name], value) ? study : { ...study, [name]: value };
}

export const setChartText = (study: Study, text: string): Study =>
  change(study, 'chartText', text.slice(0, studyRange.chartText.most));

export function setKey(study: Study, key: Key | null): Study {
  const same = study.key?.tonic === key?.tonic && study.key?.mode === key?.mode;
  return same ? study : change(study, 'key', key);
}

/** A tempo outside the range is brought to its nearer end; null goes back to the chart's own. */
export const setTempo = (study: Study, tempo: number | null): Study =>
  change(
    study,
    'tempo',
    tempo === null || !Number.isFinite(tempo) ? null : (Math.round(within(tempo, studyRange.tempo)) as Bpm),
  );

export const setChoruses = (study: Study, choruses: number): Study =>
  Number.isFinite(choruses)
    ? change(study, 'choruses', Math.round(within(choruses, studyRange.choruses)))
    : study;

export const setInstrument = (study: Study, id: string): Study =>
  study.instrument === id ? study : { ...study, instrument: id, stringLength: null };

export const setStringLength = (study: Study, length: number | null): Study =>
  change(
    study,
    'stringLength',
    length === null || !Number.isFinite(length)
      ? null
      : (Math.round(within(length, studyRange.stringLength)) as Millimetres),
  );

export const setSpan = (study: Study, span: number): Study =>
  Number.isFinite(span)
    ? change(study, 'span', Math.round(within(span, studyRange.span)) as Millimetres)
    : study;

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

export const setLowStay = (study: Study, beats: number | null): Study =>
  change(
    study,
    'lowStay',
    beats === null || !Number.isFinite(beats) ? null : Math.round(within(beats, studyRange.lowStay)),
  );

export const setComfort = (study: Study, comfort: number): Study =>
  Number.isFinite(comfort) ? change(study, 'comfort', within(comfort, studyRange.comfort)) : study;

type Moment = Pick<LineNote, 'bar' | 'beat'>;

/** The pin at a moment of the line, undefined when there is none. */
export const pinAt = (study: Pick<Study, 'pins'>, { bar, beat }: Moment): Pin | undefined =>
  study.pins.find((pin) => pin.bar === bar && pin.beat === beat);

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

/** Lets go of a wish that stands in the way. */
export function giveUp(study: Study, { source }: WishInConflict): Study {
  if (source.kind === 'pin') return unpin(study, source.pin);
  const { limit, position } = source;
  if (limit === 'stay') return setLowStay(study, null);
  return position === undefined
    ? study
    : setBarred(
        study,
        study.barred.filter((barred) => barred !== position),
      );
}

export const setTake = (study: Study, seed: number): Study =>
  Number.isFinite(seed) ? change(study, 'seed', Math.round(within(seed, studyRange.seed))) : study;

/** The next take; after the last number it starts again at the first. */
export const newTake = (study: Study): Study =>
  setTake(study, study.seed >= studyRange.seed.most ? studyRange.seed.least : study.seed + 1);

export const setTemperature = (study: Study, temperature: number): Study =>
  Number.isFinite(temperature)
    ? change(study, 'temperature', within(temperature, studyRange.temperature))
    : study;
