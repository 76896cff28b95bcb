// The print button of a print page; it stays hidden where there is no script, as the browser's own menu prints too.

for (const button of document.querySelectorAll("[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
