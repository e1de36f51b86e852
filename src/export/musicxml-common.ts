// The parts of a MusicXML score that a line and a chart have in common.
import type { Bpm, Key, Meter } from '../music';
import { writeXml, tag, tagWith, type XmlElement } from './xml';

/** Divisions of a quarter note: the program's own ticks, so every duration is written as it is. */
export { ticksPerQuarter as divisions } from '../music';

const doctype =
  '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">';

/** General MIDI acoustic bass, counted from 1 as MusicXML does. */
const midiProgram = '33';

/** A whole document with one part; `fields` are for our own reader. It holds no date, so the same music always gives the same bytes. */
export function scoreDocument(
  title: string,
  partName: string,
  measures: readonly XmlElement[],
  fields: Readonly<Record<string, string>> = {},
): string {
  const miscellaneous = Object.entries(fields).map(([name, text]) =>
    tagWith('miscellaneous-field', { name }, text),
  );
  const score = tagWith(
    'score-partwise',
    { version: '4.0' },
    tag('work', tag('work-title', title)),
    tag(
      'identification',
      tag('encoding', tag('software', 'Ramble')),
      ...(miscellaneous.length === 0 ? [] : [tag('miscellaneous', ...miscellaneous)]),
    ),
    tag(
      'part-list',
      tagWith(
        'score-part',
        { id: 'P1' },
        tag('part-name', partName),
        tagWith('score-instrument', { id: 'P1-I1' }, tag('instrument-name', partName)),
        tagWith(
          'midi-instrument',
          { id: 'P1-I1' },
          tag('midi-channel', '1'),
          tag('midi-program', midiProgram),
        ),
      ),
    ),
    tagWith('part', { id: 'P1' }, ...measures),
  );
  return writeXml(score, doctype);
}

export const keyElement = (key: Key): XmlElement =>
  tag('key', tag('fifths', String(key.fifths)), tag('mode', key.church ?? key.mode));

export const timeElement = (meter: Meter): XmlElement =>
  tag('time', tag('beats', String(meter.beats)), tag('beat-type', String(meter.unit)));

/** A plain F clef; the octave lies in <transpose> alone. */
export const bassClef = tag('clef', tag('sign', 'F'), tag('line', '4'));

/** Sounds an octave below the page. */
export const octaveTranspose = tag('transpose', tag('chromatic', '0'), tag('octave-change', '-1'));

/** A direction above the staff. */
export const above = (...children: readonly XmlElement[]): XmlElement =>
  tagWith('direction', { placement: 'above' }, ...children);

export const wordsType = (text: string): XmlElement => tag('direction-type', tag('words', text));

/** A line over several notes, with words at its start. */
export const bracketStart = (text: string): XmlElement =>
  above(
    tag('direction-type', tag('words', text)),
    tag('direction-type', tagWith('bracket', { type: 'start', number: '1', 'line-end': 'down' })),
  );
export const bracketStop: XmlElement = above(
  tag('direction-type', tagWith('bracket', { type: 'stop', number: '1', 'line-end': 'down' })),
);

export const rehearsalDirection = (label: string): XmlElement =>
  above(tag('direction-type', tag('rehearsal', label)));

const tempoText = (tempo: Bpm): string => String(Math.round(tempo * 1000) / 1000);

export const metronomeType = (tempo: Bpm): XmlElement =>
  tag('direction-type', tag('metronome', tag('beat-unit', 'quarter'), tag('per-minute', tempoText(tempo))));

/** What a player program needs: quarter notes a minute and, where it is known, the swing. */
export const soundElement = (tempo: Bpm, ...children: readonly XmlElement[]): XmlElement =>
  tagWith('sound', { tempo: tempoText(tempo) }, ...children);

export const barStyle = (style: 'light-light' | 'light-heavy'): XmlElement => tag('bar-style', style);
