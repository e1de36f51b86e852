// Every chord of our table of spellings through both exchange formats and back: tones, bass and printed name stay. What
// cannot stay is listed with the reason.
import { describe, expect, it } from 'vitest';
import { chartToAbc, chartToMusicXml } from '../../../src/export';
import { parseChord, type Chord } from '../../../src/music';
import { printChart, readChart, type Chart } from '../../../src/pipeline';
import { importText } from '../../../src/pipeline/1-chart/import';
import { readTable } from '../../table';

const kept = readTable('checks/chord-exchange.tsv');
/** By format and printed name. */
const listed = new Map(kept.rows.map((row) => [`${row.at('format')} ${row.at('chord')}`, row]));

/** Suspensions that are seldom met, beside those of the table. */
const suspensions =
  'C7sus2 C9sus2 Csus2sus4 C7sus2sus4 C13sus4b9 C13susb9 C9sus4(13) C7sus4(b9,b13) C7sus4#9 Cmaj7sus2 Cmaj9sus4 C6sus4 C6sus2 C69sus4 C13sus C11 C7sus4/F Csus4/G C7susb13 Cm7sus4 C7#5sus4 C7b5sus4 Csus4add9 Csus2add13';

const chords = [
  ...new Map(
    [
      ...readTable('checks/chords.tsv').rows.map((row) => row.at('symbol')),
      ...suspensions.split(' '),
    ].flatMap((symbol): [string, Chord][] => {
      const reading = parseChord(symbol);
      return reading.kind === 'chord' ? [[reading.chord.symbol, reading.chord]] : [];
    }),
  ).values(),
];

/** A chart of one chord in each bar. */
function chartOf(all: readonly Chord[]): Chart {
  const { chart } = readChart('| C |');
  const [bar] = chart.bars;
  return {
    ...chart,
    bars: all.map((chord) => ({ ...bar!, doubleBar: false, chords: [{ ...bar!.chords[0]!, chord }] })),
  };
}

const toneText = ({ tones, bass }: Chord): string =>
  `${tones.map(({ interval }) => interval).join(' ')}${bass === null ? '' : ` / ${bass}`}`;

function back(chart: Chart, write: (chart: Chart) => string): readonly (Chord | null)[] {
  return importText(write(chart)).chart.bars.map((bar) => bar.chords[0]!.chord);
}

describe.each([
  ['text', printChart],
  ['ABC', chartToAbc],
  ['MusicXML', chartToMusicXml],
] as const)('every chord through %s', (format, write) => {
  const returned = back(chartOf(chords), write);

  it('comes back, each in its bar', () => {
    expect(chords.length).toBeGreaterThan(240);
    expect(returned).toHaveLength(chords.length);
    expect(returned.filter((chord) => chord === null)).toEqual([]);
  });

  it('has the same tones and bass', () => {
    const changed = chords.flatMap((chord, index) => {
      const row = listed.get(`${format} ${chord.symbol}`);
      const wanted = row?.at('tones') || toneText(chord);
      const found = toneText(returned[index]!);
      return found === wanted ? [] : [`${chord.symbol}: ${toneText(chord)} came back as ${found}`];
    });
    expect(changed).toEqual([]);
  });

  it('has the same printed name, or one that is listed', () => {
    const changed = chords.flatMap((chord, index) => {
      const wanted = listed.get(`${format} ${chord.symbol}`)?.at('name') ?? chord.symbol;
      const found = returned[index]!.symbol;
      return found === wanted ? [] : [`${chord.symbol} came back as ${found}`];
    });
    expect(changed).toEqual([]);
  });
});

it('has a reason for each that is listed, and none for what stays', () => {
  const symbols = new Set(chords.map(({ symbol }) => symbol));
  for (const row of kept.rows) {
    expect(symbols).toContain(row.at('chord'));
    expect(row.at('reason')).not.toBe('');
    expect(row.at('name') === row.at('chord') && row.at('tones') === '').toBe(false);
  }
  kept.expectAllRead();
});
