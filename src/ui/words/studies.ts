// The words of the drawer of studies.

export const studies = {
  title: 'Studies',
  demos: 'To start from',
  saved: 'Yours',
  search: 'Search by title',
  noneFound: 'No study of yours has that in its title.',
  none: 'Nothing saved yet. A study is saved by itself with its first change.',
  memory: 'Kept only until this page is closed.',
  isOpen: 'open now',
  rename: 'Rename',
  renameLabel: 'Title of the study',
  duplicate: 'Duplicate',
  remove: 'Remove',
  toFile: 'Save to a file',
  fromFile: 'Open a study file',
  blank: 'Blank chart',
  blankText: 'Title: New study\nKey: C\nMeter: 4/4\nTempo: 120\nFeel: swing\n\n| C6 |\n',
  copyTitle: (title: string): string => `${title} (copy)`,
  of: (action: string, title: string): string => `${action}: ${title}`,
} as const;
