// Reads lengths and weights as objects/core/lengths.py and weights.py do, so that a device can refuse what the
// server would refuse. Only the server's reading is stored.

import { say } from "./words.js";

const MM = { in: 25.4, ft: 304.8, mm: 1, cm: 10, m: 1000 };
const GRAMS = { g: 1, kg: 1000, lb: 453.59237, oz: 453.59237 / 16 };
const LARGEST_MM = 20000;
const LARGEST_G = 5000000;
const LONGEST_FIGURE = 30;

const LENGTH_WORDS = {
  in: "in ins inch inches",
  ft: "ft foot feet",
  mm: "mm mms millimetre millimetres millimeter millimeters",
  cm: "cm cms centimetre centimetres centimeter centimeters",
  m: "m metre metres meter meters",
};
const WEIGHT_WORDS = {
  kg: "kg kgs kilo kilos kilogram kilograms",
  g: "g gr gram grams gramme grammes",
  lb: "lb lbs pound pounds",
  oz: "oz ounce ounces",
};
const byWord = (words) =>
  new Map(Object.entries(words).flatMap(([unit, all]) => all.split(" ").map((word) => [word, unit])));
const LENGTH_UNITS = byWord(LENGTH_WORDS).set('"', "in").set("''", "in").set("'", "ft");
const WEIGHT_UNITS = byWord(WEIGHT_WORDS);
const longestFirst = (units) =>
  [...units.keys()].filter((word) => /[a-z]/.test(word)).sort((a, b) => b.length - a.length).join("|");

const FIGURE =
  "\\d+[ -]+\\d+/\\d+|\\d+/\\d+|\\d{1,3}(?:,\\d{3})+\\.\\d+|\\d{1,3}(?:\\.\\d{3})+,\\d+|\\d+(?:[.,]\\d+)?";
const LENGTH_PART = new RegExp(
  `\\s*(${FIGURE}|[.,]\\d+)\\s*(?:((?:${longestFirst(LENGTH_UNITS)})(?![\\p{L}\\p{N}_])\\.?|''|["'])|(?![\\p{L}\\p{N}]))\\s*`,
  "iuy",
);
const WEIGHT_PART = new RegExp(
  `\\s*(${FIGURE})\\s*(?:(${longestFirst(WEIGHT_UNITS)})\\.?)?(?![a-z\\d])[\\s,]*`,
  "iuy",
);

// A figure that cannot be used; its message is a sentence for the reader.
export class Refused extends Error {}

const shown = (text, most = 60) => {
  const flat = text.trim().split(/\s+/).join(" ");
  return flat.length <= most ? flat : `${flat.slice(0, most - 1)}…`;
};

const plainMarks = (text) =>
  text.replace(/[’‘‛′ʹ＇]/g, "'").replace(/[”“„‟″ʺ＂]/g, '"').replace(/[‐‑‒–—―−]/g, "-").replace(/[⁄∕]/g, "/");

// Text with typographic fractions, dashes and quotes made plain: 10¾″ becomes 10 3/4".
export function plainText(text) {
  const spaced = plainMarks(text).replace(/(\d)(?=[¼-¾⅐-⅟↉²³¹⁰⁴-⁹])/g, "$1 ");
  return plainMarks(spaced.normalize("NFKC")).trim().split(/\s+/).join(" ");
}

function figure(text) {
  if (text.length > LONGEST_FIGURE)
    throw new Refused(say("“{text}” has too many digits. Check the figure.", { text: shown(text, 20) }));
  const parts = text.trim().split(/[ -]+/);
  let last = parts.pop();
  if (!last.includes("/")) {
    if (last.includes(".") && last.includes(","))
      last = last.replaceAll(last.indexOf(",") < last.indexOf(".") ? "," : ".", "");
    return Number(last.replace(",", "."));
  }
  const [over, under] = last.split("/").map(Number);
  if (under === 0) throw new Refused(say("“{text}” divides by zero. Type the fraction like 3/4.", { text }));
  if (parts.length && over >= under)
    throw new Refused(say("“{text}” is not a usual mixed number. Type it like 10 3/4.", { text }));
  return (parts.length ? Number(parts[0]) : 0) + over / under;
}

// A length in mm; `unit` is that of a figure without one.
export function readLength(text, unit) {
  const plain = plainText(text);
  if (!plain) throw new Refused(say("Nothing was entered. Type a length such as 10 3/4 in or 27.3 cm."));
  if (plain.startsWith("-"))
    throw new Refused(
      say("“{text}” is negative; a length cannot be. Type it without the minus sign.", { text: shown(text) }),
    );
  const figures = [];
  for (let at = 0; at < plain.length; ) {
    LENGTH_PART.lastIndex = at;
    const part = LENGTH_PART.exec(plain);
    if (!part)
      throw new Refused(
        say("“{text}” is not a length. Type it like 10 3/4 in, 10.75 in or 27.3 cm.", { text: shown(text) }),
      );
    const word = (part[2] ?? "").toLowerCase().replace(/\.$/, "");
    const afterFeet = figures.length === 1 && figures[0].unit === "ft";
    const named = LENGTH_UNITS.get(word) ?? (afterFeet ? "in" : unit);
    if (!named)
      throw new Refused(say("“{text}” has no unit. Write in, cm or mm behind it.", { text: shown(text) }));
    figures.push({ text: part[1], unit: named });
    at = LENGTH_PART.lastIndex;
    if (figures.length === 1 && named === "ft" && plain[at] === "-") at += 1;
  }
  const units = figures.map((each) => each.unit).join(" ");
  if (figures.length > 1 && units !== "ft in")
    throw new Refused(say("“{text}” holds more than one length. Type one length only.", { text: shown(text) }));
  const mm = figures.reduce((sum, each) => sum + figure(each.text) * MM[each.unit], 0);
  for (const each of figures) refuseThousands(each, text);
  if (mm > LARGEST_MM)
    throw new Refused(
      say(
        "“{text}” is {metres} m, and more than {largest} m cannot be right. Check the figure and the unit.",
        { text: shown(text), metres: Number((mm / 1000).toPrecision(6)), largest: LARGEST_MM / 1000 },
      ),
    );
  if (mm < 0.00005)
    throw new Refused(
      say("“{text}” is zero. Measure it, or leave it blank if it is not known.", { text: shown(text) }),
    );
  return Math.round(mm * 10000) / 10000;
}

function refuseThousands({ text, unit }, whole) {
  const perhaps = /^[1-9]\d{0,2},\d{3}$/.test(text);
  const large = text.replace(",", "");
  if (perhaps && Number(large) * MM[unit] <= LARGEST_MM)
    throw new Refused(
      say(
        "“{text}” can be {whole} {named} or {point} {named}. Type it without the comma.",
        { text: shown(whole), whole: large, named: unit, point: text.replace(",", ".") },
      ),
    );
}

// A weight in grams; `unit` is that of a figure without one.
export function readWeight(text, unit) {
  const plain = plainText(text);
  if (plain.startsWith("-"))
    throw new Refused(
      say("“{text}” is negative; a weight cannot be. Write it without the minus sign.", { text: shown(text) }),
    );
  let grams = 0;
  for (let at = 0; at < plain.length; ) {
    WEIGHT_PART.lastIndex = at;
    const part = WEIGHT_PART.exec(plain);
    if (!part)
      throw new Refused(
        say("“{text}” is not a weight. Write it like 1.2 kg, 850 g or 2 lb 4 oz.", { text: shown(text) }),
      );
    const named = part[2] ? WEIGHT_UNITS.get(part[2].toLowerCase()) : unit;
    if (!named)
      throw new Refused(say("“{text}” has no unit. Write g, kg, lb or oz behind it.", { text: shown(text) }));
    grams += figure(part[1]) * GRAMS[named];
    at = WEIGHT_PART.lastIndex;
  }
  if (grams > LARGEST_G)
    throw new Refused(
      say(
        "“{text}” is more than {largest} kg. Check the figure and the unit.",
        { text: shown(text), largest: LARGEST_G / 1000 },
      ),
    );
  if (grams < 0.05)
    throw new Refused(
      say("“{text}” is zero. Weigh it, or leave it blank if it is not known.", { text: shown(text) }),
    );
  return Math.round(grams * 10) / 10;
}
