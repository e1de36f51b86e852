// The deck and its answers.
import { describe, expect, it } from 'vitest';
import { devicesOf, deviceOf, isChordNote, degreeIn, type DeviceId } from '../../../src/pipeline';
import { noteName } from '../../../src/music';
import { answersOf, cardId, chordOfCard, deck, type Card } from '../../../src/state/lessons';
import { played, timelineOf } from '../../pipeline/5-line/devices/made';

const card = (device: DeviceId, into: Card['into'], root: string): Card => ({
  device,
  into,
  root: noteName(root),
});
const namesOf = (of: Card): string[] => answersOf(of).map((notes) => notes.map(({ name }) => name).join(' '));

describe('the deck', () => {
  it('has every card once, on twelve roots each', () => {
    expect(new Set(deck.map(cardId)).size).toBe(deck.length);
    expect(deck.length % 12).toBe(0);
    for (let from = 0; from < deck.length; from += 12)
      expect(new Set(deck.slice(from, from + 12).map(({ root }) => root)).size).toBe(12);
  });

  it.each([
    [card('semitone below', 'root', 'F'), ['E F']],
    [card('semitone above', 'fifth', 'C'), ['Ab G']],
    [card('double chromatic below', 'root', 'C'), ['Bb B C']],
    [card('from the fifth', 'root', 'Bb'), ['F Bb', 'F Bb']],
    [card('semitone below', 'third', 'Eb'), ['F# G']],
    [card('long enclosure above first', 'root', 'G'), ['A G# F# G']],
  ])('%o is answered by %o', (of, expected) => {
    expect(namesOf(of)).toEqual(expected);
  });

  it('is answered by what the labels call it, into the chord note asked for', () => {
    for (const of of deck) {
      const answers = answersOf(of);
      expect(answers.length).toBeGreaterThan(0);
      for (const notes of answers) {
        const length = notes.length - 1;
        // As many notes of the chord itself before the device fill the bar before.
        const timeline = timelineOf(`| ${chordOfCard(of)} | ${chordOfCard(of)} |`);
        const pitches = [...Array.from({ length: 4 - length }, () => 60), ...notes.map(({ midi }) => midi)];
        const line = played(timeline, pitches);
        const found = devicesOf(line).filter(({ target }) => target === 4);
        const span = found.find(({ device }) => device === of.device);
        expect([cardId(of), span?.notes]).toEqual([
          cardId(of),
          Array.from({ length }, (_, place) => 4 - length + place),
        ]);
        expect(isChordNote(degreeIn(line[4]!.slot.harmony, line[4]!.midi))).toBe(true);
      }
    }
  });

  it('ends its answers on the first beat of a bar, note after note', () => {
    for (const of of deck)
      for (const notes of answersOf(of)) {
        expect(notes.at(-1)!.tick).toBe(1920);
        notes.slice(1).forEach((note, index) => {
          expect(note.tick).toBe(notes[index]!.tick + notes[index]!.ticks);
        });
        expect(Math.min(...notes.map(({ midi }) => midi))).toBeGreaterThanOrEqual(28);
        expect(deviceOf(of.device).pattern).not.toBeNull();
      }
  });
});
