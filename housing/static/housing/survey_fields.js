// The form on a device: keys for fractions, a unit that stays chosen, what was begun, and what cannot be right.

import { readLength, readWeight, Refused } from "./survey_lengths.js";
import { say } from "./words.js";

const SIDES = ["height_mm", "width_mm", "depth_mm"];
const KEPT = ["unit", "weight_unit", "how"]; // chosen once, kept on the device
const NOT_SENT = new Set(["csrfmiddlewaretoken", "entry_id", "measured_at", "photo"]);
const SAYS_NOTHING = new Set(["unit", "weight_unit", "how", "object", "number", "found"]);
const FRACTION_OF = {
  height_mm: say("Fraction of the height"),
  width_mm: say("Fraction of the width"),
  depth_mm: say("Fraction of the depth"),
};

const remember = (name, value) => {
  try {
    localStorage.setItem(`survey-${name}`, value);
  } catch {
    // a browser that keeps nothing: the choice holds while the page is open
  }
};
const remembered = (name) => {
  try {
    return localStorage.getItem(`survey-${name}`);
  } catch {
    return null;
  }
};

const greatestCommon = (a, b) => (b ? greatestCommon(b, a % b) : a);
const SIXTEENTHS = Array.from({ length: 15 }, (_, i) => {
  const common = greatestCommon(i + 1, 16);
  return `${(i + 1) / common}/${16 / common}`;
});

// Keys for all sixteenths under a side; a key writes its fraction behind the whole number.
function addFractionKeys(side, form) {
  const input = side.querySelector("input");
  const keys = document.createElement("div");
  keys.className = "survey-fractions";
  keys.setAttribute("role", "group");
  keys.setAttribute("aria-label", FRACTION_OF[input.name]);
  for (const fraction of SIXTEENTHS) {
    const key = document.createElement("button");
    key.type = "button";
    key.className = "survey-key";
    key.textContent = fraction;
    key.addEventListener("pointerdown", (event) => event.preventDefault()); // the keyboard stays as it is
    key.addEventListener("click", () => {
      input.value = withFraction(input.value, fraction);
      input.dispatchEvent(new Event("input", { bubbles: true }));
    });
    keys.append(key);
  }
  side.append(keys);
  const mark = () => {
    const now = input.value.match(/(\d+\/\d+)\s*$/)?.[1];
    for (const key of keys.children) key.setAttribute("aria-pressed", String(key.textContent === now));
  };
  input.addEventListener("input", mark);
  form.addEventListener("survey-filled", mark);
  input.setAttribute("inputmode", "decimal");
}

export function withFraction(text, fraction) {
  const whole = text.match(/^\s*(\d+)(?!\d*\/)/)?.[1] ?? "";
  const now = text.match(/(\d+\/\d+)\s*$/)?.[1];
  return [whole, now === fraction ? "" : fraction].filter(Boolean).join(" ");
}

export function prepareFields(form, unit) {
  for (const side of form.querySelectorAll("[data-side]")) {
    addFractionKeys(side, form);
    side.addEventListener("focusin", () => {
      for (const other of form.querySelectorAll("[data-side]")) other.classList.toggle("is-open", other === side);
    });
  }
  form.querySelector("[data-side]").classList.add("is-open");
  const starts = { unit, weight_unit: unit === "in" ? "lb" : "kg" };
  for (const name of KEPT) {
    const value = remembered(name) ?? starts[name];
    if (value && !form.querySelector(".field-wrong")) set(form, name, [value]);
  }
  form.addEventListener("change", (event) => {
    if (KEPT.includes(event.target.name)) remember(event.target.name, event.target.value);
    if (event.target.name === "unit") showUnit(form);
  });
  showUnit(form);
}

function showUnit(form) {
  const unit = form.elements.unit.value;
  form.dataset.unit = unit;
  for (const words of form.querySelectorAll("[data-side] .unit")) words.textContent = unit;
  for (const words of form.querySelectorAll("[data-side] label .visually-hidden")) words.textContent = say(", in {unit}", { unit });
}

function set(form, name, values) {
  const named = form.elements[name];
  if (!named) return;
  const all = named.tagName ? [named] : [...named];
  for (const each of all) {
    if (each.type === "checkbox" || each.type === "radio") each.checked = values.includes(each.value);
    else if (!["file", "submit"].includes(each.type)) each.value = values[0] ?? "";
  }
}

// What is in the form, as pairs of name and text. found: what a button says instead of the form.
export function readFields(form, found) {
  const pairs = [...new FormData(form)].filter(([name, value]) => !NOT_SENT.has(name) && typeof value === "string");
  return found ? pairs.map(([name, value]) => (name === "found" ? [name, found] : [name, value])) : pairs;
}

export function fillFields(form, pairs) {
  const names = new Set([...form.elements].map((each) => each.name).filter((name) => name && !NOT_SENT.has(name)));
  for (const name of names) {
    if (KEPT.includes(name) && !pairs.some(([each]) => each === name)) continue;
    set(form, name, pairs.filter(([each]) => each === name).map(([, value]) => value));
  }
  showUnit(form);
  form.dispatchEvent(new Event("survey-filled"));
}

export const saysSomething = (pairs) => pairs.some(([name, value]) => value.trim() && !SAYS_NOTHING.has(name));

// Sentences by field for what the server would refuse.
export function problemsOf(pairs, hasPhoto) {
  const values = new Map(pairs);
  const problems = {};
  const check = (name, read) => {
    try {
      if (values.get(name)?.trim()) read(values.get(name));
    } catch (refused) {
      if (!(refused instanceof Refused)) throw refused;
      problems[name] = [refused.message];
    }
  };
  for (const name of SIDES) check(name, (text) => readLength(text, values.get("unit")));
  check("weight_g", (text) => readWeight(text, values.get("weight_unit")));
  check("quantity", (text) => {
    if (!/^\d+$/.test(text.trim()) || Number(text) < 1 || Number(text) > 1000000)
      throw new Refused(say("“{text}” is not a whole number of pieces. Type 1 or more.", { text }));
  });
  const found = values.get("found");
  if (found === "missing" && SIDES.some((name) => values.get(name)?.trim()))
    problems.height_mm = [say("What was not found cannot be measured. Clear the sizes, or save it.")];
  if (found === "here" && !hasPhoto && !saysSomething(pairs))
    problems.height_mm = [
      say("Nothing was entered. Enter a size, an answer, a photo or a note, or skip the object."),
    ];
  if (found === "elsewhere" && !values.get("object") && !values.get("number")?.trim())
    problems.number = [say("Type the number of the object that lies here.")];
  return problems;
}

// What was begun is kept apart from entries, because phones close pages while the camera is open.
export const keepDraft = (place, draft) => remember(`draft-${place}`, draft ? JSON.stringify(draft) : "");
export function draftOf(place) {
  try {
    return JSON.parse(remembered(`draft-${place}`) || "null");
  } catch {
    return null;
  }
}
