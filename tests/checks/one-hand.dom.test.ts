// Where the hand goes next is one place, whoever says it: panel, staff, strip, board, stand view, paper, text and JSON. What it
// should be is worked out here from the stopped notes alone.
import { describe, expect, it } from 'vitest';
import charts from '../../shared/charts/charts.json' with { type: 'json' };
import { defaultInstrument, positionName, shortPositionName, stringName } from '../../src/instrument';
import { layoutStaff, type SystemLayout } from '../../src/notation';
import type { LineNote } from '../../src/pipeline';
import { toJson, toMusicXml, toText } from '../../src/export';
import { requestOf, studyOf } from '../../src/state';
import { moveSentence } from '../../src/ui/beat/words';
import { boardLabel, handText } from '../../src/ui/fingerboard/words';
import { handStateAfter, handStateOf } from '../../src/ui/fingerboard/hand';
import { cueAt } from '../../src/ui/practice/cue';
import { paperWidths } from '../../src/ui/print/paper';
import { noteLabel } from '../../src/ui/staff/words';
import { travelIn } from '../../src/ui/travel/path';
import { neckScale } from '../../src/ui/travel/scale';
import { reasonText } from '../../src/ui/words/reasons';
import { chartText, walked } from '../pipeline/request';

const isOpen = ({ placement }: LineNote): boolean => placement.finger === '0';

/** A run of open strings between two stopped notes, with the places of these. */
interface Run {
  readonly first: number;
  readonly last: number;
  readonly from: number;
  readonly to: number;
}

/** Runs by the stopped notes around them; past the end of the line comes its first stopped note. */
function runsOf(notes: readonly LineNote[]): readonly Run[] {
  const stopped = notes.filter((note) => !isOpen(note));
  return stopped.flatMap((note, place) => {
    const next = stopped[place + 1];
    const [first, last] = [note.index + 1, (next?.index ?? notes.length) - 1];
    const to = (next ?? stopped[0]!).placement.position;
    return first > last ? [] : [{ first, last, from: note.placement.position, to }];
  });
}

const takes = charts.charts.flatMap(({ id, take }) =>
  [take, take + 1].map((seed) => {
    const text = chartText(`${id}.txt`);
    return { id, seed, result: walked(text, requestOf(studyOf({ text, seed }))) };
  }),
);

describe.each(takes)('$id, take $seed', ({ result }) => {
  const { line, timeline } = result;
  const { notes } = line;
  const runs = runsOf(notes);
  const carried = runs.filter(({ from, to }) => from !== to);
  const name = (position: number): string => positionName(position as LineNote['placement']['position']);

  it('every sentence about an open string names where the next stopped note is', () => {
    for (const { first, last, from, to } of carried)
      for (const note of notes.slice(first, last + 1)) {
        const way = `from ${name(from)} to ${name(to)}`;
        expect(moveSentence(note, positionName, false)).toContain(`${name(from)} → ${name(to)}`);
        expect(reasonText(note, positionName)).toContain(`goes ${way}.`);
        expect(handText(note, positionName)).toBe(`hand going ${way}`);
        expect(boardLabel(note, defaultInstrument, positionName)).toContain(`hand going ${way}`);
        expect(noteLabel(note, defaultInstrument, positionName)).toContain(`hand going ${way}`);
        expect(handStateOf(note).position).toBe(to);
      }
    for (const { first, last, from, to } of runs)
      if (from === to)
        for (const note of notes.slice(first, last + 1)) {
          expect(moveSentence(note, positionName, false)).toBe(`The hand stays in ${name(to)}.`);
          expect(handText(note, positionName)).toBe(`hand staying in ${name(to)}`);
        }
    for (const { last, to } of runs) expect(handStateAfter(line, last).position).toBe(to);
  });

  /** What is drawn of the hand, left to right. */
  const drawn = (systems: readonly SystemLayout[]): readonly (string | number)[] =>
    systems.flatMap((system) => {
      const marks = system.carries.map(({ x1, from, to }) => ({ x: x1, what: `${from}-${to}` }));
      const places = system.brackets.map(({ position, numeral }) => ({ x: numeral.x, what: position }));
      return [...marks, ...places].sort((a, b) => a.x - b.x).map(({ what }) => what);
    });

  it.each([1060, 390, paperWidths.A4])(
    'staff %i wide: an arrow leads to the place that is set next',
    (width) => {
      const { systems } = layoutStaff(timeline, line, {
        width,
        instrument: defaultInstrument,
        positionNumeral: shortPositionName,
        showRoles: false,
      });
      const said = drawn(systems);
      said.forEach((what, at) => {
        if (typeof what !== 'string') return;
        const next =
          said.slice(at + 1).find((one) => one !== what) ?? said.find((one) => typeof one === 'number');
        expect(what.endsWith(`-${next}`)).toBe(true);
      });
      // One arrow for a run, and one more for each end of a line of music that it goes over.
      const starts = systems.flatMap(({ carries }) => carries.map(({ note }) => note));
      for (const { first } of carried) expect(starts).toContain(first);
      expect(said.filter((one) => typeof one === 'string').length).toBeLessThan(
        carried.length + systems.length,
      );

      const scale = neckScale(defaultInstrument, [line], 88);
      for (const system of systems) {
        const { marks } = travelIn(line, system, scale);
        for (const { note, y } of marks) {
          const run = carried.find(({ first, last }) => note >= first && note <= last);
          if (run === undefined) expect(y).toBeCloseTo(scale.y(notes[note]!.placement.position), 6);
          else if (note === run.first) expect(y).toBeCloseTo(scale.y(run.from), 6);
          else expect((y - scale.y(run.from)) * (y - scale.y(run.to))).toBeLessThan(0);
        }
      }
    },
  );

  it('the stand view says it a beat ahead', () => {
    for (const { index } of notes) {
      const cue = cueAt(notes, index, 0, notes.length)!;
      const ahead = notes.findIndex((note, at) => at > index && note.tick >= notes[index]!.tick + 480);
      const at = ahead < 0 ? 0 : ahead;
      const place = [...notes.slice(at), ...notes].find((note) => !isOpen(note))!.placement.position;
      expect(cue.position).toBe(place);
    }
  });

  const stringNames = {
    positionName,
    stringName: (n: LineNote['placement']['string']) => stringName(defaultInstrument, n),
  };

  it('text, MusicXML and JSON say the same', () => {
    const table = toText(timeline, line, stringNames);
    const arrows = [...table.matchAll(/(?<![\w½])(half|[IV]+½?|thumb \d+)→(half|[IV]+½?|thumb \d+)/g)];
    expect(arrows.map(([arrow]) => arrow)).toEqual(
      carried.map(({ from, to }) => `${name(from)}→${name(to)}`),
    );

    const places = notes
      .filter((note) => !isOpen(note))
      .map(({ placement }) => placement.position)
      .filter((position, index, all) => position !== all[index - 1]);
    const words = [...toMusicXml(timeline, line, { positionName }).matchAll(/<words[^>]*>([^<]+)<\/words>/g)];
    const known = new Set(places.map(name));
    expect(words.map(([, word]) => word!).filter((word) => known.has(word))).toEqual(places.map(name));

    interface Json {
      readonly notes: readonly { nextPosition: string | null; carry: { from: string; to: string } | null }[];
    }
    const json = JSON.parse(toJson(result, { positionName })) as Json;
    for (const { first, last, from, to } of runs) {
      const own = json.notes.slice(first, last + 1);
      if (from !== to || last + 1 < notes.length)
        for (const { nextPosition } of own) expect(nextPosition).toBe(name(to));
      const carries = own.flatMap(({ carry }) => carry ?? []);
      // Where the line comes round the hand may have gone back under a rest or later: the solver need not move it here.
      if (last + 1 === notes.length && carries.length === 0) continue;
      expect(carries).toEqual(from === to ? [] : [{ from: name(from), to: name(to) }]);
    }
  });
});

describe('the demo takes', () => {
  it('have runs of more than one open string that carry the hand, or the check above checks little', () => {
    const found = takes
      .flatMap(({ result }) => runsOf(result.line.notes))
      .filter(({ first, last, from, to }) => last > first && from !== to);
    expect(found.length).toBeGreaterThan(5);
  });
});
