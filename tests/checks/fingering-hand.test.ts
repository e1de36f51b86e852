// What tempo, span and place do to the hand (facts of the trade: common practice, no source).
import { describe, expect, it } from 'vitest';
import {
  defaultHand,
  defaultInstrument,
  frameSpan,
  handPosition,
  makeHand,
  movementTime,
  parsePosition,
  spanShare,
  spanShares,
  timeToMove,
} from '../../src/instrument';
import { bpm, seconds, barNumber } from '../../src/music';
import { walk, type LineNote, type WalkRequest } from '../../src/pipeline';
import { chartText, requestFor, walked } from '../pipeline/request';

const charts = ['back-stairs-blues.txt', 'ferry-at-noon.txt'];
const seeds = [1, 2, 3, 4, 5];

const notesWith = (changes: Partial<WalkRequest>): readonly LineNote[] =>
  charts.flatMap((name) =>
    seeds.flatMap(
      (seed) => walked(chartText(name), { take: { seed, temperature: 0.7 }, ...changes }).line.notes,
    ),
  );

describe('tempo', () => {
  it('at 260 the hand makes fewer bare shifts than at 60, goes less far in them, and more of its shifts are covered', () => {
    const at = (tempo: number): { bare: number; distance: number; covered: number } => {
      const notes = notesWith({ tempo: bpm(tempo) });
      const bare = notes.filter((note) => note.move.kind === 'bare shift');
      const covered = notes.filter((note) => note.move.kind === 'covered shift').length;
      return {
        bare: bare.length,
        distance: bare.reduce((sum, note) => sum + note.move.distance, 0),
        covered: covered / Math.max(1, covered + bare.length),
      };
    };
    const slow = at(60);
    const fast = at(260);
    expect(fast.bare).toBeLessThan(slow.bare / 4);
    expect(fast.distance).toBeLessThan(slow.distance / 4);
    expect(fast.covered).toBeGreaterThan(slow.covered);
  });

  it('a bare shift from I to III takes more than the time there is at 260, and less than it at 60', () => {
    // Movement time 25 + 100 * 3.58 = 383 ms; a third of the beat is 76 ms at 260 and 330 ms at 60, an open string has it all.
    const needed = movementTime(defaultInstrument, handPosition(2), handPosition(5));
    const beat = (tempo: number): ReturnType<typeof seconds> => seconds(60 / tempo);
    expect(needed).toBeCloseTo(0.383, 3);
    expect(needed / timeToMove(beat(260), false)).toBeCloseTo(5.03, 1);
    expect(needed / timeToMove(beat(260), true)).toBeCloseTo(1.66, 1);
    expect(needed / timeToMove(beat(60), true)).toBeLessThan(0.5);
  });
});

describe('span', () => {
  it('a hand that holds a whole tone in half position in comfort holds a minor third at the neck block', () => {
    // 109.2 mm at half position, 106 mm at V: of a hand of 150 mm 0.73 and 0.71, comfortable up to 0.73.
    const tone = frameSpan(defaultInstrument, handPosition(1), 2);
    const third = frameSpan(defaultInstrument, handPosition(8), 3);
    expect(tone).toBeCloseTo(109.2, 1);
    expect(third).toBeCloseTo(106.2, 0);
    expect(spanShare(defaultInstrument, defaultHand, handPosition(1), 2)).toBeLessThan(
      spanShares.comfortable,
    );
    expect(spanShare(defaultInstrument, defaultHand, handPosition(8), 3)).toBeLessThan(
      spanShares.comfortable,
    );
    // One position lower the third is beyond comfort.
    expect(spanShare(defaultInstrument, defaultHand, handPosition(7), 3)).toBeGreaterThan(
      spanShares.comfortable,
    );
  });

  it('a smaller hand stretches less: it may, on fewer positions, and it does', () => {
    const stretched = (span: number): number =>
      notesWith({ hand: makeHand(span) }).filter((note) => note.placement.frame === 'extended').length;
    const [small, middle, large] = [stretched(120), stretched(150), stretched(190)];
    expect(small).toBeLessThan(middle);
    expect(middle).toBeLessThan(large);
  });
});

describe('barring the half position', () => {
  it('on a hand that cannot reach otherwise gives the message, not silence', () => {
    // The low F, MIDI 29, lies on string IV a semitone above the open string: in half position and nowhere else.
    const half = parsePosition('half')!;
    const pins = [{ bar: barNumber(1), beat: 1, midi: 29 as LineNote['midi'] }];
    const result = walk(
      requestFor('Key: F\n| F7 | F7 |\n', { limits: { barredPositions: [half] }, pins: pins }),
    );
    expect(result.line).toBeNull();
    expect(result.impossible!.message).toContain('half barred');
    expect(result.impossible!.message).toContain('bar 1, beat 1');
    expect(result.impossible!.freeing).toEqual([half]);
  });
});
