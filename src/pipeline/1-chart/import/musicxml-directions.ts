// Signs and words above the staff: sections, jumps, codas, tempo, feel.
import type { Feel } from '../types';
import { isSectionName } from '../words';
import { feelOfWords } from '../feel-words';
import { applySign, isNoChord, longestSign, signOfWords } from './signs';
import { scaleInWords, type SketchBar } from './sketch';
import { childNamed, childrenNamed, numberOf, type XmlNode } from './xml';

/** What the directions of a part say about the whole; the first of each counts. */
export interface Heading {
  tempo: { readonly asked: number; readonly node: XmlNode } | null;
  feel: Feel | null;
  isStraight: boolean;
}

/** Jumps that only the sound names, without words that say where they end. */
export type OpenJumps = Map<SketchBar, 'D.C.' | 'D.S.'>;

function readWords(text: string, bar: SketchBar, tick: number, heading: Heading): void {
  if (text.length > longestSign) return;
  const scale = scaleInWords(text);
  const sign = signOfWords(text);
  if (scale !== undefined) bar.scales.push({ tick, text: scale });
  else if (sign) applySign(sign, bar, tick);
  else if (isNoChord(text)) {
    bar.chords.push({ tick, chord: null, isAlternate: false, optional: false, span: bar.span });
  } else if (isSectionName(text)) bar.section ??= text;
  else heading.feel ??= feelOfWords(text) ?? null;
}

/** Quarter notes a minute of a metronome mark; undefined when it relates two notes or names no number. */
function metronomeTempo(node: XmlNode): number | undefined {
  const quarters: Readonly<Record<string, number>> = {
    whole: 4,
    half: 2,
    quarter: 1,
    eighth: 0.5,
    '16th': 0.25,
  };
  const [unit, ...others] = childrenNamed(node, 'beat-unit');
  const text = childNamed(node, 'per-minute')?.text;
  const perMinute = text === undefined ? NaN : Number(/\d+(\.\d+)?/.exec(text)?.[0]);
  const length = unit && quarters[unit.text];
  if (length === undefined || others.length > 0 || !Number.isFinite(perMinute)) return undefined;
  return perMinute * length * (childNamed(node, 'beat-unit-dot') ? 1.5 : 1);
}

/** Takes in the attributes of a <sound>. */
export function readSound(
  sound: XmlNode,
  bar: SketchBar,
  tick: number,
  heading: Heading,
  open: OpenJumps,
): void {
  const { attributes } = sound;
  const tempo = Number(attributes['tempo']);
  if (tempo > 0) heading.tempo ??= { asked: tempo, node: sound };
  if (attributes['segno'] !== undefined) bar.segno = true;
  if (attributes['coda'] !== undefined) bar.coda ??= tick;
  if (attributes['tocoda'] !== undefined) bar.toCoda = true;
  if (attributes['fine'] !== undefined && attributes['fine'] !== 'no') bar.fine = true;
  if (attributes['dacapo'] === 'yes' && bar.jump === null) open.set(bar, 'D.C.');
  if (attributes['dalsegno'] !== undefined && bar.jump === null) open.set(bar, 'D.S.');
  const swing = childNamed(sound, 'swing');
  if (swing && childNamed(swing, 'straight')) heading.isStraight = true;
}

/** Takes in a <direction> at a tick of a bar. */
export function readDirection(
  node: XmlNode,
  bar: SketchBar,
  tick: number,
  heading: Heading,
  open: OpenJumps,
): void {
  const sound = childNamed(node, 'sound');
  const isWayOut = sound?.attributes['tocoda'] !== undefined;
  const types = childrenNamed(node, 'direction-type').flatMap(({ children }) => children);
  // A text may be set in several pieces of different fonts.
  const words = types.filter(({ name }) => name === 'words').map(({ text }) => text);
  if (words.length > 0) readWords(words.join(' '), bar, tick, heading);
  for (const type of types) {
    if (type.name === 'rehearsal') bar.section ??= type.text.slice(0, longestSign);
    else if (type.name === 'segno') bar.segno = true;
    else if (type.name === 'coda' && !isWayOut && !bar.toCoda) bar.coda ??= tick;
    else if (type.name === 'metronome') {
      const asked = metronomeTempo(type);
      if (asked !== undefined) heading.tempo ??= { asked, node: type };
    }
  }
  if (sound) readSound(sound, bar, tick, heading, open);
}

/** A jump without words ends where the piece has an end for it. */
export function settleOpenJumps(open: OpenJumps, bars: readonly SketchBar[]): void {
  const codas = bars.filter(({ coda }) => coda !== null).length;
  const end =
    bars.some(({ toCoda }) => toCoda) || codas > 1
      ? ' al Coda'
      : bars.some(({ fine }) => fine)
        ? ' al Fine'
        : '';
  for (const [bar, jump] of open) bar.jump ??= `${jump}${end}`;
}

export const headingOf = (): Heading => ({ tempo: null, feel: null, isStraight: false });
export const offsetOf = (node: XmlNode): number => numberOf(node, 'offset') ?? 0;
