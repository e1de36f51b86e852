// Which panels are open: one drawer, one small panel and one dialog at most.

export type DrawerName = 'changes' | 'studies';
export type SmallPanelName =
  'hand' | 'limits' | 'take' | 'save' | 'menu' | 'beat' | 'tempo' | 'loop' | 'parts' | 'choruses';
export type DialogName = 'shortcuts' | 'about';

export class Panels {
  #drawer = $state<DrawerName | null>(null);
  #small = $state<SmallPanelName | null>(null);
  #dialog = $state<DialogName | null>(null);

  get drawer(): DrawerName | null {
    return this.#drawer;
  }
  get small(): SmallPanelName | null {
    return this.#small;
  }
  get dialog(): DialogName | null {
    return this.#dialog;
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
    else if (this.#drawer) this.#drawer = null;
    else return false;
    return true;
  }
}
