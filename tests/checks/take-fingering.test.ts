// Fingers of a take are chosen, not drawn: its fingering costs the hand no more than the best there is for its notes, found by
// the second model's own search.
//
// One thing is asked of the fingering besides the limits: a note outside chord and scale that is there because its string is
// open stays open. It is told from the take, so that the search knows nothing of how notes are offered.
import { expect, it } from 'vitest';
import { pitchClass, pitchClassOf, type Bpm } from '../../src/music';
import type { LineNote } from '../../src/pipeline';
import { chartNames, chartText, positions, walked } from '../pipeline/request';
import { HandModel } from './hand-model';
import { costOfFingering, leastCost, playedOf } from './hand-rules';

const tempi = [60, 120, 180, 260] as const;
const limits = [[], ['half'], ['half', 'II'], ['I', 'III']] as const;
/** As far up as walking lines go by themselves. */
const highest = 12;

const isOutside = ({ harmony: { chord, scale }, midi }: LineNote): boolean =>
  ![
    ...(chord?.tones ?? []).map((tone) => tone.pitchClass),
    ...(scale?.notes ?? []).map(pitchClassOf),
  ].includes(pitchClass(midi));

it(
  'costs the hand the least, over every chart and tempo and each limit in turn',
  { timeout: 900_000 },
  () => {
    const model = new HandModel('bass-3/4', 150);
    let seed = 0;
    let stays = 0;
    for (const name of chartNames) {
      for (const tempo of tempi) {
        seed += 1;
        // Each limit in turn, at another tempo from chart to chart: all pairs come.
        const barred = limits[(seed + Math.floor(seed / tempi.length)) % limits.length]!;
        const { line } = walked(chartText(name), {
          tempo: tempo as Bpm,
          ending: 'final',
          limits: { barredPositions: positions(...barred) },
          take: { seed, temperature: 1 },
        });
        const played = playedOf(line);
        const mustStayOpen = line.notes.map((note) => note.placement.finger === '0' && isOutside(note));
        stays += mustStayOpen.filter(Boolean).length;
        const avoid = new Set<number>(positions(...barred));
        const least = leastCost(model, played, tempo, highest, avoid, (index) => mustStayOpen[index]!);
        expect([name, tempo, ...barred, costOfFingering(model, played, tempo)]).toEqual([
          name,
          tempo,
          ...barred,
          least,
        ]);
      }
    }
    // What is asked besides is asked of few notes.
    expect(stays).toBeLessThan(seed * 4);
  },
);
