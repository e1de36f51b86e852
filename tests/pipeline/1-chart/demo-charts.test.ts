// The charts that come with the program.
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import list from '../../../shared/charts/charts.json' with { type: 'json' };
import { walked } from '../request';
import { readChart } from '../../../src/pipeline/1-chart';
import { makeTimeline } from '../../../src/pipeline/2-timeline';
import { isBassNote, isChordNote, type LineNote } from '../../../src/pipeline/5-line';

const folder = new URL('../../../shared/charts/', import.meta.url);
const textOf = (id: string): string => readFileSync(new URL(`${id}.txt`, folder), 'utf8');

describe('demo charts', () => {
  it('are all listed, and nothing else is', () => {
    const files = readdirSync(folder)
      .filter((name) => name.endsWith('.txt'))
      .map((name) => name.replace('.txt', ''));
    expect(list.charts.map(({ id }) => id).sort()).toEqual(files.sort());
    for (const { about } of list.charts) expect(about).toMatch(/^[A-Z].*\.$/u);
  });

  it.each(list.charts.map(({ id }) => id))('%s reads without a problem and names what it needs', (id) => {
    const { chart, problems } = readChart(textOf(id));
    expect(problems).toEqual([]);
    expect(chart.header.title).not.toBe('');
    expect(chart.header.key).not.toBeNull();
    expect(chart.header.tempo).not.toBeNull();
    expect(textOf(id)).toMatch(/^Feel: /mu);
    const { timeline, problems: played } = makeTimeline(chart, { choruses: 2, tempo: null });
    expect(played).toEqual([]);
    expect(timeline!.slots.length).toBeGreaterThan(8);
  });

  // What their takes were chosen for: nobody hears a chart for the first time from a strange line.
  it.each(list.charts)('$id opens on a take that tells the changes', ({ id, take }) => {
    const { line, timeline } = walked(textOf(id), { take: { seed: take, temperature: 1 } });
    const firsts = line.notes.filter(({ harmony }, index) => line.notes[index - 1]?.harmony !== harmony);
    // By what a note is in its chord: a fifth that leads on by step has the approach for its role.
    const isBass = ({ harmony, midi }: LineNote): boolean => isBassNote(harmony, midi);
    const isTold = (note: LineNote): boolean => isBass(note) || isChordNote(note.degree);
    expect(firsts[0]?.role).toBe('root');
    expect(firsts.filter(isTold).length).toBeGreaterThanOrEqual(0.95 * firsts.length);
    expect(firsts.filter(isBass).length).toBeGreaterThanOrEqual(0.6 * firsts.length);
    const { byRegion, coveredShifts, bareShifts } = line.report;
    expect(byRegion.find(({ region }) => region === 'low')?.share ?? 0).toBeLessThan(0.1);
    // A slow tune leaves time for bare shifts.
    if (timeline.tempo >= 100) expect(coveredShifts).toBeGreaterThan(bareShifts);
  });

  it('have different titles and different changes', () => {
    const charts = list.charts.map(({ id }) => readChart(textOf(id)).chart);
    expect(new Set(charts.map(({ header }) => header.title)).size).toBe(charts.length);
    const changes = charts.map(({ bars }) =>
      bars.map(({ chords }) => chords.map(({ chord }) => chord?.symbol).join(' ')).join(' | '),
    );
    expect(new Set(changes).size).toBe(changes.length);
  });

  it.each([
    ['back-stairs-blues', 'F', 12],
    ['corner-table', 'Bb', 32],
    ['high-fence', 'F#', 16],
    ['low-ceiling', 'Eb', 16],
  ])('%s is in %s and has %i bars', (id, tonic, bars) => {
    const { chart } = readChart(textOf(id));
    expect(chart.header.key?.tonic).toBe(tonic);
    expect(makeTimeline(chart, { choruses: 1, tempo: null }).timeline?.bars).toHaveLength(bars);
  });
});
