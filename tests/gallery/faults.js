// What is wrong with the layout of the page shown: runs out of the window, lies on other words, or is cut off.
() => {
  const faults = [];
  const root = document.documentElement;
  const wide = root.scrollWidth - root.clientWidth;
  if (wide > 0) faults.push(`the page is ${wide} px wider than the window: ${widest()}`);

  function widest() {
    const out = [...document.querySelectorAll("body *")]
      .map((element) => [element.getBoundingClientRect().right, element])
      .filter(([right, element]) => right > root.clientWidth + 0.5 && !scrolls(element))
      .sort((a, b) => b[0] - a[0]);
    return out.slice(0, 3).map(([, element]) => name(element)).join(", ");
  }

  function scrolls(element) {
    for (let at = element.parentElement; at; at = at.parentElement) {
      if (["auto", "scroll", "hidden", "clip"].includes(getComputedStyle(at).overflowX)) return true;
    }
    return false;
  }

  function name(element) {
    const words = element.textContent.trim().replace(/\s+/g, " ").slice(0, 40);
    return `${element.tagName.toLowerCase()}${element.className?.baseVal ?? element.className ? "." : ""}` +
      `${String(element.className?.baseVal ?? element.className).split(" ")[0]} “${words}”`;
  }

  function isShown(element) {
    if (element.closest(".visually-hidden, .skip-link, script, style, template, [hidden], option, title, desc")) return false;
    if (element.closest("details:not([open])") && !element.closest("summary")) return false;
    return element.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true, contentVisibilityAuto: true });
  }

  // ---- Words that lie on other words: the lines of every run of text, by where they stand ----

  const lines = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.data.trim() || !isShown(element)) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const cut = clip(element);
    for (const rect of range.getClientRects()) {
      const box = {
        left: Math.max(rect.left, cut.left), right: Math.min(rect.right, cut.right),
        top: Math.max(rect.top, cut.top), bottom: Math.min(rect.bottom, cut.bottom),
        words: node.data.trim().slice(0, 40), element, layer: layer(element),
      };
      if (box.right - box.left > 1 && box.bottom - box.top > 1) lines.push(box);
    }
  }

  function clip(element) {
    const box = { left: -Infinity, right: Infinity, top: -Infinity, bottom: Infinity };
    for (let at = element; at; at = at.parentElement) {
      const style = getComputedStyle(at);
      if (style.overflowX === "visible" && style.overflowY === "visible") continue;
      const rect = at.getBoundingClientRect();
      box.left = Math.max(box.left, rect.left); box.right = Math.min(box.right, rect.right);
      box.top = Math.max(box.top, rect.top); box.bottom = Math.min(box.bottom, rect.bottom);
    }
    return box;
  }

  // What is meant to float above the page has a layer of its own.
  function layer(element) {
    for (let at = element; at; at = at.parentElement) {
      const style = getComputedStyle(at);
      if (["fixed", "sticky"].includes(style.position) || at.matches("[popover], dialog")) return at;
    }
    return null;
  }

  lines.sort((a, b) => a.top - b.top);
  for (let first = 0; first < lines.length; first++) {
    const a = lines[first];
    for (let second = first + 1; second < lines.length && lines[second].top < a.bottom; second++) {
      const b = lines[second];
      if (a.layer !== b.layer) continue;
      const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      // a line's box is higher than its letters: boxes may touch, letters may not
      const height = Math.min(a.bottom - a.top, b.bottom - b.top);
      if (across > 1.5 && down > 0.4 * height) {
        faults.push(`“${a.words}” and “${b.words}” lie on each other (${name(a.element)})`);
      }
    }
  }

  // ---- Words cut off where nothing scrolls and no sign says that there are more ----

  for (const element of document.querySelectorAll("body *")) {
    if (element.closest("svg") || !isShown(element) || !element.textContent.trim()) continue;
    const style = getComputedStyle(element);
    const isCut = ["hidden", "clip"].includes(style.overflowX) && element.scrollWidth > element.clientWidth + 1;
    if (isCut && element.clientWidth > 1 && style.textOverflow !== "ellipsis" && !element.matches("[data-may-be-cut]")) {
      faults.push(`cut off at the right: ${name(element)}`);
    }
  }

  // ---- Drawings that the browser could not read ----

  for (const drawn of document.querySelectorAll("svg *")) {
    for (const { name: key, value } of drawn.attributes) {
      if (/^(NaN|undefined|None|Infinity)$/.test(value) || (/^(x|y|x1|x2|y1|y2|cx|cy|r|width|height)$/.test(key) && /^-?\d+,\d/.test(value))) {
        faults.push(`${drawn.tagName} has ${key}="${value}"`);
      }
    }
  }
  return [...new Set(faults)].slice(0, 12);
}
