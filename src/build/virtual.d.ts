/** The answer for the first study, packed; null while developing. Made by first-line.ts. */
declare module 'virtual:first-line' {
  const packed: string | null;
  export default packed;
}
/** The tests of an area, read in the order they are named. Made by mutate.config.ts. */
declare module 'virtual:named-tests';
