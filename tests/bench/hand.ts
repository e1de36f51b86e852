// `npm run bench -- hand`: the fingerings as a bassist would look at them: what was seen, what is wanted, what is now.
import targets from '../../shared/weights/hand-targets.json' with { type: 'json' };
import {
  defaultHand,
  defaultInstrument,
  findLivingPlace,
  type Hand,
  type LivingPlace,
} from '../../src/instrument';
import { bpm } from '../../src/music';
import { walk, type Line, type WalkRequest } from '../../src/pipeline';
import { fingerLine } from '../../src/pipeline/given';
import { handFigures, missOf, wantedRows, type WantedLines } from '../../src/pipeline/5-line';
import { chartNames, chartText, requestFor } from '../pipeline/request';

const tempo = bpm(targets.tempo);
const seeds = [1, 2, 3, 4, 5, 6, 7, 8];

function lineOf(name: string, changes: Partial<WalkRequest>): Line[] {
  const { line } = walk(requestFor(chartText(name), { tempo, ...changes }));
  return line ? [line] : [];
}

/** The best fingering of the notes of a line. */
function fingeredAnew({ notes }: Line): Line[] {
  const given = notes.map(({ midi, tick, ticks }) => ({ midi, tick, ticks }));
  const { line } = fingerLine(given, {
    ...{ instrument: defaultInstrument, hand: defaultHand, tempo },
    limits: { barredPositions: [] },
    way: 'open',
  });
  return line ? [line] : [];
}

function summitLines(): Line[] {
  const place: LivingPlace = findLivingPlace('summit')!;
  const hand: Hand = place.way ? { ...defaultHand, way: { id: place.way } } : defaultHand;
  return chartNames.flatMap((name) => lineOf(name, { hand, limits: { barredPositions: [], place } }));
}

const number = (value: number | null): string =>
  (value === null ? '-' : String(Math.round(value * 1000) / 1000)).padStart(9);

/** Prints the table of figures; asserts nothing. */
export function benchHand(): void {
  const opens = new Set<number>(defaultInstrument.strings.map(({ open }) => open));
  const takes = chartNames.flatMap((name) =>
    seeds.flatMap((seed) => lineOf(name, { take: { seed, temperature: 1 } })),
  );
  const lines: Readonly<Record<WantedLines, readonly Line[]>> = {
    takes: takes.flatMap(fingeredAnew),
    best: chartNames.flatMap((name) => lineOf(name, {})),
    summit: summitLines(),
  };
  console.log(
    `${takes.length} takes and ${lines.best.length} best lines at ${targets.tempo}, default bass and hand`,
  );
  console.log(
    `${'figure'.padEnd(28)}${'lines'.padEnd(9)}${['seen', 'wanted', 'now', 'missed by'].map((one) => one.padStart(10)).join('')}`,
  );
  for (const row of wantedRows) {
    const now = handFigures(lines[row.lines], opens)[row.figure];
    const { wanted } = row;
    const bound = wanted?.most === undefined ? wanted?.least : wanted.most;
    const sign = wanted?.most === undefined ? '>=' : '<=';
    console.log(
      `${row.figure.padEnd(28)}${row.lines.padEnd(8)}${number(row.seen)} ${(bound === undefined ? '-' : `${sign} ${bound}`).padStart(9)} ${number(now)} ${number(missOf(row, now))}`,
    );
  }
}
