// Sends what is kept on the device, one entry after another in the order they were made.

import { dropEntry, entries, keepEntry } from "./bench_store.js";
import { say } from "./words.js";

const SHORTEST_MS = 3000;
const LONGEST_MS = 60000;
const PATIENCE_MS = 90000; // a photo over a weak connection

export const OFFLINE = "offline";
export const SIGN_IN = "sign in";
export const TROUBLE = "trouble";

// user: whose entries may be sent; onAnswer(entry, answer) once the server has kept or refused one;
// onChange({ waiting, refused, ofOthers, hindrance }) whenever something changed.
export function makeSender({ user, onAnswer, onChange }) {
  let running = null;
  let again = false;
  let delay = SHORTEST_MS;
  let timer = 0;
  let hindrance = "";

  const tell = async () => {
    const all = await entries();
    const own = all.filter((entry) => entry.user === user);
    const waiting = own.filter((entry) => !entry.refused);
    const refused = own.filter((entry) => entry.refused);
    onChange({ waiting, refused, ofOthers: all.length - own.length, hindrance });
  };

  const later = () => {
    clearTimeout(timer);
    timer = setTimeout(send, delay);
    delay = Math.min(delay * 2, LONGEST_MS);
  };

  // What comes after an entry may rest on it, so the first that cannot be sent holds up the others.
  const round = async () => {
    hindrance = "";
    for (;;) {
      const entry = (await entries()).find((each) => each.user === user && !each.refused);
      if (!entry) break;
      hindrance = await sendOne(entry, onAnswer);
      if (hindrance) break;
    }
    if (hindrance) later();
    else delay = SHORTEST_MS;
    await tell();
  };

  function send() {
    if (running) {
      again = true;
      return running;
    }
    running = alone(round)
      .catch(async () => {
        hindrance = TROUBLE;
        later();
        await tell().catch(() => {});
      })
      .finally(() => {
        running = null;
        if (again) {
          again = false;
          send();
        }
      });
    return running;
  }

  const sendNow = () => {
    delay = SHORTEST_MS;
    return send();
  };

  addEventListener("online", sendNow);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") sendNow();
  });
  return { sendNow, tell };
}

// Of several tabs only one sends at a time, where the browser can see to that; the server keeps each once anyhow.
const alone = (work) => (navigator.locks ? navigator.locks.request("bench-sending", work) : work());

// Sends one entry; returns what hinders sending, nothing where the server has answered for it.
async function sendOne(entry, onAnswer) {
  const answer = await post(entry);
  if (answer === null) return OFFLINE;
  if (answer.type === "opaqueredirect" || answer.status === 401 || answer.status === 403) return SIGN_IN;
  const said = await answer.json().catch(() => ({}));
  if (answer.ok && said.kept) {
    await dropEntry(entry.order);
    await onAnswer(entry, said);
    return "";
  }
  const message = said.message ?? (answer.status === 413 ? say("The photo is too large for the server. Take it anew.") : "");
  if (!message || answer.status >= 500) return TROUBLE;
  await keepEntry({ ...entry, refused: message });
  await onAnswer(entry, { kept: false, message });
  return "";
}

async function post(entry) {
  const body = new FormData();
  for (const [name, value] of entry.fields) body.append(name, value);
  body.append("at", entry.made_at);
  body.append("user", entry.user);
  if (entry.photo) body.append("photo", entry.photo, "photo.jpg");
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(), PATIENCE_MS);
  try {
    return await fetch(entry.address, {
      method: "POST",
      body,
      headers: { "X-CSRFToken": csrfToken(), Accept: "application/json" },
      redirect: "manual",
      credentials: "same-origin",
      signal: patience.signal,
    });
  } catch {
    return null;
  } finally {
    clearTimeout(timer);
  }
}

// From the cookie, which is newer than a page that was kept; signing in again changes it.
function csrfToken() {
  const found = document.cookie.split("; ").find((cookie) => cookie.startsWith("csrftoken="));
  return found ? decodeURIComponent(found.slice("csrftoken=".length)) : "";
}
