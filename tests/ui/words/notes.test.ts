import { afterEach, describe, expect, it } from 'vitest';
import { defaultInstrument, handPosition, positionName, type HandPosition } from '../../../src/instrument';
import { barNumber, soundingMidi } from '../../../src/music';
import { pitchText, spokenPitch } from '../../../src/ui/fingerboard/words';
import { namerFor, numeralFor } from '../../../src/ui/hand/naming';
import { keyText } from '../../../src/ui/words';
import { nameNotesBy, noteText, symbolText, withNotesNamed, withSigns } from '../../../src/ui/words/notes';
import { reasonText, withPositionsNamed } from '../../../src/ui/words/reasons';
import { chartText, walked } from '../../pipeline/request';

afterEach(() => nameNotesBy(() => 'English'));

describe('notes on the page', () => {
  it('are called as the person chose, chord symbols as in the chart', () => {
    expect([noteText('Bb'), noteText('B♭'), symbolText('Bb7#11')]).toEqual(['B♭', 'B♭', 'B♭7♯11']);
    nameNotesBy(() => 'German');
    expect([noteText('Bb'), noteText('B'), symbolText('Bb7'), symbolText('B')]).toEqual([
      'B',
      'H',
      'B♭7',
      'B',
    ]);
    nameNotesBy(() => 'fixed do');
    expect([noteText('F#'), withNotesNamed('nothing below E1, bar 3: Eb2 on string II')]).toEqual([
      'Fa♯',
      'nothing below Mi1, bar 3: Mi♭2 on string II',
    ]);
  });

  it('and chord symbols have their signs in every sentence, words stay words', () => {
    const said: readonly (readonly [plain: string, signed: string])[] = [
      ['G leads by step to F, the fifth of Bb7.', 'G leads by step to F, the fifth of B♭7.'],
      ['It is outside Ebmaj7; the rest is Am7b5.', 'It is outside E♭maj7; the rest is Am7♭5.'],
      ['F# is the third of D7(b9)/F#.', 'F♯ is the third of D7(♭9)/F♯.'],
      ['Bb is the root of Bb.', 'B♭ is the root of B♭.'],
      ['About a bare Cab, a Dab of A and Bach.', 'About a bare Cab, a Dab of A and Bach.'],
    ];
    for (const [plain, signed] of said) expect(withSigns(plain)).toBe(signed);
  });

  it('leave everything else of a sentence alone', () => {
    nameNotesBy(() => 'German');
    const sentence = 'half barred, III½ barred, no stop above 12 semitones, bar 2, beat 1';
    expect(withNotesNamed(sentence)).toBe(sentence);
  });

  it('name first-finger notes of positions', () => {
    nameNotesBy(() => 'German');
    expect(namerFor(defaultInstrument, 'both')(handPosition(3))).toBe('II (B)');
    expect(numeralFor(defaultInstrument, 'first-finger note')(handPosition(4))).toBe('H');
    expect(namerFor(defaultInstrument, 'numeral')(handPosition(4))).toBe('II½');
  });

  it('name keys and pitches', () => {
    const { timeline, line } = walked('Key: Bb\n| Bb6 | Eb7 | Bb6 | F7 |');
    nameNotesBy(() => 'German');
    expect(keyText(timeline.key)).toBe('B');
    const first = line.notes[0];
    if (!first) throw new Error('no note');
    expect(pitchText(first.pitch)).toMatch(/^B\d$/);
    expect(spokenPitch(first.pitch)).toMatch(/^B \d$/);
  });
});

describe('reasons', () => {
  /** Every note of several takes: all roles that lines have. */
  const lines = [1, 2, 3, 4].map(
    (seed) => walked(chartText('back-stairs-blues.txt'), { take: { seed, temperature: 1 } }).line,
  );
  const name = namerFor(defaultInstrument, 'first-finger note');

  it('are given back as they are in English with numerals', () => {
    for (const { notes } of lines) {
      notes.forEach((note) => {
        const said = reasonText(note, namerFor(defaultInstrument, 'numeral'));
        expect(said).toBe(withSigns(note.reason));
      });
    }
  });

  it('name the note, the note after it and the positions as the person calls them', () => {
    nameNotesBy(() => 'fixed do');
    let leads = 0;
    let carries = 0;
    for (const { notes } of lines) {
      notes.forEach((note) => {
        const said = reasonText(note, name);
        expect(said.startsWith(noteText(note.pitch.name))).toBe(true);
        // No English name is left where a note stands: at the start and after the words that lead to the next one.
        expect(said).not.toMatch(/ into [A-G](?![a-z])/);
        if (said.includes(' into ')) leads++;
        if (note.carry) {
          carries++;
          expect(said).toContain(`from ${name(note.carry.from)} to ${name(note.carry.to)}.`);
        }
      });
    }
    expect(leads).toBeGreaterThan(20);
    expect(carries).toBeGreaterThan(10);
  });

  it('name positions within wishes', () => {
    const half = handPosition(1);
    const wish = {
      words: 'half barred',
      source: { kind: 'limit', limit: 'barred position', position: half },
    } as const;
    expect(withPositionsNamed('This cannot be: half barred.', [wish], name)).toBe(
      `This cannot be: ${name(half)} barred.`,
    );
    const barred = (position: number) =>
      ({
        words: `${positionName(handPosition(position))} barred`,
        source: { kind: 'limit', limit: 'barred position', position: handPosition(position) },
      }) as const;
    const pinned = (position: number) =>
      ({
        words: `bar 1, beat 1: F2 in position ${positionName(handPosition(position))}`,
        source: {
          kind: 'pin',
          pin: { bar: barNumber(1), beat: 1, midi: soundingMidi(41), position: handPosition(position) },
        },
      }) as const;
    const renamed = (position: HandPosition): string => `P${position}`;
    const all = [barred(3), barred(2), pinned(3), pinned(4)];
    const listed = all.map(({ words }) => words).join(', ');
    // Each of them twice, as where a conflict is named and then what to give up of it.
    const said = 'P3 barred, P2 barred, bar 1, beat 1: F2 in position P3, bar 1, beat 1: F2 in position P4';
    expect(withPositionsNamed(`${listed}. Without ${listed}.`, all, renamed)).toBe(
      `${said}. Without ${said}.`,
    );
  });
});
