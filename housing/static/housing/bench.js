// The bench with script: forms are kept on the device first and sent from there, so that nothing is lost.

import { OFFLINE, SIGN_IN, makeSender } from "./bench_sending.js";
import { canKeep, dropEntry, entries, keepEntry } from "./bench_store.js";
import { smallPhoto } from "./survey_photo.js";
import { newId } from "./survey_store.js";
import { say, sayCount } from "./words.js";

const bench = document.getElementById("bench");
const { user } = bench.dataset;
const addresses = [bench.dataset.entries, bench.dataset.undo];
const box = bench.querySelector("[data-waiting]");
const HINDRANCES = {
  [OFFLINE]: say("No connection to the server. They are kept on this device and will be sent as soon as it is back."),
  [SIGN_IN]: say("Sign in again to send them; nothing is lost."),
  trouble: say("The server is in trouble. They are kept on this device and will be sent again."),
};
// What else forms ask, in words; told of entries that the server refused.
const ASKED = {
  minutes: say("minutes"),
  fits: say("the object fits"),
  lid_closes: say("the lid closes"),
  nothing_touches: say("nothing presses or rubs"),
  all_well: say("all is well"),
  cause: say("cause"),
  side: say("side"),
  short: say("by how much"),
  direction: say("short or large"),
  note: say("note"),
  reason: say("reason"),
  question: say("question"),
  answer: say("answer"),
  place: say("place"),
};
const askedIn = (name) => ASKED[name.replace("detail-", "")] ?? name.replace("detail-", "").replaceAll("_", " ");
const sentHere = new Map(); // entries of this page that wait for an answer: number to form
const refusedHere = new WeakMap(); // forms of this page to what the server refused of them: places in the store
let leaveFor = "";
let isStale = false;

const isOurs = (form) => form instanceof HTMLFormElement && addresses.includes(new URL(form.action).pathname);
const buttons = (form) => form.querySelectorAll("button, input[type=submit]");

// ---- Entering --------------------------------------------------------------------------------------------

async function keep(form, submitter) {
  const data = new FormData(form, submitter);
  const fields = [...data].filter(([name, value]) => typeof value === "string" && name !== "csrfmiddlewaretoken");
  const file = [...data.values()].find((value) => value instanceof File && value.size);
  const entry = {
    entry_id: data.get("entry_id"),
    made_at: new Date().toISOString(),
    address: new URL(form.action).pathname,
    user,
    words: form.dataset.words ?? submitter?.textContent.trim() ?? say("Entry"),
    fields,
  };
  form.dataset.sending = "yes";
  for (const button of buttons(form)) button.disabled = true;
  try {
    if (file) entry.photo = (await smallPhoto(file)).blob;
    await keepEntry(entry);
  } catch {
    // The device has no room: sent the plain way, which leaves the page only once the server has answered.
    for (const button of buttons(form)) button.disabled = false;
    delete form.dataset.sending;
    form.dataset.plain = "yes";
    if (submitter) form.requestSubmit(submitter);
    else form.requestSubmit();
    return;
  }
  sentHere.set(entry.entry_id, form);
  await sender.sendNow();
}

// A form that may be filled in again: with a number of its own, as what it says is another entry.
function openAgain(form) {
  form.elements.entry_id.value = newId();
  delete form.dataset.sending;
  delete form.dataset.kept;
  for (const button of buttons(form)) button.disabled = false;
}

async function onAnswer(entry, answer) {
  const form = sentHere.get(entry.entry_id);
  sentHere.delete(entry.entry_id);
  isStale = true;
  if (!answer.kept) {
    leaveFor = "";
    if (!form) return;
    refusedHere.set(form, [...(refusedHere.get(form) ?? []), entry.order]);
    openAgain(form);
  } else if (form) {
    // Put right in the same form: what was refused before needs no discarding by hand.
    for (const order of refusedHere.get(form) ?? []) await dropEntry(order);
    leaveFor = answer.url;
    delete form.dataset.kept;
  }
}

// Something typed and not sent must not be lost by leaving for the next page.
function isBeingFilledIn() {
  return [...bench.querySelectorAll("form")].some(
    (form) =>
      isOurs(form) &&
      !form.dataset.sending &&
      [...form.elements].some(
        (field) =>
          (field.matches("input:not([type=hidden], [type=checkbox], [type=radio]), textarea") && field.value !== field.defaultValue) ||
          (field.matches("[type=checkbox], [type=radio]") && field.checked !== field.defaultChecked),
      ),
  );
}

// ---- Telling ---------------------------------------------------------------------------------------------

function onChange({ waiting, refused, ofOthers, hindrance }) {
  showWaiting(waiting, ofOthers, hindrance);
  showRefused(refused);
  for (const [id, form] of sentHere) {
    if (hindrance && waiting.some((entry) => entry.entry_id === id)) form.dataset.kept = "yes";
  }
  if (waiting.length || !isStale) return;
  if (isBeingFilledIn()) {
    if (!refused.length) showOutOfDate();
  } else if (leaveFor) go(leaveFor);
  else if (!refused.length) go(location.href);
}

// To the same page as it is now, or to another one.
function go(address) {
  isStale = false;
  const there = new URL(address, location.href);
  if (there.href.split("#")[0] === location.href.split("#")[0]) location.reload();
  else location.assign(there);
}

function showOutOfDate() {
  box.hidden = false;
  const link = Object.assign(document.createElement("a"), { href: leaveFor || location.href, textContent: say("Show it as it is now") });
  words(`${say("All is sent. This page is out of date.")} `).append(link);
}

function words(text) {
  const place = box.querySelector("[data-waiting-words]");
  place.textContent = text;
  return place;
}

function showWaiting(waiting, ofOthers, hindrance) {
  const shown = hindrance ? waiting : [];
  box.hidden = !shown.length && !ofOthers;
  const said = [];
  if (shown.length) {
    said.push(sayCount("{count} entry is kept on this device, will be sent.", "{count} entries are kept on this device, will be sent.", shown.length));
    said.push(HINDRANCES[hindrance]);
  }
  if (ofOthers) said.push(say("{n} of somebody else's wait until they sign in on this device.", { n: ofOthers }));
  words(said.join(" "));
  box.querySelector("[data-waiting-list]").replaceChildren(...shown.map((entry) => item(entry)));
  box.querySelector("[data-send-now]").hidden = !shown.length;
  const signIn = box.querySelector("[data-sign-in-link]");
  signIn.hidden = hindrance !== SIGN_IN;
  signIn.href = `${bench.dataset.signIn}?next=${encodeURIComponent(location.pathname + location.search)}`;
}

function item(entry) {
  const line = document.createElement("li");
  line.textContent = `${entry.words}, ${new Date(entry.made_at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23" })}`;
  return line;
}

// Entries that the server refused are put aside: to be read, and discarded by whoever made them.
function showRefused(refused) {
  const place = bench.querySelector("[data-refused]");
  place.replaceChildren(
    ...refused.map((entry) => {
      const note = Object.assign(document.createElement("section"), { className: "bench-put-aside" });
      const what = Object.assign(document.createElement("p"), { textContent: `${say("Not kept by the server: {entry}.", { entry: item(entry).textContent })} ` });
      const why = Object.assign(document.createElement("p"), { textContent: entry.refused });
      const discard = Object.assign(document.createElement("button"), { type: "button", className: "btn btn-plain", textContent: say("Discard this entry") });
      discard.addEventListener("click", async () => {
        await dropEntry(entry.order);
        await sender.tell();
      });
      const typed = entry.fields.filter(([name, value]) => value && name !== "detail-unit" && (name === "minutes" || name.startsWith("detail-")));
      if (typed.length) what.append(typed.map(([name, value]) => `${askedIn(name)}: ${value}`).join("; "));
      note.append(what, why, discard);
      return note;
    }),
  );
}

// ---- The clock, and pages from the browser's own memory ----------------------------------------------------

function tick() {
  for (const clock of document.querySelectorAll("[data-since]")) {
    const minutes = Math.max(Math.floor((Date.now() - new Date(clock.dataset.since)) / 60000), 0);
    clock.textContent = minutes < 60 ? say("{minutes} min", { minutes }) : say("{hours} h {minutes} min", { hours: Math.floor(minutes / 60), minutes: minutes % 60 });
  }
}

// The back button shows a page as it was: it is asked for anew, unless something typed or the connection forbids.
function refresh() {
  if (navigator.onLine && !isBeingFilledIn()) location.reload();
}

const sender = makeSender({ user, onAnswer, onChange });
if (await canKeep()) {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!isOurs(form) || form.dataset.plain) return;
    event.preventDefault();
    if (!form.dataset.sending) keep(form, event.submitter);
  });
  bench.querySelector("[data-send-now]").addEventListener("click", () => sender.sendNow());
  addEventListener("pageshow", (event) => {
    if (event.persisted) refresh();
  });
  if (performance.getEntriesByType("navigation")[0]?.type === "back_forward") refresh();
  // What this page shows rests on what is still waiting: its forms for the same entries stay closed.
  const waiting = await entries();
  for (const form of bench.querySelectorAll("form")) {
    if (isOurs(form) && waiting.some((entry) => !entry.refused && isSame(entry, form))) closeFor(form);
  }
  await sender.tell();
  await sender.sendNow();
}
bench.dataset.ready = "yes";
tick();
setInterval(tick, 15000);

// Whether a form asks for what an entry that still waits has asked for already, as after a reload without connection.
function isSame(entry, form) {
  const said = new Map(entry.fields);
  return ["what", "task", "sheet", "housing", "entry"].every(
    (name) => (said.get(name) ?? "") === (form.elements[name]?.value ?? ""),
  );
}

function closeFor(form) {
  form.dataset.sending = form.dataset.kept = "yes";
  for (const button of buttons(form)) button.disabled = true;
}
