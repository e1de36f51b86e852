// Words of the lessons' data, checked as they are read.

/** The word of a list that a text is; the data is tested, so a stranger is a fault of the program. */
export function wordOf<T extends string>(words: readonly T[], text: string): T {
  const found = words.find((word) => word === text);
  if (found === undefined) throw new RangeError(`lessons: "${text}" is none of ${words.join(', ')}`);
  return found;
}
