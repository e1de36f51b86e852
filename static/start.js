// Starts the program. On a first visit the picture that comes with the page is painted first, its music letters included:
// running the program takes longer than that, and holds every picture back. A file of its own like theme.js.
const program = document.querySelector('link[data-program]').href;
const waited = (milliseconds) => new Promise((done) => setTimeout(done, milliseconds));
/** After the next picture, or a while later where the page is not shown. */
const painted = () =>
  Promise.race([new Promise((done) => requestAnimationFrame(() => setTimeout(done))), waited(1000)]);

if (document.documentElement.dataset.visit === 'first' && document.visibilityState === 'visible') {
  // Only a page that has been laid out knows which fonts it needs. They are fetched along with the program and are smaller.
  await painted();
  await Promise.race([document.fonts.ready, waited(2000)]);
  await painted();
}
await import(program);
