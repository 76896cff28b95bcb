// Shows what the survey knows: the object in hand, the list, what waits to be sent, and what was refused.

import { OFFLINE, SIGN_IN, TROUBLE } from "./survey_sending.js";
import { say, sayCount } from "./words.js";

const LINES = ["place", "written", "size", "size_note", "weight", "quantity", "materials"];
const TAGS = { waiting: "planned" };

const put = (root, key, text) => {
  for (const element of root.querySelectorAll(`[data-show="${key}"]`)) element.textContent = text;
};
const words = (tag, text, className = "") => Object.assign(document.createElement(tag), { textContent: text, className });

// row: the object; null for one of another place, whose number is typed.
export function showCard(root, row, photoAddress) {
  const isStray = row === null;
  put(root, "number", row?.number ?? "");
  put(root, "name", row?.name ?? say("Another object"));
  root.querySelector('[data-show-if="stray"]').hidden = !isStray;
  root.querySelector("[data-number]").hidden = !isStray;
  root.querySelector("[data-missing]").hidden = isStray;
  for (const key of LINES) {
    const line = root.querySelector(`[data-line="${key}"]`);
    line.hidden = !row?.[key];
    put(line, key, row?.[key] ?? "");
  }
  const photo = root.querySelector("[data-photo-of]");
  photo.hidden = !row?.has_photo;
  if (row?.has_photo) photo.src = photoAddress.replace("/0/", `/${row.id}/`);
  else photo.removeAttribute("src");
  root.querySelector("[data-cautions]").hidden = !row?.cautions.length;
  put(root, "hazards", row?.hazards.join(", ") ?? "");
  root.querySelector("[data-caution-list]").replaceChildren(...(row?.cautions ?? []).map((said) => words("li", said)));
}

export function showWork(root, isWorking) {
  root.querySelector("[data-work]").hidden = !isWorking;
  root.querySelector("[data-finished]").hidden = isWorking;
}

export function showList(root, objects, stateWords) {
  const { all, left } = objects;
  if (all.length)
    root.querySelector("[data-progress]").textContent = left
      ? say("{left} of {all} still to do", { left, all: all.length })
      : say("Nothing is left to do here");
  for (const row of all) {
    const tag = root.querySelector(`[data-object="${row.id}"] .tag`);
    if (!tag) continue;
    const state = objects.stateOf(row);
    tag.className = `tag tag-${TAGS[state] ?? state}`;
    tag.textContent = state === "waiting" ? say("Waits to be sent") : stateWords[state];
  }
  root.querySelector("[data-numbers]").replaceChildren(
    ...all.slice(0, 500).map((row) => Object.assign(document.createElement("option"), { value: row.number })),
  );
}

const HINDERED = {
  [OFFLINE]: say("No connection; what waits is sent when it returns."),
  [TROUBLE]: say("The server is in trouble; it is tried again."),
};

// state: from makeSender. signIn: the address to sign in at.
export function showSync(root, state, signIn) {
  const line = root.querySelector("[data-sync]");
  const said = [
    state.waiting
      ? sayCount("{count} entry waits to be sent.", "{count} entries wait to be sent.", state.waiting)
      : say("All entries are sent."),
  ];
  if (state.waiting && state.isSending) said.push(say("Sending …"));
  else if (state.waiting) said.push(navigator.onLine ? (HINDERED[state.hindrance] ?? "") : HINDERED[OFFLINE]);
  if (state.of_others)
    said.push(
      sayCount(
        "{count} entry of somebody else on this device: that person has to sign in.",
        "{count} entries of somebody else on this device: that person has to sign in.",
        state.of_others,
      ),
    );
  line.replaceChildren(said.filter(Boolean).join(" "));
  line.dataset.state = state.waiting || state.of_others ? "waiting" : "sent";
  if (state.waiting && state.hindrance === SIGN_IN) {
    const link = Object.assign(words("a", say("Sign in again")), { href: signIn });
    line.append(" ", link, say("; nothing is lost."));
  }
}

// Entries that the server refused, each to be opened and put right.
export function showRefused(root, refused, onOpen) {
  const box = root.querySelector("[data-refused]");
  box.hidden = !refused.length;
  box.replaceChildren(
    ...refused.map((entry) => {
      const line = words("div", "", "message message-error");
      line.setAttribute("role", "alert");
      const said = Object.values(entry.problems).flat().join(" ");
      const open = Object.assign(words("button", say("Put it right"), "btn btn-plain"), { type: "button" });
      open.addEventListener("click", () => onOpen(entry));
      line.append(words("span", say("{label}: not taken by the server. {said}", { label: entry.label, said })), open);
      return line;
    }),
  );
}

export function addNotice(root, text, kind = "warning") {
  const line = words("p", text, `message message-${kind}`);
  line.setAttribute("role", "status");
  const notices = root.querySelector("[data-notices]");
  notices.append(line);
  while (notices.children.length > 3) notices.firstElementChild.remove();
}

// Sentences beside their fields, and all of them on top.
export function showProblems(form, problems) {
  for (const old of form.querySelectorAll(".survey-said, .error-summary")) old.remove();
  for (const field of form.querySelectorAll(".field-wrong")) field.classList.remove("field-wrong");
  const box = form.querySelector("[data-problems]");
  const all = Object.values(problems).flat();
  box.hidden = !all.length;
  box.replaceChildren(...all.map((said) => words("p", said)));
  box.setAttribute("role", "alert");
  for (const [name, sentences] of Object.entries(problems)) {
    const field = form.querySelector(`[name="${name}"]`)?.closest(".field");
    if (!field) continue;
    field.classList.add("field-wrong");
    field.append(words("p", sentences.join(" "), "errorlist survey-said"));
  }
  form.querySelector(".field-wrong :is(input, select)")?.focus();
}

export function showPhoto(root, photo, onRemove) {
  const box = root.querySelector("[data-preview]");
  box.hidden = !photo;
  if (!photo) return box.replaceChildren();
  const drop = Object.assign(words("button", say("Leave this photo out"), "btn btn-plain"), { type: "button" });
  drop.addEventListener("click", onRemove);
  const kilobytes = Math.max(1, Math.round(photo.blob.size / 1000));
  const size = words("p", say("A photo of {kilobytes} kB goes with this entry.", { kilobytes }));
  return box.replaceChildren(...(photo.picture ? [photo.picture] : []), size, drop);
}
