// What scripts say to the reader, in the language of the page; the script of its words is loaded before.

const { gettext, ngettext } = globalThis;

const filled = (message, values) => message.replace(/\{(\w+)\}/g, (place, name) => values[name] ?? place);

// A message with the values that stand in its {places}.
export function say(message, values = {}) {
  return filled(gettext ? gettext(message) : message, values);
}

// A message about a number of things, named {count} in it.
export function sayCount(one, many, count, values = {}) {
  const message = ngettext ? ngettext(one, many, count) : count === 1 ? one : many;
  return filled(message, { count, ...values });
}
