// Sets the theme before the first picture, so that the stage theme never flashes white, and says whether this is a first
// visit, whose picture comes with the page. A file of its own because the page's security policy allows no script inside it.
(function () {
  var theme = null;
  try {
    theme = JSON.parse(localStorage.getItem('ramble.preferences') || '{}').theme;
  } catch (_) {
    theme = null;
  }
  if (theme !== 'day' && theme !== 'stage') {
    theme = matchMedia('(prefers-color-scheme: dark)').matches ? 'stage' : 'day';
  }
  document.documentElement.dataset.theme = theme;
  // Who has been here, or follows a link, is to see a study of their own: the first one would only flash before it.
  var isKnown = location.hash !== '';
  try {
    isKnown = isKnown || /(^|,)ramble\./.test(Object.keys(localStorage).concat(Object.keys(sessionStorage)));
  } catch (_) {
    // A browser that keeps nothing always opens on the first study.
  }
  if (!isKnown) document.documentElement.dataset.visit = 'first';
})();
