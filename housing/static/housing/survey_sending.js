// Sends entries one after another, again and again until the server has said what became of each.

import { dropEntry, entries, keepEntry } from "./survey_store.js";
import { say } from "./words.js";

const SHORTEST_MS = 4000;
const LONGEST_MS = 300000;
const PATIENCE_MS = 90000; // a photo over a weak connection

export const OFFLINE = "offline";
export const SIGN_IN = "sign in";
export const TROUBLE = "trouble";

// user: whose entries may be sent; onSent(answer) and onChange(state) tell the page.
export function makeSender({ user, onSent, onChange }) {
  let running = null;
  let again = false;
  let delay = SHORTEST_MS;
  let timer = 0;
  let hindrance = "";

  const tell = async (isSending) => {
    const all = await entries();
    const own = all.filter((entry) => entry.user === user);
    onChange({
      waiting: own.filter((entry) => !entry.problems).length,
      refused: own.filter((entry) => entry.problems),
      of_others: all.length - own.length,
      isSending,
      hindrance,
    });
  };

  const later = () => {
    clearTimeout(timer);
    timer = setTimeout(send, delay);
    delay = Math.min(delay * 2, LONGEST_MS);
  };

  const round = async () => {
    const waiting = (await entries()).filter((entry) => entry.user === user && !entry.problems);
    if (!waiting.length) {
      hindrance = "";
      return tell(false);
    }
    await tell(true);
    hindrance = "";
    for (const entry of waiting) {
      const met = await sendOne(entry, onSent);
      hindrance = met || hindrance;
      if (met && met !== TROUBLE) break; // one that the server stumbles over does not hold up the others
      await tell(true);
    }
    if (hindrance) later();
    else delay = SHORTEST_MS;
    return tell(false);
  };

  // Only one round at a time; one asked for meanwhile follows.
  function send() {
    if (running) {
      again = true;
      return running;
    }
    running = round()
      .catch(() => {
        hindrance = TROUBLE;
        later();
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
  addEventListener("offline", () => tell(false));
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") sendNow();
  });
  return { sendNow, tell: () => tell(false) };
}

// Sends one entry; returns what hinders sending, nothing where the server has answered for it.
async function sendOne(entry, onSent) {
  const answer = await post(entry);
  if (answer === null) return OFFLINE;
  if (answer.type === "opaqueredirect" || answer.status === 403 || answer.status === 409) return SIGN_IN;
  const said = await answer.json().catch(() => ({}));
  if (answer.status === 200 && said.entry_id === entry.entry_id) {
    await dropEntry(entry.entry_id);
    await onSent(said);
    return "";
  }
  const problems = said.problems ?? refusedFor(answer.status);
  if (!problems) return TROUBLE;
  await keepEntry({ ...entry, problems });
  return "";
}

function refusedFor(status) {
  if (status === 404) return { __all__: [say("This place is no longer there. Ask where its objects went.")] };
  if (status === 400 || status === 413)
    return { photo: [say("The server does not take this entry; most likely its photo is too large. Take it anew.")] };
  return null; // the server is in trouble: the entry stays and is sent again
}

async function post(entry) {
  const body = new FormData();
  for (const [name, value] of entry.fields) body.append(name, value);
  body.append("entry_id", entry.entry_id);
  body.append("measured_at", entry.made_at);
  body.append("user", entry.user);
  if (entry.photo) body.append("photo", entry.photo, "photo.jpg");
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(), PATIENCE_MS);
  try {
    return await fetch(entry.address, {
      method: "POST",
      body,
      headers: { "X-CSRFToken": csrfToken() },
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
