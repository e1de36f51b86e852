import { describe, expect, it } from 'vitest';
import { parseCommand } from '../../src/cli/arguments';
import { UsageError } from '../../src/cli/options';
import { parsePin, parseShare } from '../../src/cli/wishes';
import { defaultInstrument } from '../../src/instrument';

describe('the command line', () => {
  it('reads a walk with everything said', () => {
    const command = parseCommand(
      'walk a.txt --key Bb --tempo 180 --seed 7 --choruses 3 --avoid half,II --span 140 --stay 3 --comfort 2 --format midi --out b.mid'.split(
        ' ',
      ),
    );
    expect(command).toMatchObject({
      command: 'walk',
      chart: 'a.txt',
      key: { tonic: 'Bb', mode: 'major' },
      tempo: 180,
      seed: 7,
      choruses: 3,
      avoid: [1, 3],
      player: { instrument: defaultInstrument, hand: { span: 140 }, where: {} },
      stay: { region: 'low', beats: 3 },
      comfort: 2,
      format: 'midi',
      out: 'b.mid',
    });
  });

  it('reads wishes for the line, by the names they have and those they had', () => {
    const said = (line: string): unknown => parseCommand(`walk a.txt ${line}`.split(' '));
    expect(said('--bold -0.5 --leaps 1 --outside -1 --build 0.5 --fills 0.2 --variety 0')).toMatchObject({
      bold: -0.5,
      leaps: 1,
      outside: -1,
      build: 0.5,
      density: 0.2,
      temperature: 0,
    });
    expect(said('--density 0.3 --temperature 2')).toMatchObject({ density: 0.3, temperature: 2 });
    expect(said('--shape arch --shape B=fall')).toMatchObject({
      shapes: [
        { section: null, shape: 'arch' },
        { section: 'B', shape: 'fall' },
      ],
    });
    expect(said('--feel bossa --ending final --relaxed')).toMatchObject({
      feel: 'bossa',
      ending: 'final',
      relaxedOnly: true,
    });
    expect(said('--spread 0.15')).toMatchObject({ spread: 0.15 });
    expect(said('--choruses 64')).toMatchObject({ choruses: 64, feel: null, bold: 0, shapes: [] });
  });

  it.each([
    ['--bold 2', '--bold takes a number from -1 to 1, not "2"'],
    ['--spread 0.5', '--spread takes a number from 0 to 0.3, not "0.5"'],
    ['--density 2', '--density takes a number from 0 to 1, not "2"'],
    ['--fills much', '--fills takes a number from 0 to 1, not "much"'],
    ['--choruses 65', '--choruses takes a number from 1 to 64, not "65"'],
    ['--feel polka', '--feel takes swing, two-feel, waltz, ballad, bossa, straight, not "polka"'],
    ['--shape up', '--shape takes stay, climb, fall, arch, with the name of a section before it'],
    ['--shape =fall', '--shape takes'],
  ])('says what is wrong with %s', (line, message) => {
    expect(() => parseCommand(`walk a.txt ${line}`.split(' '))).toThrow(message);
  });

  it('takes a dash for standard input, and the chart’s own key and tempo when none is given', () => {
    expect(parseCommand(['walk', '-'])).toMatchObject({
      chart: '-',
      key: null,
      tempo: null,
      out: null,
      pins: [],
    });
    expect(parseCommand(['chart', '-', '--format', 'json'])).toEqual({
      command: 'chart',
      chart: '-',
      key: null,
      format: 'json',
      out: null,
    });
  });

  it.each([
    ['walk'],
    ['dance a.txt'],
    ['walk a.txt b.txt'],
    ['walk a.txt --tempo fast'],
    ['walk a.txt --tempo 20'],
    ['walk a.txt --tempo ='],
    ['walk a.txt --key X'],
    ['walk a.txt --avoid IX'],
    ['walk a.txt --span 20'],
    ['walk a.txt --bass banjo'],
    ['walk a.txt --heel high'],
    ['walk a.txt --tuning E1'],
    ['walk a.txt --length 12'],
    ['walk a.txt --fingers 1-2-4@III'],
    ['walk a.txt --place moon'],
    ['scale'],
    ['scale H'],
    ['scale Bb whole'],
    ['scale Bb --octaves 9'],
    ['walk a.txt --seed 1.5'],
    ['walk a.txt --choruses 0'],
    ['walk a.txt --format png'],
    ['walk a.txt --sideways'],
    ['walk a.txt --pin 1.1=H2'],
    ['walk a.txt --region-share low=2'],
    ['chart a.txt --format midi'],
  ])('refuses "%s" as wrong usage', (line) => {
    expect(() => parseCommand(line.split(' '))).toThrow(UsageError);
  });
});

describe('charts to other formats, and given lines', () => {
  it('are asked for by name', () => {
    expect(parseCommand('chart a.abc --to musicxml --key Eb --out b.musicxml'.split(' '))).toMatchObject({
      format: 'musicxml',
      key: { tonic: 'Eb' },
      out: 'b.musicxml',
    });
    expect(parseCommand(['finger', 'Bb1 C2 D2', '--way', 'usual'])).toMatchObject({
      line: 'Bb1 C2 D2',
      way: 'usual',
    });
    expect(() => parseCommand(['chart', 'a.abc', '--to', 'pdf'])).toThrow(/--to takes/);
    expect(() => parseCommand(['finger', 'a', '--way', 'odd'])).toThrow(UsageError);
  });
});

describe('pins and shares as typed', () => {
  it('name a note, a note in any octave, a string, or note and string', () => {
    expect(parsePin('3.1=Bb1@IV')).toEqual({ bar: 3, beat: 1, midi: 34, string: 4 });
    expect(parsePin('3.1=bb')).toEqual({ bar: 3, beat: 1, pitchClass: 10 });
    expect(parsePin('12.2.5=@ii')).toEqual({ bar: 12, beat: 2.5, string: 2 });
    expect(parsePin('12.2.5=@d')).toEqual({ bar: 12, beat: 2.5, string: 2 });
    expect(parsePin('3.1=Bb1@E')).toEqual(parsePin('3.1=Bb1@IV'));
    expect(parseShare('neck-block=0.25')).toEqual({ region: 'neck block', share: 0.25 });
  });

  it.each(['', '3=Bb1', '3.1', '3.1=', '3.1=@V', '3.1=@B', '3.1=@', '3.1=Bb9', '3.1=1', 'x.y=F'])(
    'refuse "%s" with a sentence',
    (text) => {
      expect(parsePin(text)).toMatch(/^--pin takes/);
    },
  );

  it.each(['', 'low', 'low=', 'low=2', 'low=-1', 'high=0.1', 'low=0.1=2'])(
    'refuse the share "%s"',
    (text) => {
      expect(parseShare(text)).toMatch(/^--region-share takes/);
    },
  );
});
