// The first picture as a piece of the page; run when the program is built.
import { render } from 'svelte/server';
import type { Instrument } from '../../instrument';
import type { Line, Timeline } from '../../pipeline';
import FirstPicture from './FirstPicture.svelte';

/** Drawings that scale with the room they get, to the hundredth of a pixel; what draws nothing is left out. */
const scalable = (html: string): string =>
  html
    .replaceAll(/<!--.*?-->|<path\b[^>]*\sd=""[^>]*><\/path>/g, '')
    .replaceAll(/\d+\.\d{3,}/g, (number) => String(Number(Number(number).toFixed(2))))
    .replaceAll(
      /(<svg\b[^>]*?) width="([\d.]+)" height="([\d.]+)"/g,
      '$1 width="$2" height="$3" viewBox="0 0 $2 $3"',
    );

/** HTML without any style attribute, which the page's security policy would not let pass. */
export const firstPicture = (props: {
  readonly title: string;
  readonly timeline: Timeline;
  readonly line: Line;
  readonly instrument: Instrument;
}): string => scalable(render(FirstPicture, { props }).body);
