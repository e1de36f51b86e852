// Sets the theme before the first picture, so that the stage theme never flashes white. A file of its own because the
// page's security policy allows no script inside the page.
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
})();
