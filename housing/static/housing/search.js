// The search field of every page: "/" leads to it, and what is found while one types can be chosen by arrow keys.
// Without this script Enter shows what is found as a page. The lines themselves are fetched by htmx.

const field = document.getElementById("find-all");
const found = document.getElementById("found-all");

if (field && found) {
  const options = () => [...found.querySelectorAll('[role="option"]')];
  const chosen = () => found.querySelector('[aria-selected="true"]');

  field.setAttribute("role", "combobox");
  field.setAttribute("aria-expanded", "false");
  field.setAttribute("aria-autocomplete", "list");
  field.setAttribute("aria-controls", "found-all");

  const choose = (option) => {
    chosen()?.setAttribute("aria-selected", "false");
    if (option) {
      option.setAttribute("aria-selected", "true");
      option.scrollIntoView({ block: "nearest" });
      field.setAttribute("aria-activedescendant", option.id);
    } else {
      field.removeAttribute("aria-activedescendant");
    }
  };

  const show = (isOpen) => {
    found.hidden = !isOpen;
    field.setAttribute("aria-expanded", String(isOpen && options().length > 0));
    if (!isOpen) choose(null);
  };

  const moveBy = (step) => {
    const all = options();
    if (!all.length) return;
    if (found.hidden) show(true);
    const at = all.indexOf(chosen());
    const next = at < 0 ? (step > 0 ? 0 : all.length - 1) : at + step;
    choose(all[next] ?? null); // past either end one is back in the field
  };

  field.addEventListener("keydown", (event) => {
    if (event.isComposing) return;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      moveBy(event.key === "ArrowDown" ? 1 : -1);
    } else if (event.key === "Enter" && chosen() && !found.hidden) {
      event.preventDefault();
      location.assign(chosen().href);
    } else if (event.key === "Escape" && !found.hidden) {
      event.preventDefault();
      show(false);
    }
  });
  field.addEventListener("focus", () => found.firstElementChild && field.value && show(true));
  found.addEventListener("htmx:afterSwap", () => {
    choose(null);
    show(Boolean(field.value.trim()) && document.activeElement === field);
  });
  field.addEventListener("input", () => field.value.trim() || show(false));

  document.addEventListener("pointerdown", (event) => {
    if (!event.target.closest?.(".find")) show(false);
  });
  field.form.addEventListener("focusout", (event) => {
    if (event.relatedTarget && !field.form.contains(event.relatedTarget)) show(false);
  });
  document.addEventListener("keydown", (event) => {
    const isTyping = event.target.closest?.('input, textarea, select, [contenteditable="true"], [role="textbox"]');
    if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || isTyping) return;
    event.preventDefault();
    field.focus();
    field.select();
  });
}
