// What is said about wishes for the line.
import type { LineShape } from '../../pipeline';

/** Name and ends of each wish that is set by a handle. */
export const sliders = {
  bold: { label: 'Plain or bold', least: 'plain', most: 'bold' },
  leaps: { label: 'Steps or leaps', least: 'steps', most: 'leaps' },
  outside: { label: 'Inside or outside', least: 'inside', most: 'outside' },
  density: { label: 'Fills: skips, drops, triplets, anticipations', least: 'none', most: 'many' },
  build: { label: 'Build from chorus to chorus', least: 'even', most: 'strong' },
  temperature: { label: 'Variety', least: 'the one best line', most: 'as people play' },
} as const;

/** A value of a wish for a voice: how far to which end. */
export function wishInWords(name: keyof typeof sliders, value: number, usual: number): string {
  const { least, most } = sliders[name];
  const percent = Math.round(Math.abs(value) * 100);
  if (value < 0) return `${percent} % to ${least}`;
  if (value === usual && usual === 0) return least === 'none' || least === 'even' ? least : 'as people play';
  return value === 0 ? least : `${percent} % to ${most}`;
}

export const shapeWords: Readonly<Record<LineShape, string>> = {
  stay: 'keeps its height',
  climb: 'climbs',
  fall: 'falls',
  arch: 'rises and falls',
};

export const words = {
  title: 'The line',
  usual: 'In the middle: as people play.',
  reset: 'As people play',
  choruses: 'Ask for more than one chorus to hear a build.',
  shape: 'Shape',
  everySection: 'every section',
  wholeForm: 'the whole form',
  section: (name: string): string => `section ${name}`,
  free: 'free',
  draw: 'Draw the shape on the sheet',
  clear: 'Clear what is drawn',
  drawing:
    'Drag in the strip under the music: the top is low on the neck, the bottom high. The line leans towards it.',
  done: 'Done',
  barHeight: (bar: number): string => `Height in bar ${bar}`,
  heightOf: (height: number | null): string =>
    height === null ? 'free' : `${Math.round(height * 100)} % of the way up`,
  help: 'Arrow keys: up for higher, down for lower, Delete for free.',
} as const;
