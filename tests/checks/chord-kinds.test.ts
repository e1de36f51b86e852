// Kinds of chords in exchange files against W3C MusicXML 4.0.
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it, test } from 'vitest';
import kinds from '../../shared/chords/musicxml-kinds.json' with { type: 'json' };
import { chordFromMusicXml, makeChord, musicXmlKind } from '../../src/music';

/** The natural eleventh that the standard counts into every thirteenth is not played under a thirteenth. */
const unplayed: Readonly<Record<string, string>> = {
  'dominant-13th': '11P',
  'major-13th': '11P',
  'minor-13th': '11P',
};

describe('kinds', () => {
  test.each(kinds.rows)('$kind has the tones that the standard names', ({ kind, tones, source }) => {
    expect(source).not.toBe('');
    const reading = chordFromMusicXml({ root: 'C', kind, degrees: [] });
    if (reading.kind !== 'chord') throw new Error(`${kind} was not read`);
    const { chord } = reading;
    const heard = [...chord.tones, ...chord.colours.filter((tone) => tone.degree === 3)].map(
      (tone) => tone.interval,
    );
    const named = ['1P', ...tones.split(' ').filter(Boolean)].filter((tone) => tone !== unplayed[kind]);
    expect(heard.sort()).toEqual(named.sort());
  });

  test.each(kinds.rows.filter((row) => row.write))('$kind is written for C$symbol', ({ kind, symbol }) => {
    expect(musicXmlKind(makeChord(`C${symbol}`))).toMatchObject({ kind, degrees: [] });
  });
});

const schema = new URL('../../../shared/musicxml/musicxml.xsd', import.meta.url);
describe.runIf(existsSync(schema))('the schema beside the project', () => {
  it('has no kind that we do not know, and none that we made up', () => {
    const text = readFileSync(schema, 'utf8');
    const type = /<xs:simpleType name="kind-value">[^]*?<\/xs:simpleType>/.exec(text)![0];
    const values = [...type.matchAll(/enumeration value="([^"]+)"/g)].map((match) => match[1]!);
    // No tones belong to these: a chord written out by degrees, and no chord.
    const others = ['other', 'none'];
    expect([...kinds.rows.map((row) => row.kind), ...others].sort()).toEqual(values.sort());
  });
});

if (!existsSync(schema)) {
  test.skip('the schema beside the project: ../shared/musicxml/musicxml.xsd is not here', () => undefined);
}
