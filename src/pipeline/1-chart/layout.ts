// Chords laid into a bar: where each begins and how long it lasts, in ticks.
import type { Chord, Meter } from '../../music';
import type { Diagnostics } from './diagnostics';
import { barTicks, beatTicks, beatsInBar, meterText, shareEvenly, shortTicks } from './meter';
import { byPlace, type Measured } from './by-place';
import type { ChordPlace, Places } from './places';
import type { ChartChord, Span } from './types';

const ticksOf = ({ beats, shorts }: ChordPlace, meter: Meter): number =>
  beats * beatTicks(meter) + shorts * shortTicks(meter);

/** Ticks that a bar written beat by beat has asked for. */
const askedTicks = (places: readonly ChordPlace[], meter: Meter): number =>
  places.reduce((sum, place) => sum + ticksOf(place, meter), 0);

/** "F7 // D7 //": slashes that fill the bar by themselves count the beats, and the symbols above them none. */
function bySlashesAlone(places: readonly ChordPlace[], meter: Meter): readonly ChordPlace[] {
  const counted = places.map((place) => ({ ...place, beats: place.beats - place.own }));
  const isMeant =
    askedTicks(places, meter) > barTicks(meter) &&
    askedTicks(counted, meter) === barTicks(meter) &&
    counted.every((place) => ticksOf(place, meter) > 0);
  return isMeant ? counted : places;
}

/** True when slashes and dots give every beat of the bar to a chord, neither more nor fewer. */
export const fillsBar = ({ places }: Places, meter: Meter): boolean =>
  askedTicks(bySlashesAlone(places, meter), meter) === barTicks(meter);

/** Chords that share the bar: in whole beats when there are enough, else in the shortest places there are. */
function shared(places: readonly ChordPlace[], meter: Meter, problems: Diagnostics): readonly Measured[] {
  const beats = beatsInBar(meter);
  const most = barTicks(meter) / shortTicks(meter);
  const values = { count: places.length, beats, meter: meterText(meter), most };
  const surplus = places[most];
  const crowding = places[beats];
  if (surplus !== undefined) problems.add('bar-too-full', surplus.span, values);
  else if (crowding !== undefined) problems.add('bar-crowded', crowding.span, values);
  const kept = places.slice(0, most);
  const units = kept.length > beats ? most : beats;
  const lengths = shareEvenly(units, kept.length);
  const unit = barTicks(meter) / units;
  return kept.map((place, index) => ({ place, ticks: lengths[index]! * unit }));
}

/** Chords with slashes: each as long as it says, the last to the end of the bar. */
function byBeat(
  places: readonly ChordPlace[],
  meter: Meter,
  total: number | undefined,
  problems: Diagnostics,
): readonly Measured[] {
  const beat = beatTicks(meter);
  const room = total ?? Number.MAX_SAFE_INTEGER;
  const measured: Measured[] = [];
  let used = 0;
  for (const place of places) {
    const asked = ticksOf(place, meter);
    const ticks = Math.min(asked, room - used);
    const values = { meter: meterText(meter), beats: beatsInBar(meter) };
    if (ticks <= 0 || asked - ticks >= beat) problems.add('bar-long', place.span, values);
    if (ticks <= 0) break;
    measured.push({ place, ticks });
    used += ticks;
  }
  const last = measured.at(-1);
  if (total !== undefined && last !== undefined && used < total) {
    const onlyHolds = places.every(({ chord }) => chord === undefined);
    if (!onlyHolds) {
      const beats = beatsInBar(meter);
      problems.add('bar-short', last.place.span, { written: used / beat, beats, meter: meterText(meter) });
    }
    measured[measured.length - 1] = { ...last, ticks: last.ticks + total - used };
  }
  return measured;
}

function placed(measured: readonly Measured[], previous: Chord | null): readonly ChartChord[] {
  const chords: ChartChord[] = [];
  let offset = 0;
  for (const { place, ticks } of measured) {
    const last = chords.at(-1);
    if (place.chord === undefined && last !== undefined) {
      chords[chords.length - 1] = { ...last, length: last.length + ticks };
    } else {
      const held = place.chord === undefined;
      chords.push({
        chord: place.chord === undefined ? previous : place.chord,
        offset,
        length: ticks,
        alternates: place.alternates,
        optional: place.optional,
        ...(place.scale === undefined ? {} : { scale: place.scale }),
        span: held ? null : place.span,
      });
    }
    offset += ticks;
  }
  return chords;
}

/** A whole bar of the chord before. */
export const heldChord = (chord: Chord | null, length: number): ChartChord => ({
  chord,
  offset: 0,
  length,
  alternates: [],
  optional: false,
  span: null,
});

/** What a pickup leaves out of its bar when its first chord says where in the bar it stands. */
const skippedTicks = ({ places }: Places, meter: Meter): number =>
  Math.min(Math.round((places[0]?.beat ?? 0) * beatTicks(meter)), barTicks(meter) - 1);

/**
 * The chords of one bar, filling it exactly. A pickup lasts as long as it says, or else as its symbols and slashes do.
 */
export function layOut(
  read: Places,
  meter: Meter,
  pickup: boolean,
  previous: Chord | null,
  problems: Diagnostics,
  pickupTicks?: number,
): readonly ChartChord[] {
  const whole = barTicks(meter);
  const length = pickup ? Math.min(pickupTicks ?? whole - skippedTicks(read, meter), whole) : whole;
  if (read.places.length === 0) return [heldChord(previous, length)];
  if (read.byPlace || length < whole) return placed(byPlace(read, meter, length, problems), previous);
  const isShort = pickup && askedTicks(read.places, meter) < whole;
  if (isShort) return placed(byBeat(read.places, meter, undefined, problems), previous);
  if (read.byBeat) {
    return placed(byBeat(bySlashesAlone(read.places, meter), meter, whole, problems), previous);
  }
  return placed(shared(read.places, meter, problems), previous);
}

/** Chords of another bar as a simile repeats them: cut or drawn out to this length. */
export function repeated(chords: readonly ChartChord[], length: number): readonly ChartChord[] {
  const fitting = chords.filter(({ offset }) => offset < length);
  return fitting.map((chord, index) => ({
    ...chord,
    length: (fitting[index + 1]?.offset ?? length) - chord.offset,
    span: null,
  }));
}

/** From the first of some spans to the last, on the line of the first. */
export function spanOver(spans: readonly Span[]): Span | null {
  const [first] = spans;
  if (first === undefined) return null;
  const last = spans.findLast(({ line }) => line === first.line) ?? first;
  return { ...first, length: last.column + last.length - first.column };
}
