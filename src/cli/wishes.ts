// Pins and shares as they are typed on the command line. Each reader gives the wish, or a sentence on what is wrong.
import { defaultInstrument, parseString, regions, type Instrument, type Region } from '../instrument';
import { midiOf, parseNoteName, pitchClassOf, barNumber, indexOfBar, type SoundingMidi } from '../music';
import type { NightWish } from '../night';
import {
  beatsInBar,
  lineShapes,
  stayPlaces,
  type Pin,
  type ShapeWish,
  type ShareLimit,
  type StayLimit,
  type Timeline,
} from '../pipeline';
import { nightRange } from '../state/night';

const pinPattern = /^(\d{1,9})\.(\d+(?:\.\d+)?)=([A-Ga-g](?:##|#|bb|b)?)?(-?\d)?(?:@(\S+))?$/;

/** What a note is to be, without naming it. */
const rolePattern = /^(\d{1,9})\.(\d+(?:\.\d+)?)=(root|open|stopped)$/;

/** Lowest and highest octave a bass note may be named in. */
const octaves = { least: 0, most: 5 } as const;

function noteWish(letter: string | undefined, octaveText: string | undefined): Partial<Pin> | undefined {
  if (letter === undefined) return octaveText === undefined ? {} : undefined;
  const name = parseNoteName(letter[0]!.toUpperCase() + letter.slice(1));
  if (name === undefined) return undefined;
  if (octaveText === undefined) return { pitchClass: pitchClassOf(name) };
  const octave = Number(octaveText);
  if (octave < octaves.least || octave > octaves.most) return undefined;
  const midi: SoundingMidi = midiOf({ name, octave });
  return { midi };
}

/**
 * `3.1=Bb1@E`, `3.1=Bb`, `3.1=@D`, `3.1=@II`, `3.1=root`, `3.1=open`: bar and beat in playing order, a note, a string by its
 * letter or its numeral, a role.
 */
export function parsePin(text: string, instrument: Instrument = defaultInstrument): Pin | string {
  const match = pinPattern.exec(text.trim());
  const wrong = `--pin takes BAR.BEAT=NOTE@STRING such as 3.1=Bb1@E, 3.1=Bb, 3.1=@D or @II, 3.1=root or 3.1=open, not "${text}"`;
  const role = rolePattern.exec(text.trim());
  if (role)
    return {
      bar: barNumber(Number(role[1])),
      beat: Number(role[2]),
      role: role[3] as 'root' | 'open' | 'stopped',
    };
  if (!match) return wrong;
  const [, bar, beat, letter, octave, name] = match;
  const note = noteWish(letter, octave);
  const string = name === undefined ? undefined : parseString(instrument, name);
  if (!note || (name !== undefined && string === undefined)) return wrong;
  if (letter === undefined && string === undefined) return wrong;
  return {
    bar: barNumber(Number(bar)),
    beat: Number(beat),
    ...note,
    ...(string === undefined ? {} : { string }),
  };
}

const shapesText = lineShapes.join(', ');

/** `climb`: in every section; `B=fall`: in sections called B. */
export function parseShape(text: string): ShapeWish | string {
  const parts = text.split('=');
  const name = parts.length === 1 ? parts[0]! : parts.slice(1).join('=');
  const shape = lineShapes.find((one) => one === name.trim().toLowerCase());
  const section = parts.length === 1 ? null : parts[0]!.trim();
  if (shape && section !== '') return { section, shape };
  return `--shape takes ${shapesText}, with the name of a section before it where it is not for all, such as B=fall, not "${text}"`;
}

/** Longest and shortest stay that may be asked for, in beats. */
const stayBeats = { least: 1, most: 64 } as const;

/** `8`: low for at most eight beats; `middle=8`, or `any=8` for each region by itself. */
export function parseStay(text: string): StayLimit | string {
  const parts = text.split('=');
  const [place, value = ''] = parts.length === 1 ? ['low', parts[0]] : parts;
  const region = stayPlaces.find((name) => name === place.trim().toLowerCase().replaceAll('-', ' '));
  const beats = /^\d+$/.test(value.trim()) ? Number(value) : 0;
  const { least, most } = stayBeats;
  if (region && parts.length <= 2 && beats >= least && beats <= most) return { region, beats };
  return `--stay takes beats from ${least} to ${most}, with ${stayPlaces.join(', ')} before them where it is not the low region, such as any=8, not "${text}"`;
}

/** What is said of pins that no bar or beat of the form can keep. */
export function pinsOutside(pins: readonly Pin[], { bars }: Timeline): readonly string[] {
  return pins.flatMap(({ bar, beat }) => {
    const there = bars[indexOfBar(bar)];
    const name = `--pin ${bar}.${beat} is not kept`;
    if (there === undefined) {
      const count = bars.length === 1 ? '1 bar' : `${bars.length} bars`;
      return [`${name}: the form has ${count} in playing order`];
    }
    const beats = beatsInBar(there.meter);
    return beat >= 1 && beat < beats + 1 ? [] : [`${name}: bar ${bar} has ${beats} beats`];
  });
}

const regionOfName = (name: string): Region | undefined =>
  regions.find((region) => region === name.trim().toLowerCase().replaceAll('-', ' '));

/** `low=0.1`: at most a tenth of the beats in the low region. */
export function parseShare(text: string): ShareLimit | string {
  const [name = '', value = '', ...more] = text.split('=');
  const region = regionOfName(name);
  const share = Number(value);
  const isShare = value.trim() !== '' && share >= 0 && share <= 1 && more.length === 0;
  if (region && isShare) return { region, share };
  return `--region-share takes ${regions.join(', ')} with a share from 0 to 1, such as low=0.1, not "${text}"`;
}

/** `low=5`: at most (or least) so many minutes in the low region of the whole night. */
export function parseNightMinutes(kind: 'most' | 'least', text: string): NightWish | string {
  const [name = '', value = '', ...more] = text.split('=');
  const region = regionOfName(name);
  const minutes = Number(value);
  const isTime =
    value.trim() !== '' && minutes >= 0 && minutes <= nightRange.minutes.most && more.length === 0;
  if (region && isTime) return { kind, region, minutes };
  return `--${kind} takes ${regions.join(', ')} with minutes from 0 to ${nightRange.minutes.most}, such as low=5, not "${text}"`;
}
