// The devices of the line that is shown, or of several, counted beside how often people play them.
import { countDevices, deviceOf, type ComparedShare } from '../../pipeline';
import type { ShownLine } from '..';

export interface CountRow {
  readonly name: string;
  readonly count: number;
  readonly compared: readonly ComparedShare[];
}

/** Those that the lines have together, or that people's figures are known of. */
export function devicesIn(lines: readonly Pick<ShownLine, 'line' | 'timeline'>[]): readonly CountRow[] {
  const counts = countDevices(
    lines.map(({ line, timeline }) => ({
      notes: line.notes,
      devices: line.devices,
      bars: timeline.bars.length,
    })),
  );
  return counts
    .filter(({ count, compared }) => count > 0 || compared.length > 0)
    .map(({ device, count, compared }) => ({ name: deviceOf(device).name, count, compared }));
}
