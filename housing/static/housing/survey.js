// Measuring at the shelf with or without a connection: an entry is kept on the device first and then sent.
// Without this script the form is an ordinary one.

import { addNotice, showCard, showList, showPhoto, showProblems, showRefused, showSync, showWork } from "./survey_card.js";
import { draftOf, fillFields, keepDraft, prepareFields, problemsOf, readFields, saysSomething } from "./survey_fields.js";
import { Objects } from "./survey_objects.js";
import { smallPhoto } from "./survey_photo.js";
import { makeSender } from "./survey_sending.js";
import { canKeep, dropEntry, entries, keepEntry, newId } from "./survey_store.js";
import { say } from "./words.js";

const REFRESH_MS = 120000; // what others sent shows at the latest after so long
const ONLY_WHILE_OPEN = say("Without a connection this page cannot be opened anew on this device: leave it open.");
const root = document.getElementById("survey");
const form = document.getElementById("survey-form");
const told = (id) => JSON.parse(document.getElementById(id).textContent);
const stateWords = told("survey-words");
const objects = new Objects(told("survey-kept"));
const { place, user, here } = root.dataset;

let shown = null; // the object in hand; null for one of another place
let correcting = null; // an entry that the server refused
let photo = null;
let sender = null;

function show(row, { isBack = false } = {}) {
  if (shown && !isBack) objects.visited.push(shown.id);
  shown = row;
  correcting = null;
  setPhoto(null);
  fillFields(form, [["object", row ? String(row.id) : ""], ["found", row ? "here" : "elsewhere"]]);
  showProblems(form, {});
  showCard(root, row, root.dataset.photo);
  showWork(root, true);
  history.replaceState(null, "", row ? `${here}?object=${row.id}` : here);
}

// Whether what was typed may be left: asked only where something was.
function mayLeave() {
  if (!photo && !saysSomething(readFields(form))) return true;
  return confirm(say("Go on without saving what you entered for this object?"));
}

function goOn() {
  keepDraft(place, null);
  const next = objects.next(shown?.id);
  if (next) show(next);
  else showWork(root, false);
  scrollTo({ top: 0 });
  root.querySelector(next ? "[data-heading]" : "h1").focus({ preventScroll: true });
}

function showStray(number) {
  show(null);
  form.elements.number.value = number;
  root.querySelector("[data-heading]").focus();
}

function setPhoto(next) {
  photo = next;
  if (!next) form.elements.photo.value = "";
  showPhoto(root, photo, () => setPhoto(null));
}

async function save(found) {
  const fields = readFields(form, found);
  const problems = problemsOf(fields, Boolean(photo));
  showProblems(form, problems);
  if (Object.keys(problems).length) return;
  const entry = {
    entry_id: correcting?.entry_id ?? newId(),
    made_at: correcting?.made_at ?? new Date().toISOString(),
    address: correcting?.address ?? root.dataset.entries,
    user,
    object: shown?.id ?? null,
    label: form.elements.number.value.trim() || root.querySelector("[data-heading]").textContent.trim(),
    fields,
    photo: photo?.blob ?? null,
  };
  try {
    await keepEntry(entry);
  } catch {
    showProblems(form, { __all__: [say("This device has no room left to keep the entry. Make room and save again.")] });
    return;
  }
  if (shown) objects.seen.add(shown.id);
  await refreshWaiting();
  goOn();
  sender.sendNow();
}

async function openRefused(entry) {
  const row = entry.object ? objects.get(entry.object) : null;
  show(row);
  correcting = entry;
  fillFields(form, entry.fields);
  if (entry.photo) setPhoto(await smallPhoto(entry.photo));
  showProblems(form, entry.problems);
  root.querySelector("[data-drop]").hidden = false;
}

async function refreshWaiting() {
  objects.waiting = new Map((await entries()).filter((entry) => entry.object).map((entry) => [entry.object, entry]));
  showList(root, objects, stateWords);
}

// What others sent meanwhile; the object in hand stays as it is.
async function refresh() {
  if (document.visibilityState !== "visible" || !navigator.onLine) return;
  try {
    const answer = await fetch(root.dataset.objects, { redirect: "manual" });
    if (!answer.ok) return;
    await objects.replace(await answer.json());
    await refreshWaiting();
  } catch {
    // no connection: the next time
  }
}

function listen() {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    save(event.submitter?.value === "missing" ? "missing" : "");
  });
  form.elements.photo.addEventListener("change", async () => {
    const [file] = form.elements.photo.files;
    if (file) setPhoto(await smallPhoto(file));
  });
  form.addEventListener("input", () => keepDraft(place, { object: shown?.id ?? null, fields: readFields(form) }));
  root.querySelector("[data-skip]").addEventListener("click", (event) => {
    event.preventDefault();
    if (!mayLeave()) return;
    if (shown) objects.seen.add(shown.id);
    goOn();
  });
  root.querySelector("[data-previous]").addEventListener("click", (event) => {
    event.preventDefault();
    const row = mayLeave() && objects.before(shown?.id);
    if (row) show(row, { isBack: true });
  });
  root.querySelector("[data-find]").addEventListener("submit", (event) => {
    event.preventDefault();
    if (!mayLeave()) return;
    const { value } = event.target.elements.number;
    const row = objects.numbered(value);
    if (row) show(row);
    else showStray(value.trim());
    event.target.reset();
  });
  root.querySelector("[data-list]")?.addEventListener("click", (event) => {
    const line = event.target.closest("a") && event.target.closest("[data-object]");
    const row = line && objects.get(Number(line.dataset.object));
    if (!row) return;
    event.preventDefault();
    if (!mayLeave()) return;
    show(row);
    scrollTo({ top: 0 });
  });
}

function offerDropping() {
  const drop = Object.assign(document.createElement("button"), {
    type: "button", className: "btn btn-stop", textContent: say("Throw this entry away"), hidden: true,
  });
  drop.dataset.drop = "";
  drop.addEventListener("click", async () => {
    if (!correcting || !confirm(say("Throw this entry away? It is not kept anywhere else."))) return;
    await dropEntry(correcting.entry_id);
    await refreshWaiting();
    sender.tell();
    goOn();
  });
  root.querySelector("[data-save]").before(drop);
}

// Pages kept for somebody else would record under that person's name.
async function forgetPagesOfOthers() {
  if (localStorage.getItem("survey-user") === user) return;
  await Promise.all(["survey-pages", "survey-photos"].map((name) => caches.delete(name)));
  localStorage.setItem("survey-user", user);
}

async function keepPageOnDevice() {
  if (!("serviceWorker" in navigator)) return addNotice(root, ONLY_WHILE_OPEN);
  const hadWorker = Boolean(navigator.serviceWorker.controller);
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (hadWorker && !saysSomething(readFields(form)) && !photo) location.reload(); // a newer version of the page
  });
  await forgetPagesOfOthers();
  await navigator.serviceWorker.register(root.dataset.worker, { scope: root.dataset.scope });
  const worker = await navigator.serviceWorker.ready;
  const { port1: answers, port2 } = new MessageChannel();
  answers.onmessage = ({ data }) => (root.querySelector("[data-kept]").hidden = !data.isKept);
  const photos = objects.all.filter((row) => row.has_photo).map(photoOf);
  worker.active.postMessage({ page: here, photos }, [port2]);
  await navigator.storage?.persist?.();
}

const photoOf = (row) => root.dataset.photo.replace("/0/", `/${row.id}/`);

async function start() {
  prepareFields(form, root.dataset.unit);
  if (!(await canKeep())) {
    addNotice(root, say("This browser keeps nothing on the device: each entry needs a connection when you save it."));
    return;
  }
  await objects.load();
  sender = makeSender({
    user,
    onSent: async (answer) => {
      if (answer.notice) addNotice(root, answer.notice);
      await objects.update(answer.object);
    },
    onChange: async (state) => {
      showSync(root, state, `${root.dataset.signIn}?next=${encodeURIComponent(here)}`);
      showRefused(root, state.refused, openRefused);
      root.querySelector("[data-drop]").hidden = !correcting;
      await refreshWaiting();
    },
  });
  offerDropping();
  await refreshWaiting();
  choose();
  listen();
  setInterval(refresh, REFRESH_MS);
  sender.sendNow();
  root.dataset.ready = "yes";
  await keepPageOnDevice().catch(() => addNotice(root, ONLY_WHILE_OPEN));
}

// The object that was in hand when the page was left, else the one the address names, else the next in turn.
function choose() {
  const draft = draftOf(place);
  const asked = new URLSearchParams(location.search);
  const drafted = draft && saysSomething(draft.fields) ? draft : null;
  if (form.querySelector(".error-summary")) shown = objects.get(Number(form.elements.object.value));
  else if (asked.has("number") && form.elements.object.value && !objects.get(Number(form.elements.object.value))) shown = null;
  else if (drafted && (!asked.has("object") || Number(asked.get("object")) === drafted.object)) {
    show(objects.get(drafted.object));
    fillFields(form, drafted.fields);
  } else {
    const named = objects.get(Number(asked.get("object"))) ?? objects.numbered(asked.get("number") ?? "");
    const row = named ?? objects.next(Number(asked.get("after")) || undefined);
    if (row) show(row);
    else showWork(root, false);
  }
}

start();
