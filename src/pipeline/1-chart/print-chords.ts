// The chords of a bar back to text: shared evenly, by slashes and dots, or at places of their own, whichever says it shortest.
import type { Chord } from '../../music';
import { beatsText, placeText } from './beat-places';
import { barTicks, beatTicks, beatsInBar, shareEvenly, shortTicks } from './meter';
import type { ChartBar, ChartChord } from './types';

const symbolText = (chord: Chord | null): string => chord?.symbol ?? 'N.C.';

/** @param place what stands right behind the symbol */
function chordText({ chord, optional, scale, alternates }: ChartChord, place = ''): string {
  const symbol = optional && chord !== null ? `(${chord.symbol})` : symbolText(chord);
  const main = `${symbol}${place}${scale === undefined ? '' : `{${scale}}`}`;
  return [main, ...alternates.map(symbolText)].join(';');
}

/** A chord and the slashes after it; a dot makes what it follows short. */
function withSlashes(chord: ChartChord, beat: number, short: number): string {
  const beats = Math.floor(chord.length / beat);
  const shorts = (chord.length - beats * beat) / short;
  const slashes = [
    ...Array.from({ length: Math.max(beats - 1, 0) }, () => '/'),
    ...Array.from({ length: beats === 0 ? shorts - 1 : shorts }, () => '/.'),
  ];
  return [chordText(chord), ...(beats === 0 ? ['.'] : []), ...slashes].join(' ');
}

export const lengthOfBar = ({ chords }: ChartBar): number =>
  chords.reduce((sum, { length }) => sum + length, 0);

/** True when beats and dots can say how long every chord lasts. */
const isOnGrid = ({ chords, meter }: ChartBar): boolean =>
  chords.every(({ length }) => Number.isInteger((length % beatTicks(meter)) / shortTicks(meter)));

function sharesEvenly({ chords, meter }: ChartBar): boolean {
  const beats = beatsInBar(meter);
  const units = chords.length > beats ? barTicks(meter) / shortTicks(meter) : beats;
  const even = shareEvenly(units, chords.length).map((unit) => (unit * barTicks(meter)) / units);
  return chords.every((chord, index) => chord.length === even[index]);
}

function atPlaces(bar: ChartBar): string {
  const missing = barTicks(bar.meter) - lengthOfBar(bar);
  const placeOf = ({ offset }: ChartChord): string =>
    offset === 0 ? '' : `@${placeText(offset + missing, bar.meter)}`;
  return bar.chords.map((chord) => chordText(chord, placeOf(chord))).join(' ');
}

export function chordsText(bar: ChartBar): string {
  const { meter, pickup, chords } = bar;
  if (!pickup && sharesEvenly(bar)) return chords.map((chord) => chordText(chord)).join(' ');
  if (!isOnGrid(bar)) return atPlaces(bar);
  const beat = beatTicks(meter);
  return chords.map((chord) => withSlashes(chord, beat, shortTicks(meter))).join(' ');
}

/** What makes the first bar a pickup; its length only where its chords and slashes do not say it. */
export const pickupText = (bar: ChartBar): string =>
  isOnGrid(bar) ? '{pickup}' : `{pickup ${beatsText(lengthOfBar(bar), bar.meter)}}`;
