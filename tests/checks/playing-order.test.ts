// Repeats, endings and jumps as two programs that are not ours play them: abcjs, a reader of ABC 2.1, which knows no jumps,
// and Verovio, an engraving program that reads MusicXML 4.0 and follows D.C. and D.S. by its <sound> elements. Each bar of a chart is given a note of its own pitch, so that what they play tells the order of the bars.
import abcjs from 'abcjs';
import { parseMidi } from 'midi-file';
import { beforeAll, describe, expect, it } from 'vitest';
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { chartToAbc, chartToMusicXml } from '../../src/export';
import { importText, readChart, type Chart } from '../../src/pipeline';
import { unroll } from '../../src/pipeline/2-timeline';

/** Charts of one chord a bar; x3 in words says nothing to the programs and is left to our own tests. */
const forms: Readonly<Record<string, string>> = {
  'a plain line': 'C7 | D7 | E7 | F7',
  'a repeat': '|: C7 | D7 :| E7 | F7',
  'a repeat from the beginning': 'C7 | D7 :| E7',
  'two repeats that meet': '|: C7 | D7 :|: E7 | F7 :| G7',
  'two endings': '|: C7 | D7 |1 E7 :|2 F7 || G7',
  'two endings of two bars': '|: C7 | D7 |1 E7 | A7 :|2 F7 | B7 || G7',
  'three endings': '|: C7 |1 E7 :|2 F7 :|3 G7 || A7',
  'repeats one after another with endings': '|: C7 |1 D7 :|2 E7 || |: F7 |1 G7 :|2 A7 || B7',
};
/** The ABC reader does not come back for a third ending that no list announces; common practice does (F-01). */
const notForAbc = new Set(['three endings']);
/** Jumps, with and without repeats: Verovio plays them. */
const jumps: Readonly<Record<string, string>> = {
  'D.C.': 'C7 | D7 | E7 | F7 D.C.',
  'D.C. al Fine': 'C7 | D7 Fine | E7 | F7 D.C. al Fine',
  'D.S.': 'C7 | segno D7 | E7 | F7 D.S.',
  'D.S. al Fine': 'C7 | segno D7 | E7 Fine | F7 D.S. al Fine',
  'D.C. al Coda': 'C7 | D7 | E7 To Coda | F7 D.C. al Coda || coda G7 | A7',
  'D.S. al Coda': 'C7 | segno D7 | E7 To Coda | F7 D.S. al Coda || coda G7 | A7',
  'D.C. al Fine over a repeat': '|: C7 | D7 :| E7 Fine | F7 D.C. al Fine',
  'D.C. al Fine under a repeat': '|: C7 | D7 Fine :| E7 | F7 D.C. al Fine',
  'D.S. al Coda after a repeat': '|: C7 | D7 :| segno E7 | F7 To Coda | G7 D.S. al Coda || coda A7 | B7',
  'D.S. al Coda over a repeat': 'C7 | segno D7 |: E7 :| F7 To Coda | G7 D.S. al Coda || coda A7',
  'D.C. al Coda over endings': '|: C7 | D7 |1 E7 :|2 F7 || G7 To Coda | A7 D.C. al Coda || coda B7',
  'D.S. al Fine over endings': 'C7 |: segno D7 |1 E7 :|2 F7 Fine || G7 | A7 D.S. al Fine',
  'a coda of one bar at the end': 'segno C7 | D7 To Coda | E7 | F7 D.S. al Coda || coda G7',
};
/** Lists of passes: the ABC reader plays them. */
const lists: Readonly<Record<string, string>> = {
  'a list of passes': '|: C7 |1,2 D7 :|3 E7 || F7',
  'a range of passes': '|: C7 |1-3 D7 :|4 E7 || F7',
};

const firstPitch = 40;
const chartOf = (text: string): Chart => readChart(`Meter: 4/4\n| ${text} |`).chart;
const ours = (chart: Chart): readonly number[] => unroll(chart, 1).bars.map(({ chartBar }) => chartBar);

const letters = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
const nameOf = (pitch: number): { letter: string; sharp: boolean; octave: number } => {
  const name = letters[pitch % 12]!;
  return { letter: name[0]!, sharp: name.length > 1, octave: Math.floor(pitch / 12) - 1 };
};

function abcOf(chart: Chart): string {
  let bar = 0;
  // A rest for each bar; its chord would be played too.
  return chartToAbc(chart).replace(/"[^"]*"z8/g, () => {
    const { letter, sharp, octave } = nameOf(firstPitch + bar);
    bar += 1;
    const marks = octave > 4 ? "'".repeat(octave - 4) : ','.repeat(4 - octave);
    return `${sharp ? '^' : ''}${letter}${marks}8`;
  });
}

function xmlOf(chart: Chart): string {
  let bar = 0;
  return chartToMusicXml(chart)
    .replace(/<harmony[^]*?<\/harmony>/g, '')
    .replace(/<note[^>]*>[^]*?<\/note>/g, () => {
      const { letter, sharp, octave } = nameOf(firstPitch + bar);
      bar += 1;
      const alter = sharp ? '<alter>1</alter>' : '';
      return `<note><pitch><step>${letter}</step>${alter}<octave>${octave}</octave></pitch><duration>1920</duration><voice>1</voice><type>whole</type></note>`;
    });
}

interface Played {
  readonly tracks: readonly (readonly { readonly cmd: string; readonly pitch: number }[])[];
}

describe('a reader of ABC', () => {
  const all = Object.entries({ ...forms, ...lists }).filter(([name]) => !notForAbc.has(name));
  it.each(all)('plays the bars of %s in our order', (_name, text) => {
    const chart = chartOf(text);
    const [parsed] = abcjs.parseOnly(abcOf(chart));
    const { tracks } = parsed.setUpAudio({}) as unknown as Played;
    const played = tracks.flat().flatMap(({ cmd, pitch }) => (cmd === 'note' ? [pitch - firstPitch] : []));
    expect(played).toEqual(ours(chart));
  });
});

describe('an engraving program', () => {
  let toolkit: VerovioToolkit;
  beforeAll(async () => {
    toolkit = new VerovioToolkit(await createVerovioModule());
  });

  it.each(Object.entries({ ...forms, ...jumps }))('plays the bars of %s in our order', (_name, text) => {
    const chart = chartOf(text);
    const xml = xmlOf(chart);
    expect(toolkit.loadData(xml)).toBe(1);
    const { tracks } = parseMidi(Buffer.from(toolkit.renderToMIDI(), 'base64'));
    const played = tracks
      .flat()
      .flatMap((event) =>
        event.type === 'noteOn' && event.velocity > 0 ? [event.noteNumber - firstPitch] : [],
      );
    expect(played).toEqual(ours(chart));
    // As we do when we read that very file.
    expect(played).toEqual(ours(importText(xml).chart));
  });
});
