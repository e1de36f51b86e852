// The letters of the page, carried in the file itself: it must look the same where nothing can be fetched.
import serifBold from '../../static/fonts/alegreya-700-normal.woff2?inline';
import sans from '../../static/fonts/alegreya-sans-400-normal.woff2?inline';
import sansBold from '../../static/fonts/alegreya-sans-700-normal.woff2?inline';
import notes from '../../static/fonts/ramble-notes.woff2?inline';

const faces = [
  { family: 'Alegreya', weight: 700, source: serifBold },
  { family: 'Alegreya Sans', weight: 400, source: sans },
  { family: 'Alegreya Sans', weight: 700, source: sansBold },
  { family: 'Ramble Notes', weight: 400, source: notes },
] as const;

/** Style sheet with the fonts as data. */
export const fontFaces: string = faces
  .map(
    ({ family, weight, source }) =>
      `@font-face{font-family:"${family}";font-weight:${weight};src:url("${source}") format("woff2")}`,
  )
  .join('\n');
