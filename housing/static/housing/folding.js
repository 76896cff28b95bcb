// Enclosures that fold by a slider: sets what folding.css works with. A figure marked data-folding holds panels
// whose data-set names properties and their numbers; pages swap figures in while something is tried.

(() => {
  const kept = { share: 0, turn: null }; // so that a figure swapped in stands as the one before it did

  const set = (element) => {
    const words = element.dataset.set.split(" ");
    for (let i = 0; i + 1 < words.length; i += 2) element.style.setProperty(`--${words[i]}`, words[i + 1]);
  };

  const start = (figure) => {
    if (figure.dataset.ready) return;
    figure.dataset.ready = "yes";
    const fold = figure.querySelector("input[name=fold]");
    const turn = figure.querySelector("input[name=turn]");
    const steps = [...figure.querySelectorAll(".fold-steps li")];
    const last = Number(fold.max);

    const words = (value) => {
      if (value === 0) return "flat";
      if (value === last) return "closed";
      const done = Math.floor(value);
      if (value === done) return `${steps[done - 1].textContent}, step ${done} of ${last}`;
      return `${steps[done].textContent}, ${Math.round((value - done) * 100)} % of step ${done + 1} of ${last}`;
    };

    const show = () => {
      const value = Number(fold.value);
      figure.style.setProperty("--fold", value);
      figure.style.setProperty("--turn", turn.value);
      fold.setAttribute("aria-valuetext", words(value));
      turn.setAttribute("aria-valuetext", `${turn.value} degrees`);
      steps.forEach((step, i) => {
        step.classList.toggle("is-done", value >= i + 1);
        if (value > i && value <= i + 1) step.setAttribute("aria-current", "step");
        else step.removeAttribute("aria-current");
      });
      kept.share = value / last;
      kept.turn = turn.value;
    };

    for (const input of [fold, turn])
      input.addEventListener("input", () => {
        figure.classList.remove("is-stepping");
        show();
      });
    for (const button of figure.querySelectorAll("[data-fold]"))
      button.addEventListener("click", () => {
        const next = Math.min(Math.floor(Number(fold.value)) + 1, last);
        fold.value = { flat: 0, next, closed: last }[button.dataset.fold];
        figure.classList.add("is-stepping");
        show();
      });

    for (const element of [figure, ...figure.querySelectorAll("[data-set]")]) set(element);
    fold.value = kept.share * last;
    if (kept.turn !== null) turn.value = kept.turn;
    show();
    figure.hidden = false;
  };

  const find = (place) => {
    for (const figure of place.querySelectorAll("[data-folding]")) start(figure);
  };
  document.addEventListener("htmx:load", (event) => find(event.detail.elt.parentNode ?? document));
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", () => find(document));
  else find(document);
})();
