// How fitted tables are written: JSON with arrays and objects of numbers on one line each.

/** Text of a file. */
export const written = (values: unknown): string =>
  `${JSON.stringify(values, null, 2)
    .replace(/\[[-\d.,\s]+\]/g, (array) => array.replace(/\s+/g, ' ').replace('[ ', '[').replace(' ]', ']'))
    .replace(/\{(\s+"\w+": -?[\d.]+,?)+\s+\}/g, (object) => object.replace(/\s+/g, ' '))}\n`;
