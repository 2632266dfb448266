// The server sets data-theme where it knows what was chosen. The field card's page is kept on the phone as it looks to
// somebody who chose nothing: there the cookie decides, before the first paint.
(() => {
  const root = document.documentElement;
  if (root.dataset.theme !== undefined) return;
  const kept = document.cookie.split('; ').find((part) => part.startsWith('evenloop-display='));
  if (kept === undefined) return;
  const chosen = new URLSearchParams(decodeURIComponent(kept.slice('evenloop-display='.length)));
  const theme = chosen.get('appearance');
  if (theme !== 'light' && theme !== 'dark') return;
  root.dataset.theme = theme;
  document.addEventListener('DOMContentLoaded', () => {
    for (const meta of document.querySelectorAll('meta[name="color-scheme"]')) meta.content = theme;
    const bars = [...document.querySelectorAll('meta[name="theme-color"]')];
    const own = bars.find(({ media }) => media.includes(theme));
    for (const bar of own === undefined ? [] : bars) bar.content = own.content;
  });
})();
