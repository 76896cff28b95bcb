// Moving work by hand: a bundle is dragged by its handle onto another person's lane. What is sent then is the
// same form that ticks and the list of people send without script. Works with mouse, pen and finger.

const STARTS_AT = 6; // pixels from where the pointer went down, so that a click is no drag

for (const form of document.querySelectorAll("form[data-weeks]")) {
  let held = null;

  const laneAt = (event) => document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-lane]");

  const mark = (lane) => {
    for (const other of form.querySelectorAll(".lane-over")) other.classList.remove("lane-over");
    if (lane && lane !== held.from) lane.classList.add("lane-over");
  };

  const letGo = () => {
    held?.bundle.classList.remove("bundle-held");
    if (held) for (const name of ["translate", "left", "top", "width"]) held.bundle.style[name] = "";
    if (held) held.from.style.minHeight = "";
    mark(null);
    held = null;
  };

  // From its place on the page onto the pointer, over whatever scrolls. Its lane stays as high as it was, so
  // that nothing moves under the pointer.
  const takeUp = (bundle) => {
    held.from.style.minHeight = `${held.from.offsetHeight}px`;
    const { left, top, width } = bundle.getBoundingClientRect();
    Object.assign(bundle.style, { left: `${left}px`, top: `${top}px`, width: `${width}px` });
    bundle.classList.add("bundle-held");
    held.moves = true;
  };

  const give = (bundle, lane) => {
    for (const box of form.querySelectorAll("input[type=checkbox]")) box.checked = false;
    bundle.querySelector("input[type=checkbox]").checked = true;
    form.elements.to.value = lane.dataset.lane;
    form.requestSubmit(form.querySelector("button[value=move]"));
  };

  for (const bundle of form.querySelectorAll("[data-bundle]")) {
    const handle = document.createElement("span");
    handle.className = "bundle-handle";
    handle.setAttribute("aria-hidden", "true"); // the ticks say and do the same
    handle.title = form.dataset.weeks; // in the reader's words
    handle.textContent = "⠿";
    bundle.querySelector(".bundle-head").append(handle);

    handle.addEventListener("pointerdown", (event) => {
      if (event.button) return;
      handle.setPointerCapture(event.pointerId);
      held = { bundle, from: bundle.closest("[data-lane]"), x: event.clientX, y: event.clientY, moves: false };
      event.preventDefault();
    });
    handle.addEventListener("pointermove", (event) => {
      if (held?.bundle !== bundle) return;
      const [x, y] = [event.clientX - held.x, event.clientY - held.y];
      if (!held.moves && Math.hypot(x, y) > STARTS_AT) takeUp(bundle);
      if (!held.moves) return;
      bundle.style.translate = `${x}px ${y}px`;
      mark(laneAt(event));
    });
    handle.addEventListener("pointerup", (event) => {
      if (held?.bundle !== bundle) return;
      const lane = held.moves ? laneAt(event) : null;
      const from = held.from;
      letGo();
      if (lane && lane !== from && form.contains(lane)) give(bundle, lane);
    });
    handle.addEventListener("pointercancel", letGo);
  }

  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") letGo();
  });
}
