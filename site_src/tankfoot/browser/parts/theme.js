/* Runs before the page is drawn, so that it never flashes in the wrong light. */
(() => {
  const light = matchMedia("(prefers-color-scheme: light)");
  const chosen = () => {
    try {
      return JSON.parse(localStorage.getItem("tankfoot-settings") ?? "{}").theme;
    } catch {
      return "auto"; // storage refused or damaged: the phone's own light holds
    }
  };
  const apply = () => {
    const theme = chosen();
    const resolved = theme === "light" || theme === "dark" ? theme : light.matches ? "light" : "dark";
    document.documentElement.dataset.theme = resolved;
  };
  apply();
  light.addEventListener("change", apply);
  addEventListener("tankfoot-theme", apply);
})();
