// The files a study can leave as.
import { straightRatio, type Bpm } from '../music';
import { positionName } from '../instrument';
import type { Feel, Line, Timeline } from '../pipeline';
import { toMidi, toMusicXml, usualSwing } from '../export';

export const exportKinds = ['musicxml', 'mid'] as const;
/** Kinds of file, named by their ending. */
export type ExportKind = (typeof exportKinds)[number];

export interface ExportFile {
  readonly kind: ExportKind;
  readonly type: string;
  readonly content: string | Uint8Array;
}

export interface ExportRequest {
  readonly timeline: Timeline;
  readonly line: Line;
  /** As it is heard, which may differ from the chart's. */
  readonly tempo: Bpm;
  /** First eighth over the second; null lets the tempo decide. */
  readonly swing: number | null;
  /** Approaches and devices are told in MusicXML. */
  readonly withDevices?: boolean;
  /** The same notes held otherwise: both fingerings stand in MusicXML. */
  readonly otherFingers?: Line | null;
}

/** The swing that is heard: straight where the feel is, else as set, else what bands play at the tempo. */
export function swingOf(feel: Feel, tempo: Bpm, swing: number | null): number {
  const usual = usualSwing(feel, tempo);
  return usual === straightRatio ? usual : (swing ?? usual);
}

/** Makes a file of the line. */
export function exportFile(
  kind: ExportKind,
  { timeline, line, tempo, swing, withDevices = false, otherFingers = null }: ExportRequest,
): ExportFile {
  const played = { ...timeline, tempo };
  const options = { swing: swingOf(timeline.feel, tempo, swing), positionName, withDevices, otherFingers };
  return kind === 'musicxml'
    ? { kind, type: 'application/vnd.recordare.musicxml+xml', content: toMusicXml(played, line, options) }
    : { kind, type: 'audio/midi', content: toMidi(played, line, options) };
}
