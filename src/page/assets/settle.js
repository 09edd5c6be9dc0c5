// How a fresh drawing takes the place of the one on the page: what is still the same stays the same
// node, so that nobody loses a click, the focus, a caret or a word that is being written.
"use strict";

const isField = (node) => node.nodeType === 1 && node.matches("input, textarea, select");

/** Whether a person has put something into a field that the drawing does not know. */
function isTouched(field) {
  if (field.type === "checkbox") return field.checked !== field.defaultChecked;
  if (field.tagName === "SELECT") return [...field.selectedOptions].some((o) => !o.defaultSelected);
  return field.value !== field.defaultValue;
}

/** Makes one node like a fresh one. */
function settle(old, fresh) {
  if (old.nodeType !== 1) {
    if (old.nodeValue !== fresh.nodeValue) old.nodeValue = fresh.nodeValue;
    return;
  }
  const written = isField(old) && old === document.activeElement && isTouched(old);
  // What a person has opened or closed stays so.
  const own = (name) => name === "open" && old.tagName === "DETAILS";
  for (const { name } of [...old.attributes]) if (!own(name) && !fresh.hasAttribute(name)) old.removeAttribute(name);
  for (const { name, value } of fresh.attributes) {
    if (!own(name) && old.getAttribute(name) !== value) old.setAttribute(name, value);
  }
  settleAll(old, fresh);
  if (!isField(old) || written) return;
  if (old.type === "checkbox") old.checked = fresh.checked;
  else if (old.value !== fresh.value) old.value = fresh.value;
}

/** Whether one node may become another: of one kind, and neither with a name of its own. */
const isAlike = (old, fresh) => old.nodeName === fresh.nodeName && !old.id && !fresh.id;

/** Makes what a node holds like what a fresh one holds; nodes with an id are known by it. */
function settleAll(old, fresh) {
  const coming = new Set([...fresh.children].map((node) => node.id).filter(Boolean));
  const known = new Map([...old.children].filter((node) => node.id).map((node) => [node.id, node]));
  let here = old.firstChild;
  for (const next of [...fresh.childNodes]) {
    const same = next.nodeType === 1 && next.id ? known.get(next.id) : null;
    if (same && same.nodeName === next.nodeName) {
      // What goes makes way first: a node that is moved loses the focus.
      while (here && here !== same && !coming.has(here.id)) { const gone = here; here = here.nextSibling; gone.remove(); }
      if (here === same) here = here.nextSibling;
      else old.insertBefore(same, here);
      settle(same, next);
    } else if (here && isAlike(here, next)) {
      const mine = here;
      here = here.nextSibling;
      settle(mine, next);
    } else {
      old.insertBefore(next, here);
    }
  }
  while (here) { const gone = here; here = here.nextSibling; gone.remove(); }
}

/** Puts a fresh drawing into a region, keeping the place of the person in it. */
function put(region, html) {
  const held = region.contains(document.activeElement) ? document.activeElement : null;
  settleAll(region, new DOMParser().parseFromString(html, "text/html").body);
  if (!held || held === document.activeElement) return;
  // What was held is gone: the place where it was is better than the top of the page.
  const again = held.id && document.getElementById(held.id);
  if (!again) region.tabIndex = -1;
  (again || region).focus({ preventScroll: true });
}

// Nothing moves under a finger: between press and release a drawing waits, but not for ever, as a
// release over a scroll bar or an open choice is never told.
const LONGEST_PRESS = 1500;
let pressed = null;
function press() {
  release();
  pressed = {};
  pressed.over = new Promise((done) => { pressed.done = done; });
  pressed.timer = setTimeout(release, LONGEST_PRESS);
}
function release() {
  if (!pressed) return;
  clearTimeout(pressed.timer);
  // The click comes after the release, and the drawing after the click.
  setTimeout(pressed.done, 0);
  pressed = null;
}
const released = () => pressed?.over;
addEventListener("pointerdown", press, true);
addEventListener("pointerup", release, true);
addEventListener("pointercancel", release, true);
addEventListener("blur", (event) => { if (event.target === window) release(); }, true);
addEventListener("keydown", (event) => {
  if (event.key === " " && !event.repeat && event.target.closest?.("button, summary, input[type=checkbox]")) press();
}, true);
addEventListener("keyup", (event) => { if (event.key === " ") release(); }, true);
