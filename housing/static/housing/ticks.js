// Ticking many rows: one box ticks all rows of the page, and the bar below says how many are ticked.
// A form marked data-ticks holds the table; data-ticked says it in the reader's words, with {n} for the number. Its rows' boxes are in cells of class "tick".

for (const form of document.querySelectorAll("form[data-ticks]")) {
  const all = form.querySelector("[data-tick-all]");
  const said = form.querySelector("[data-ticked]");
  const rows = () => [...form.querySelectorAll("td.tick input[type=checkbox]")];
  const atFirst = said?.textContent;

  const show = () => {
    const ticked = rows().filter((box) => box.checked).length;
    if (said) said.textContent = ticked ? (said.dataset.ticked || "{n} ticked").replace("{n}", ticked) : atFirst;
    if (!all) return;
    all.checked = ticked > 0 && ticked === rows().length;
    all.indeterminate = ticked > 0 && !all.checked;
  };

  if (all) {
    all.hidden = false;
    all.addEventListener("change", () => {
      for (const box of rows()) box.checked = all.checked;
      show();
    });
  }
  form.addEventListener("change", show);
  show();
}
