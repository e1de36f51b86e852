// What tells a link of ours from any other fragment of an address, without the code that reads one.

/** True where a fragment is meant as a study: its version stands first. It may still be cut or of a later version. */
export const isStudyFragment = (fragment: string): boolean => /^#?\d{1,4}\./.test(fragment);
