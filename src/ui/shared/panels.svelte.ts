// Which panels are open: one drawer, one small panel and one dialog at most; and which part of the board is seen.
import type { Region } from '../../instrument';

export type DrawerName = 'changes' | 'studies' | 'lessons';
export type SmallPanelName =
  'hand' | 'limits' | 'take' | 'save' | 'print' | 'menu' | 'beat' | 'tempo' | 'loop' | 'parts' | 'choruses';
export type DialogName = 'shortcuts' | 'about';
/** What fills the whole screen, large: for a music stand, or for a class. */
export type LargeName = 'stand' | 'projector';
/** What takes the place of the sheet. */
export type PageName = 'both ways' | 'night' | 'auditions' | 'round';

/** A file with a line, on its way to the page that fingers lines. */
export interface LineFile {
  readonly name: string;
  readonly file: Uint8Array;
  /** The part that was chosen, counted from 1; null for the one most like a bass line. */
  readonly part: number | null;
}

export class Panels {
  #drawer = $state<DrawerName | null>(null);
  #small = $state<SmallPanelName | null>(null);
  #dialog = $state<DialogName | null>(null);
  #large = $state<LargeName | null>(null);
  #page = $state<PageName | null>(null);
  #view = $state<Region | null>(null);
  #isDrawing = $state(false);
  #line: LineFile | null = null;

  get drawer(): DrawerName | null {
    return this.#drawer;
  }
  get small(): SmallPanelName | null {
    return this.#small;
  }
  get dialog(): DialogName | null {
    return this.#dialog;
  }

  /** The region of the board that fills its view, null for the whole board. */
  get view(): Region | null {
    return this.#view;
  }
  setView(region: Region | null): void {
    this.#view = region;
  }

  /** The shape of the line is being drawn on the sheet. */
  get isDrawing(): boolean {
    return this.#isDrawing;
  }
  startDrawing(): void {
    this.#small = null;
    this.#page = null;
    this.#isDrawing = true;
  }
  stopDrawing(): void {
    this.#isDrawing = false;
  }

  get page(): PageName | null {
    return this.#page;
  }
  togglePage(name: PageName): void {
    this.#small = null;
    this.#page = this.#page === name ? null : name;
  }
  /** Opens the page of lines that are given with this one on it. */
  openLine(line: LineFile): void {
    this.#small = null;
    this.#drawer = null;
    this.#line = line;
    // A page that is open begins again.
    this.#page = null;
    void Promise.resolve().then(() => {
      this.#page = 'both ways';
    });
  }
  /** The line that was brought, once. */
  takeLine(): LineFile | null {
    const line = this.#line;
    this.#line = null;
    return line;
  }
  /** Opens a page without what lies beside the sheet. */
  openPage(name: PageName): void {
    this.#small = null;
    this.#drawer = null;
    this.#page = name;
  }
  closePage(): void {
    this.#page = null;
  }

  /** The large view that fills the screen. */
  get large(): LargeName | null {
    return this.#large;
  }
  openLarge(name: LargeName): void {
    this.#small = null;
    this.#large = name;
  }
  closeLarge(): void {
    this.#large = null;
  }

  toggleDrawer(name: DrawerName): void {
    this.#small = null;
    this.#drawer = this.#drawer === name ? null : name;
  }
  openDrawer(name: DrawerName): void {
    this.#small = null;
    this.#drawer = name;
  }
  closeDrawer(): void {
    this.#drawer = null;
  }
  toggle(name: SmallPanelName): void {
    this.#small = this.#small === name ? null : name;
  }
  close(): void {
    this.#small = null;
  }
  openDialog(name: DialogName): void {
    this.#small = null;
    this.#dialog = name;
  }
  closeDialog(): void {
    this.#dialog = null;
  }
  /** Closes what lies on top; false when nothing was open. */
  closeTop(): boolean {
    if (this.#small) this.#small = null;
    else if (this.#large) this.#large = null;
    else if (this.#isDrawing) this.#isDrawing = false;
    else if (this.#drawer) this.#drawer = null;
    else if (this.#page) this.#page = null;
    else if (this.#view) this.#view = null;
    else return false;
    return true;
  }
}
