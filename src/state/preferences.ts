// What a person likes on this device, apart from any study: theme, levels, ways of practising. The last writer wins.
import * as v from 'valibot';
import { positionNamings, stringNamings, type PositionNaming, type StringNaming } from '../instrument';
import { noteNamings, type NoteNaming } from '../music';
import { amounts, bassSounds, clickPlaces, parts } from '../playback';
import type { Amount, BassSound, ClickPlace, Mix, Part, PartMix } from '../playback';
import { climbRange, type Climb } from './practice';

export const themes = ['day', 'stage'] as const;
export type Theme = (typeof themes)[number];

export const passWishes = ['same take', 'new take', 'next key'] as const;
/** What each time round brings. */
export type PassWish = (typeof passWishes)[number];

export const papers = ['A4', 'Letter'] as const;
export type Paper = (typeof papers)[number];
/** Choruses on paper at most. */
export const mostPrinted = 4;

export const printSheets = ['line', 'worksheet'] as const;
/** The line as it is, or with gaps to write in and its answers on a page of their own. */
export type PrintSheet = (typeof printSheets)[number];

/** What goes on paper. */
export interface PrintWish {
  readonly paper: Paper;
  /** The first so many choruses, as far as the line has them. */
  readonly choruses: number;
  readonly withReport: boolean;
  readonly withMaps: boolean;
  readonly sheet: PrintSheet;
  /** Large music and larger digits, nothing grey. */
  readonly isLarge: boolean;
  /** One chorus with its repeats and endings, each bar as it is played first, in place of all that is played. */
  readonly asWritten: boolean;
}

export interface Preferences {
  /** Null follows the device. */
  readonly theme: Theme | null;
  readonly mix: Mix;
  readonly countInBars: 0 | 1 | 2;
  /** First of two eighths over the second; null lets the tempo decide. */
  readonly swing: number | null;
  readonly eachPass: PassWish;
  readonly climb: Climb;
  /** The bass rests every other time round. */
  readonly yourTurn: boolean;
  /** The one part that is heard, null for all that are on. */
  readonly solo: Part | null;
  readonly click: ClickPlace;
  /** How much drums and chords put in. */
  readonly amount: Amount;
  readonly bassSound: BassSound;
  /** Slight differences from hit to hit. */
  readonly isLoose: boolean;
  /** Parts lean ahead of the beat or behind it. */
  readonly leans: boolean;
  /** Parts are heard from left to right, in a small room. */
  readonly isWide: boolean;
  readonly hasRoom: boolean;
  /** Milliseconds that the sound reaches the ear later than the device tells. */
  readonly outputDelay: number;
  readonly showRoles: boolean;
  /** Approaches and devices are bracketed and named on staff, paper and in MusicXML. */
  readonly showDevices: boolean;
  /** The signs on the staff have been told. */
  readonly knowsSigns: boolean;
  /** The fingerboard under the line. */
  readonly showBoard: boolean;
  readonly leftHanded: boolean;
  /** How positions are named on the page. */
  readonly positionNaming: PositionNaming;
  /** How strings are called on the page. */
  readonly stringNaming: StringNaming;
  /** How notes are called on the page; files and chart text stay in English. */
  readonly noteNaming: NoteNaming;
  readonly print: PrintWish;
  /** A gentle word after 25 minutes of playing. */
  readonly breakReminder: boolean;
  /** What was last given to be fingered both ways, which reads it by itself; the name stands in stored preferences. */
  readonly bench: Readonly<Record<string, unknown>>;
}

export const swingRange = { least: 1, most: 4 } as const;
/** Milliseconds; wireless headphones take up to about a third of a second (from memory). */
export const delayRange = { least: -200, most: 500 } as const;

const usual: PartMix = { on: true, level: 0.8 };

export const defaultPreferences: Preferences = {
  theme: null,
  mix: {
    bass: usual,
    cymbal: { on: true, level: 0.6 },
    'hi-hat': { on: true, level: 0.6 },
    drums: { on: true, level: 0.6 },
    chords: { on: true, level: 0.5 },
    click: { on: false, level: 0.6 },
  },
  countInBars: 1,
  swing: null,
  eachPass: 'same take',
  climb: { isOn: false, from: 80, to: 160, by: 4, every: 1 },
  yourTurn: false,
  solo: null,
  click: '2 and 4',
  amount: 'as usual',
  bassSound: 'upright',
  isLoose: true,
  leans: true,
  isWide: true,
  hasRoom: true,
  outputDelay: 0,
  showRoles: false,
  showDevices: false,
  knowsSigns: false,
  showBoard: true,
  leftHanded: false,
  positionNaming: 'numeral',
  stringNaming: 'letters',
  noteNaming: 'English',
  print: {
    paper: 'A4',
    choruses: mostPrinted,
    withReport: false,
    withMaps: false,
    sheet: 'line',
    isLarge: false,
    asWritten: false,
  },
  breakReminder: true,
  bench: {},
};

const between = (range: Readonly<Record<'least' | 'most', number>>): v.GenericSchema<number> =>
  v.pipe(v.number(), v.minValue(range.least), v.maxValue(range.most));
const part = (standard: PartMix): v.GenericSchema<PartMix> =>
  v.fallback(v.object({ on: v.boolean(), level: between({ least: 0, most: 1 }) }), standard);
const { mix, climb } = defaultPreferences;

const schema = v.object({
  theme: v.fallback(v.nullable(v.picklist(themes)), defaultPreferences.theme),
  mix: v.fallback(
    v.object({
      bass: part(mix.bass),
      cymbal: part(mix.cymbal),
      'hi-hat': part(mix['hi-hat']),
      drums: part(mix.drums),
      chords: part(mix.chords),
      click: part(mix.click),
    }),
    mix,
  ),
  countInBars: v.fallback(v.picklist([0, 1, 2]), defaultPreferences.countInBars),
  swing: v.fallback(v.nullable(between(swingRange)), defaultPreferences.swing),
  eachPass: v.fallback(v.picklist(passWishes), defaultPreferences.eachPass),
  climb: v.fallback(
    v.object({
      isOn: v.boolean(),
      from: between(climbRange.tempo),
      to: between(climbRange.tempo),
      by: between(climbRange.by),
      every: v.pipe(between(climbRange.every), v.integer()),
    }),
    climb,
  ),
  yourTurn: v.fallback(v.boolean(), defaultPreferences.yourTurn),
  solo: v.fallback(v.nullable(v.picklist(parts)), defaultPreferences.solo),
  click: v.fallback(v.picklist(clickPlaces), defaultPreferences.click),
  amount: v.fallback(v.picklist(amounts), defaultPreferences.amount),
  bassSound: v.fallback(v.picklist(bassSounds), defaultPreferences.bassSound),
  isLoose: v.fallback(v.boolean(), defaultPreferences.isLoose),
  leans: v.fallback(v.boolean(), defaultPreferences.leans),
  isWide: v.fallback(v.boolean(), defaultPreferences.isWide),
  hasRoom: v.fallback(v.boolean(), defaultPreferences.hasRoom),
  outputDelay: v.fallback(between(delayRange), defaultPreferences.outputDelay),
  showRoles: v.fallback(v.boolean(), defaultPreferences.showRoles),
  showDevices: v.fallback(v.boolean(), defaultPreferences.showDevices),
  knowsSigns: v.fallback(v.boolean(), defaultPreferences.knowsSigns),
  showBoard: v.fallback(v.boolean(), defaultPreferences.showBoard),
  leftHanded: v.fallback(v.boolean(), defaultPreferences.leftHanded),
  positionNaming: v.fallback(v.picklist(positionNamings), defaultPreferences.positionNaming),
  stringNaming: v.fallback(v.picklist(stringNamings), defaultPreferences.stringNaming),
  noteNaming: v.fallback(v.picklist(noteNamings), defaultPreferences.noteNaming),
  print: v.fallback(
    v.object({
      paper: v.picklist(papers),
      choruses: v.pipe(between({ least: 1, most: mostPrinted }), v.integer()),
      withReport: v.boolean(),
      withMaps: v.boolean(),
      // Kept since later than the rest.
      sheet: v.fallback(v.picklist(printSheets), 'line'),
      isLarge: v.fallback(v.boolean(), false),
      asWritten: v.fallback(v.boolean(), false),
    }),
    defaultPreferences.print,
  ),
  breakReminder: v.fallback(v.boolean(), defaultPreferences.breakReminder),
  bench: v.fallback(v.record(v.string(), v.unknown()), defaultPreferences.bench),
});

/** The part of the browser's storage that is needed. */
export type TextStorage = Pick<Storage, 'getItem' | 'setItem'>;

/** Where preferences lie; static/theme.js reads the theme from here before the first paint. */
export const preferencesKey = 'ramble.preferences';

/** Preferences read back; anything missing or wrong is at its default. Storage that refuses gives the defaults. */
export function loadPreferences(storage: TextStorage | null): Preferences {
  try {
    const result = v.safeParse(schema, JSON.parse(storage?.getItem(preferencesKey) ?? '{}'));
    return result.success ? result.output : defaultPreferences;
  } catch {
    return defaultPreferences;
  }
}

/** Whether preferences were ever written and can be read. */
export function isStored(storage: TextStorage | null): boolean {
  try {
    return typeof storage?.getItem(preferencesKey) === 'string';
  } catch {
    return false;
  }
}

/** Writes preferences; false when the browser refuses, which does no harm. */
export function savePreferences(storage: TextStorage | null, preferences: Preferences): boolean {
  try {
    storage?.setItem(preferencesKey, JSON.stringify(preferences));
    return storage !== null;
  } catch {
    return false;
  }
}
