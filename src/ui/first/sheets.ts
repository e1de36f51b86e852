// The kinds of screen that the first picture is engraved for.

/** Width of the staff in pixels by the kind of screen, by the names the style sheet knows them by. */
export const sheetWidths = {
  phone: 358,
  'large-phone': 560,
  tablet: 736,
  'wide-tablet': 992,
  notebook: 888,
  desk: 1048,
  'wide-desk': 1528,
} as const;

/** Systems that begin further down, in pixels, are left to the program; a desk shows a twelve-bar form whole. */
export const mostHeightFor = (width: number): number => (width >= 1000 ? 440 : 330);
