// Runs before the first paint, so that a dark room is never flashed with white.
try {
  const chosen = localStorage.getItem("theme");
  if (chosen === "light" || chosen === "dark") {
    document.documentElement.dataset.theme = chosen;
  }
} catch {
  // Storage can be shut off; then the device's own setting stands.
}
