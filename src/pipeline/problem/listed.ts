/** Words in a row as a sentence says them: "a", "a and b", "a, b and c". */
export const listedBy = (words: readonly string[], by: 'and' | 'or'): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} ${by} ${words.at(-1)!}`;
