// Notes of terms: placed within the window, shown on a first tap, hidden by Escape. Without this script they
// still show on hover and focus, and a tap leads to the glossary.

const GAP = 8;

function place(term) {
  const note = term.querySelector(".term-note");
  note.classList.add("is-placed");
  const word = term.querySelector(".term-word").getBoundingClientRect();
  const size = note.getBoundingClientRect();
  const right = document.documentElement.clientWidth - GAP;
  const below = word.bottom + size.height + GAP <= window.innerHeight || word.top < size.height + GAP;
  note.style.left = `${Math.max(GAP, Math.min(word.left, right - size.width))}px`;
  note.style.top = `${below ? word.bottom : word.top - size.height}px`;
}

function close(except) {
  for (const note of document.querySelectorAll(".term-note.is-open")) {
    if (note.parentElement !== except) note.classList.remove("is-open");
  }
}

for (const kind of ["pointerover", "focusin"]) {
  document.addEventListener(kind, (event) => {
    const term = event.target.closest?.(".term");
    if (term) place(term);
  });
}

// A word that was hushed speaks again once the pointer or the focus has left it.
for (const kind of ["pointerout", "focusout"]) {
  document.addEventListener(kind, (event) => {
    const term = event.target.closest?.(".term");
    if (term && !term.contains(event.relatedTarget)) term.classList.remove("is-hushed");
  });
}

document.addEventListener("click", (event) => {
  const term = event.target.closest(".term");
  close(term);
  const word = event.target.closest(".term-word");
  if (!word || event.pointerType !== "touch") return;
  const note = term.querySelector(".term-note");
  if (note.classList.contains("is-open")) return;
  event.preventDefault();
  note.classList.add("is-open");
  place(term);
});

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  close(null);
  for (const term of document.querySelectorAll(".term:hover, .term:focus-within")) term.classList.add("is-hushed");
});

document.addEventListener("scroll", () => {
  for (const term of document.querySelectorAll(".term:hover, .term:focus-within")) place(term);
  for (const note of document.querySelectorAll(".term-note.is-open")) place(note.parentElement);
}, { passive: true, capture: true });
