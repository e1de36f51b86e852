// The plain settings of a study, one row each. What a study holds, how it starts, what is read back, how far a value goes,
// the verb that changes it, what the computation is asked and the option of the command line all come from these rows.
import { tempoRange, type Bpm, type Millimetres, type SoundingMidi } from '../music';
import { defaultHand, lengthRange, spanRange } from '../instrument';
import { feels } from './1-chart';
import { endings } from './2-timeline';
import { stayPlaces } from './3-candidates';

/** Where the value goes in a request, under the setting's own name. `none`: whoever reads it makes something else of it. */
type RequestPart = 'request' | 'limits' | 'wishes' | 'none';

interface Row {
  readonly part: RequestPart;
  /** Another value makes another line: notes that were shown are let go of, but for bars that are held. */
  readonly makesAnother: boolean;
  /** It holds the hand back: "lift all limits" gives it its usual value, and what is in force names it. */
  readonly isLimit?: true;
  /** It says how a lesson is played, not what is asked of it: the lesson is made again and stays on the sheet. */
  readonly isBesideLesson?: true;
  /** It was in the first version of studies: a study without it is damaged. Left out, a missing value is the usual one. */
  readonly isFirst?: true;
}

export interface NumberRow extends Row {
  readonly kind: 'number';
  /** Null where nothing need be said; then null may be chosen. */
  readonly usual: number | null;
  readonly least: number;
  readonly most: number;
  /** What is chosen is rounded. `chosen`: a fraction that a study holds is read as it stands. */
  readonly isWhole?: true | 'chosen';
}

export interface FlagRow extends Row {
  readonly kind: 'flag';
  readonly usual: boolean;
}

export interface ChoiceRow<Option extends string, Usual extends Option | null> extends Row {
  readonly kind: 'choice';
  readonly options: readonly Option[];
  /** Null may be chosen where it is the usual value: the chart's own. */
  readonly usual: Usual;
}

export type PlainRow = NumberRow | FlagRow | ChoiceRow<string, string | null>;

const wish = (least: -1 | 0): NumberRow & { readonly usual: number } => ({
  kind: 'number',
  usual: 0,
  least,
  most: 1,
  part: 'wishes',
  makesAnother: true,
});

/** A whole number that the hand must keep to; none as usual. */
const limit = { kind: 'number', isWhole: true, part: 'limits', makesAnother: false, isLimit: true } as const;
/** Pitches that a bass may have, as sounding MIDI numbers. */
const pitches = { least: 16, most: 84 } as const;

/** Names must not change: they stand in saved studies and links. Nor must usual values of rows without `isFirst`. */
export const plainSettings = {
  choruses: {
    kind: 'number',
    usual: 1,
    least: 1,
    most: 16,
    isWhole: true,
    part: 'request',
    makesAnother: false,
    isBesideLesson: true,
    isFirst: true,
  },
  /** Weighs the hand against the music: 1 as usual. */
  comfort: {
    kind: 'number',
    usual: 1,
    least: 0,
    most: 3,
    part: 'request',
    makesAnother: true,
    isBesideLesson: true,
  },
  /** 0 is the best line there is, 1 varies as people do. */
  temperature: {
    kind: 'number',
    usual: 1,
    least: 0,
    most: 1,
    part: 'none',
    makesAnother: true,
    isFirst: true,
  },
  /** Skips, drops, triplets, anticipations: 0 for those that the feel has by itself, 1 for the most. */
  density: { kind: 'number', usual: 0, least: 0, most: 1, part: 'request', makesAnother: true },
  /** Plain to bold, steps to leaps, inside to outside; 0 is as people play. */
  bold: wish(-1),
  leaps: wish(-1),
  outside: wish(-1),
  /** What the last of several choruses has more than the first. */
  build: wish(0),
  /** Null for the chart's own. */
  tempo: {
    kind: 'number',
    usual: null as Bpm | null,
    ...tempoRange,
    isWhole: 'chosen',
    part: 'request',
    makesAnother: false,
    isBesideLesson: true,
    isFirst: true,
  },
  /** Vibrating length of the strings; null for the usual one of the bass. */
  stringLength: {
    kind: 'number',
    usual: null as Millimetres | null,
    ...lengthRange,
    isWhole: 'chosen',
    part: 'none',
    makesAnother: false,
    isBesideLesson: true,
    isFirst: true,
  },
  /** Index to little finger, flat on a table. */
  span: {
    kind: 'number',
    usual: defaultHand.span,
    ...spanRange,
    isWhole: 'chosen',
    part: 'none',
    makesAnother: false,
    isBesideLesson: true,
    isFirst: true,
  },
  /** Null for the chart's own. */
  feel: { kind: 'choice', options: feels, usual: null, part: 'request', makesAnother: true },
  ending: { kind: 'choice', options: endings, usual: 'round', part: 'request', makesAnother: false },
  /** Beats the hand may stay in one region in one go. */
  lowStay: { ...limit, part: 'none', usual: null as number | null, least: 1, most: 32, isBesideLesson: true },
  /** In which region that longest stay counts, or in any one of them. */
  stayIn: {
    kind: 'choice',
    options: stayPlaces,
    usual: 'low',
    part: 'none',
    makesAnother: false,
    isBesideLesson: true,
  },
  /** The least share of the stopped time in each region up to the neck block. */
  spread: {
    kind: 'number',
    usual: 0,
    least: 0,
    most: 0.3,
    part: 'limits',
    makesAnother: false,
    isLimit: true,
  },
  lowest: { ...limit, usual: null as SoundingMidi | null, ...pitches, isBesideLesson: true },
  highest: { ...limit, usual: null as SoundingMidi | null, ...pitches, isBesideLesson: true },
  /** Semitones up a string; null for as far as walking lines go. */
  highestStop: { ...limit, usual: null as number | null, least: 1, most: 24, isBesideLesson: true },
  /** Only what the hand holds without a stretch. */
  relaxedOnly: {
    kind: 'flag',
    usual: false,
    part: 'limits',
    makesAnother: false,
    isLimit: true,
    isBesideLesson: true,
  },
} as const satisfies Readonly<Record<string, PlainRow>>;

type Rows = typeof plainSettings;
export type PlainName = keyof Rows;

/** A number has the unit of its usual value, and may be null where that is; a bare one has none. */
type NumberOf<Usual> = [Usual] extends [Millimetres] ? Usual : null extends Usual ? Usual : number;

type ValueOf<R> = R extends { readonly kind: 'number'; readonly usual: infer U }
  ? NumberOf<U>
  : R extends { readonly kind: 'flag' }
    ? boolean
    : R extends {
          readonly kind: 'choice';
          readonly options: readonly (infer Option)[];
          readonly usual: infer U;
        }
      ? Option | (U extends null ? null : never)
      : never;

/** The plain settings of a study, by name. */
export type PlainSettings = { readonly [Name in PlainName]: ValueOf<Rows[Name]> };

type BareOf<Value> = Value extends number ? number : Value;

/** What may be asked for as the value of a setting: of a number, any. */
export type PlainInput<Name extends PlainName> = PlainSettings[Name] | BareOf<PlainSettings[Name]>;

export const plainNames = Object.keys(plainSettings) as PlainName[];

/** The rows, whatever their kind. */
export const plainRows: Readonly<Record<PlainName, PlainRow>> = plainSettings;

/** How a fresh study has them. */
export const plainDefaults = Object.fromEntries(
  plainNames.map((name) => [name, plainRows[name].usual]),
) as PlainSettings;

/** Names of those that a stored study may lack. */
export const optionalPlainNames: readonly PlainName[] = plainNames.filter((name) => !plainRows[name].isFirst);

export type PlainLimit = {
  readonly [Name in PlainName]: Rows[Name] extends { readonly isLimit: true } ? Name : never;
}[PlainName];

/** Names of the limits among them. */
export const plainLimits = plainNames.filter((name): name is PlainLimit => plainRows[name].isLimit === true);

/** The limits among them at their usual values: none is in force. */
export const liftedLimits = Object.fromEntries(
  plainLimits.map((name) => [name, plainDefaults[name]]),
) as Pick<PlainSettings, PlainLimit>;

/** The nearest value that a study can hold; undefined for what is none at all. */
export function plainValue<Name extends PlainName>(
  name: Name,
  value: PlainInput<Name>,
): PlainSettings[Name] | undefined {
  const row = plainRows[name];
  if (row.kind !== 'number') return value as PlainSettings[Name];
  const isOpen = row.usual === null;
  if (isOpen && value === null) return null as PlainSettings[Name];
  const number = Number(value);
  if (!Number.isFinite(number)) return isOpen ? (null as PlainSettings[Name]) : undefined;
  const near = Math.min(row.most, Math.max(row.least, number));
  return (row.isWhole ? Math.round(near) : near) as PlainSettings[Name];
}

type PartOf<Part extends RequestPart> = {
  readonly [Name in PlainName as Rows[Name]['part'] extends Part ? Name : never]: PlainSettings[Name];
};

type Said<Values> = { readonly [Name in keyof Values]?: NonNullable<Values[Name]> };

/** The settings that go into one part of a request; of limits and wishes only those that ask for something. */
export function plainPart(study: PlainSettings, part: 'request'): PartOf<'request'>;
export function plainPart<Part extends 'limits' | 'wishes'>(
  study: PlainSettings,
  part: Part,
): Said<PartOf<Part>>;
export function plainPart(study: PlainSettings, part: RequestPart): Partial<PlainSettings> {
  const names = plainNames.filter(
    (name) => plainRows[name].part === part && (part === 'request' || study[name] !== plainRows[name].usual),
  );
  return Object.fromEntries(names.map((name) => [name, study[name]]));
}
