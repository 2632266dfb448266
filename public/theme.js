// Applies a remembered appearance before the first paint. Without one the system decides.
(() => {
  try {
    const theme = localStorage.getItem('evenloop-theme');
    if (theme === 'light' || theme === 'dark') document.documentElement.dataset.theme = theme;
  } catch {
    // Storage is closed to us (private window, blocked cookies): the system's choice stands.
  }
})();
