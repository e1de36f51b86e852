// What a person likes on this device, apart from any study: theme, levels, ways of practising. The last writer wins.
import * as v from 'valibot';
import type { Mix, PartMix } from '../playback';

export const themes = ['day', 'stage'] as const;
export type Theme = (typeof themes)[number];

export const passWishes = ['same take', 'new take'] as const;
/** What each time round brings. */
export type PassWish = (typeof passWishes)[number];

export interface Preferences {
  /** Null follows the device. */
  readonly theme: Theme | null;
  readonly mix: Mix;
  readonly countInBars: 0 | 1 | 2;
  /** First of two eighths over the second; null lets the tempo decide. */
  readonly swing: number | null;
  readonly eachPass: PassWish;
  /** Quarter notes a minute added each time round; 0 keeps the tempo. */
  readonly speedUp: number;
  readonly showRoles: boolean;
  readonly leftHanded: boolean;
  /** A gentle word after 25 minutes of playing. */
  readonly breakReminder: boolean;
}

export const swingRange = { least: 1, most: 4 } as const;
export const speedUpRange = { least: 0, most: 20 } as const;

const usual: PartMix = { on: true, level: 0.8 };

export const defaultPreferences: Preferences = {
  theme: null,
  mix: {
    bass: usual,
    cymbal: { on: true, level: 0.6 },
    'hi-hat': { on: true, level: 0.6 },
    chords: { on: true, level: 0.5 },
    click: { on: false, level: 0.6 },
  },
  countInBars: 1,
  swing: null,
  eachPass: 'same take',
  speedUp: 0,
  showRoles: false,
  leftHanded: false,
  breakReminder: true,
};

const between = (range: Readonly<Record<'least' | 'most', number>>): v.GenericSchema<number> =>
  v.pipe(v.number(), v.minValue(range.least), v.maxValue(range.most));
const part = (standard: PartMix): v.GenericSchema<PartMix> =>
  v.fallback(v.object({ on: v.boolean(), level: between({ least: 0, most: 1 }) }), standard);
const { mix } = defaultPreferences;

const schema = v.object({
  theme: v.fallback(v.nullable(v.picklist(themes)), defaultPreferences.theme),
  mix: v.fallback(
    v.object({
      bass: part(mix.bass),
      cymbal: part(mix.cymbal),
      'hi-hat': part(mix['hi-hat']),
      chords: part(mix.chords),
      click: part(mix.click),
    }),
    mix,
  ),
  countInBars: v.fallback(v.picklist([0, 1, 2]), defaultPreferences.countInBars),
  swing: v.fallback(v.nullable(between(swingRange)), defaultPreferences.swing),
  eachPass: v.fallback(v.picklist(passWishes), defaultPreferences.eachPass),
  speedUp: v.fallback(between(speedUpRange), defaultPreferences.speedUp),
  showRoles: v.fallback(v.boolean(), defaultPreferences.showRoles),
  leftHanded: v.fallback(v.boolean(), defaultPreferences.leftHanded),
  breakReminder: v.fallback(v.boolean(), defaultPreferences.breakReminder),
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

/** Writes preferences; false when the browser refuses, which does no harm. */
export function savePreferences(storage: TextStorage | null, preferences: Preferences): boolean {
  try {
    storage?.setItem(preferencesKey, JSON.stringify(preferences));
    return storage !== null;
  } catch {
    return false;
  }
}
