// The moment after a picture: what was changed just now is on the screen.

/** Longest wait in milliseconds: a page that is not shown is not painted at all. */
const patience = 250;

/** Calls back once the page as it is now has been painted; after a short while where it is not. */
export function onpainted(then: () => void): void {
  let isDone = false;
  const finish = (): void => {
    if (isDone) return;
    isDone = true;
    clearTimeout(timer);
    then();
  };
  const timer = setTimeout(finish, patience);
  // The frame is painted when its callbacks have run; what is scheduled in one comes after that.
  requestAnimationFrame(() => setTimeout(finish));
}
