import { strToU8, zipSync, zlibSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { chartToMusicXml } from '../../../src/export';
import kinds from '../../../shared/files/kinds.json' with { type: 'json' };
import { parseCommand } from '../../../src/cli/arguments';
import { chartOutcome, fingerOutcome, walkOutcome } from '../../../src/cli/commands';
import { decodeText, readChart, readChartFile, readGivenLine } from '../../../src/pipeline';
import { importFile, mostFileBytes } from '../../../src/pipeline/1-chart/import';
import { openedAs } from '../../../src/state/chart-file';
import { comparable } from './any-chart';

const { chart } = readChart('Title: Ours ♭\nKey: F\n| F7 | Bb7 |');
const score = chartToMusicXml(chart);
const container = (path: string): Uint8Array =>
  strToU8(
    `<?xml version="1.0"?><container><rootfiles><rootfile full-path="${path}" media-type="application/vnd.recordare.musicxml+xml"/></rootfiles></container>`,
  );
const codes = (bytes: Uint8Array): string[] => importFile(bytes).problems.map(({ code }) => code);

function utf16(text: string, littleEndian: boolean): Uint8Array {
  const view = new DataView(new ArrayBuffer(2 * text.length + 2));
  [0xfeff, ...Array.from({ length: text.length }, (_, index) => text.charCodeAt(index))].forEach(
    (unit, index) => view.setUint16(2 * index, unit, littleEndian),
  );
  return new Uint8Array(view.buffer);
}

describe('compressed MusicXML', () => {
  it('holds the score that its container names', () => {
    const archive = zipSync({
      mimetype: [strToU8('application/vnd.recordare.musicxml'), { level: 0 }],
      'META-INF/container.xml': container('music/score.musicxml'),
      'other.xml': strToU8('<score-partwise/>'),
      'music/score.musicxml': strToU8(score),
    });
    expect(comparable(importFile(archive).chart)).toEqual(comparable(chart));
  });

  it('is read without a container too', () => {
    expect(comparable(importFile(zipSync({ 'a.xml': strToU8(score) })).chart)).toEqual(comparable(chart));
  });

  it('tells when it holds no score or is damaged', () => {
    expect(codes(zipSync({ 'a.txt': strToU8('no') }))).toEqual(['mxl-no-score']);
    const whole = zipSync({ 'a.xml': strToU8(score) });
    const damaged = whole.slice();
    damaged.fill(0xff, 40, 120);
    expect(['mxl-broken', 'mxl-no-score', 'xml-broken']).toContain(codes(damaged)[0]);
    expect(codes(whole.subarray(0, 60))).toHaveLength(1);
  });

  it('is refused when it would unpack to too much, whatever size it declares', () => {
    const bomb = zipSync({ 'score.xml': new Uint8Array(50 * 1024 * 1024) });
    expect(bomb.length).toBeLessThan(60_000);
    expect(codes(bomb)).toEqual(['mxl-large']);
    // The size stands in the local header, and again in the directory at the end.
    const lying = bomb.slice();
    const view = new DataView(lying.buffer);
    view.setUint32(22, 1000, true);
    for (let at = 0; at + 28 < lying.length; at += 1) {
      if (view.getUint32(at, true) === 0x02014b50) view.setUint32(at + 24, 1000, true);
    }
    expect(codes(lying)).toEqual(['mxl-large']);
  });
});

describe('text', () => {
  it.each([
    ['UTF-8', strToU8(score)],
    ['UTF-8 with a mark', new Uint8Array([0xef, 0xbb, 0xbf, ...strToU8(score)])],
    ['UTF-16, low byte first', utf16(score, true)],
    ['UTF-16, high byte first', utf16(score, false)],
  ])('is read in %s', (_, bytes) => {
    expect(importFile(bytes).chart.header.title).toBe('Ours ♭');
  });

  it('is read in the encoding that it names', () => {
    const text = score.replace('encoding="UTF-8"', 'encoding="ISO-8859-1"').replace('Ours ♭', 'Th\u00e8me');
    expect(importFile(Uint8Array.from(text, (one) => one.charCodeAt(0))).chart.header.title).toBe(
      'Th\u00e8me',
    );
  });

  const ours = 'Title: Thème du soir – “Ours”\n| F7 | B♭7 |\n';
  const latin = ours.replace('–', '-').replace(/[“”]/g, '"').replace('♭', 'b');
  const bytesOf = (text: string): Uint8Array => Uint8Array.from(text, (one) => one.charCodeAt(0));
  it.each([
    ['UTF-8', strToU8(ours), ours],
    ['UTF-16 with a mark', utf16(ours, true), ours],
    ['UTF-16 without one, low byte first', utf16(ours, true).subarray(2), ours],
    ['UTF-16 without one, high byte first', utf16(ours, false).subarray(2), ours],
    ['Latin-1', bytesOf(latin), latin],
    // 0x93, 0x94 and 0x96 are the quotation marks and the dash of windows-1252 (encoding.spec.whatwg.org, index windows-1252).
    ['windows-1252', bytesOf('Title: \x93Ours\x94 \x96 two\n| F7 |\n'), 'Title: “Ours” – two\n| F7 |\n'],
  ])('of our own is read the same by every reader, in %s', (_, bytes, text) => {
    expect(decodeText(bytes)).toBe(text);
    const { title } = readChart(text).chart.header;
    expect(importFile(bytes).chart.header.title).toBe(title);
    expect(openedAs(readChartFile(bytes))).toMatchObject({ kind: 'opened', text });
    const command = parseCommand(['chart', 'x', '--format', 'text']);
    if (command.command !== 'chart') throw new Error('not a chart');
    expect(chartOutcome(bytes, 'x', command).output).toContain(title);
  });

  it('of notes is read in UTF-16 and Latin-1, too', () => {
    expect(readGivenLine(utf16('F1 A1 C2', true)).notes).toHaveLength(3);
    expect(readGivenLine(bytesOf('F1 A1 C2 \u00e9')).problems[0]!.message).toContain('“é”');
  });

  it('of our own charts is read as such', () => {
    const reading = importFile(strToU8('| F7 | Bb7 |'));
    expect(reading.kind).toBe('text');
    expect(reading.chart.bars).toHaveLength(2);
  });
});

describe('files of another kind', () => {
  const rows = kinds.rows.map(({ name, bytes }) => ({
    name,
    bytes: bytes.split(' ').map((byte) => (byte === '??' ? 0x2a : parseInt(byte, 16))),
  }));
  it.each(rows)('are refused by their name: $name', ({ name, bytes }) => {
    const file = new Uint8Array(2000).map((_, index) => (index * 37) % 251);
    // Nothing that another row knows.
    file.fill(0x2a, 0, 16);
    file.set(bytes);
    const { chart: read, problems } = importFile(file);
    expect(read.bars).toEqual([]);
    expect(problems.map(({ message }) => message)).toEqual([
      `This is ${name}, not a chart; save the changes as plain text, MusicXML or ABC.`,
    ]);
  });

  it.each([...kinds.rows, ...kinds.archives.rows])('$name has a source', ({ source }) => {
    expect(source).toMatch(/\S{3}/);
  });

  it.each(['Title: AWAVE\n| C7 |', 'Title: AWEBP\n| C7 |', 'Thisftyp\n| C7 |'])(
    'are not seen in text that only has their letters: %j',
    (text) => {
      expect(importFile(strToU8(text)).chart.bars).toHaveLength(1);
    },
  );

  it('are refused by what their archive holds', () => {
    const document = zipSync({
      '[Content_Types].xml': strToU8('<Types/>'),
      'word/document.xml': strToU8('<x/>'),
    });
    expect(importFile(document).problems[0]!.message).toContain('a document of a word processor');
    const page = strToU8('<!DOCTYPE html>\n<html><body>| F7 |</body></html>');
    expect(importFile(page).problems[0]!.message).toContain('a page of the web');
  });

  it('are refused in one sentence by every command', () => {
    const pdf = strToU8('%PDF-1.7\n\x00 | F7 | Bb7 |\n');
    for (const [argv, outcomeOf] of [
      [['walk', 'x'], walkOutcome],
      [['chart', 'x'], chartOutcome],
      [['finger', 'x'], fingerOutcome],
    ] as const) {
      const outcome = outcomeOf(pdf, 'x', parseCommand(argv) as never);
      expect(outcome.exitCode).toBe(1);
      expect(outcome.output).toBe('');
      expect(outcome.messages[0]).toContain('This is a PDF, not a chart');
      expect(outcome.messages.length).toBeLessThanOrEqual(2);
    }
  });
});

it('refuses what is empty, too large, or no text', () => {
  expect(codes(new Uint8Array())).toEqual(['file-empty']);
  expect(codes(new Uint8Array(mostFileBytes + 1))).toEqual(['file-large']);
  expect(codes(zlibSync(strToU8(score)))).toEqual(['file-binary']);
});
