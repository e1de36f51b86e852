// What a night may say, and what it never says.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { lengthText, minutesText, nightCautions, nightSentences, type NightWish } from '../../src/night';
import { words } from '../../src/ui/night/words';
import { planned, shortNight, tuneOf } from './night';

const forbidden = /risk|\bsafe|unsafe|protect|prevent|injur/i;
const free = planned(shortNight());
const { middle } = free.whole.byRegion;

const wish = (kind: 'most' | 'least', minutes: number): NightWish => ({ kind, region: 'middle', minutes });
const saysOf = (...wishes: readonly NightWish[]): readonly string[] =>
  nightSentences(planned(shortNight(...wishes)));

describe('the sentences of a night', () => {
  it('say where the hand is and in which set', () => {
    const said = nightSentences(free).join(' ');
    expect(said).toContain(`Middle ${minutesText(middle)} minutes`);
    expect(said).toContain(`By the arm: behind the neck ${minutesText(free.whole.byArm['behind the neck'])}`);
    expect(said).toMatch(/of playing: .* on open strings/);
    expect(said).toMatch(/The longest stay is .* seconds .* in “/);
    expect(said).toMatch(/bare shifts an hour, \d+ string crossings, \d+ metres/);
    const uneven = planned({
      sets: [[tuneOf('slow-tide')], [tuneOf('five-steps-down', { choruses: 8 })]],
      wishes: [],
      takes: 0,
    });
    expect(nightSentences(uneven).join(' ')).toMatch(/of them in the (first|second) set/);
  });

  it('tell the cost of a wish in notes, and how near the plan is', () => {
    const [said] = saysOf(wish('most', middle * 0.6));
    expect(said).toMatch(
      /^At most .* minutes? in the middle: .*, .* without the wish\. \d+ notes a chorus differ/,
    );
    expect(said).toMatch(/No night that keeps the wishes costs less by more than \d\.\d{3} a note\.$/);
    expect(saysOf(wish('most', 500))[0]).toMatch(/as it is\.$/);
  });

  it('name a wish that cannot be', () => {
    expect(saysOf(wish('least', 599))[0]).toMatch(
      /^At least 599 minutes in the middle cannot be kept: .* is the most that was found\. The plan leaves the wish out\.$/,
    );
  });

  it('name a tune without a line', () => {
    const empty = { ...tuneOf('slow-tide', { chartText: '' }), title: 'Nothing' };
    const plan = planned({ sets: [[empty, tuneOf('slow-tide')]], wishes: [], takes: 0 });
    expect(nightSentences(plan)[0]).toMatch(/^“Nothing” has no line: /);
  });
});

describe('the word list', () => {
  /** Every text of a words object, its functions called with something of each kind. */
  const textsOf = (value: unknown): string[] => {
    if (typeof value === 'string') return [value];
    if (typeof value === 'function') {
      const say = value as (...given: unknown[]) => unknown;
      return [[1], ['x', 'y'], [0, 1], [null], ['low']].flatMap((given) => {
        try {
          return textsOf(say(...given));
        } catch {
          return [];
        }
      });
    }
    return typeof value === 'object' && value !== null ? Object.values(value).flatMap(textsOf) : [];
  };

  it('holds for every sentence of plans of all kinds', () => {
    const all = [
      ...nightSentences(free),
      ...saysOf(wish('most', middle * 0.5), { kind: 'stay', seconds: 30 }),
      ...saysOf(wish('least', 599)),
    ];
    expect(all.length).toBeGreaterThan(15);
    expect(all.filter((text) => forbidden.test(text))).toEqual([]);
  });

  it('holds for the words of the page, and for the code that says anything', () => {
    const said = textsOf(words);
    expect(said.length).toBeGreaterThan(60);
    expect(said.filter((text) => forbidden.test(text))).toEqual([]);
    for (const file of [
      '../../src/night/words.ts',
      '../../src/cli/night.ts',
      '../../src/ui/night/words.ts',
    ]) {
      const source = readFileSync(new URL(file, import.meta.url), 'utf8');
      const [before = ''] = source.split('export const nightCautions');
      expect(before).not.toMatch(forbidden);
    }
  });

  it('would find a word, and the cautions have it', () => {
    expect('a safe night').toMatch(forbidden);
    expect(nightCautions.join(' ')).toMatch(forbidden);
    expect(nightCautions.join(' ')).toMatch(/clinician/);
  });
});

it('says minutes as finely as they must be', () => {
  expect([0, 0.004, 0.05, 0.1, 1, 4.24, 12.6].map(minutesText)).toEqual([
    '0',
    '0',
    '0.05',
    '0.1',
    '1',
    '4.2',
    '13',
  ]);
  expect([45, 160, 120].map(lengthText)).toEqual(['45 minutes', '2 h 40', '2 h 00']);
});
