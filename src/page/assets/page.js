// What moves on the page. Every answer comes from the interface under /api, as JSON or drawn.

const one = (selector, root = document) => root.querySelector(selector);
const all = (selector, root = document) => [...root.querySelectorAll(selector)];
const running = new Map();
let told;

/** Says something to screen readers. */
function say(text) {
  clearTimeout(told);
  one("#live").textContent = "";
  told = setTimeout(() => { one("#live").textContent = text; }, 60);
}

/** Shows what concerns no field; an empty list takes the notice away. */
function notice(findings) {
  const box = one("#notice");
  box.replaceChildren(...findings.map((finding) => {
    const line = document.createElement("p");
    line.textContent = sentence(finding);
    return line;
  }));
  box.hidden = findings.length === 0;
}

function sentence(finding) {
  const parts = [finding.message.replace(/`/g, "“").replace(/“([^“]*)“/g, "“$1”")];
  if (finding.near.length) parts.push(`did you mean ${finding.near.map((n) => `“${n}”`).join(" or ")}?`);
  if (finding.expected) parts.push(`expected ${finding.expected.replace(/`([^`]*)`/g, "“$1”")}`);
  return parts.join("; ");
}

/** The id that the page gives to a key of the tank file. */
const slug = (key) => key.replace(/[^A-Za-z0-9]+/g, "-").replace(/-$/, "");

/** Puts findings beside their fields and the rest into the notice. */
function findings(list, typed) {
  const rest = list.filter((finding) => {
    const place = finding.key && one(`#wrong-${slug(finding.key)}`);
    if (!place) return true;
    place.textContent = sentence(finding);
    one(`#field-${slug(finding.key)}`)?.setAttribute("aria-invalid", "true");
    return false;
  });
  if (typed && rest.length) {
    one(`#wrong-${slug(typed)}`).textContent = rest.map(sentence).join(". ");
    one(`#field-${slug(typed)}`).setAttribute("aria-invalid", "true");
  } else {
    notice(rest);
  }
}

function clear() {
  all(".wrong").forEach((place) => { place.textContent = ""; });
  all("[aria-invalid]").forEach((field) => field.removeAttribute("aria-invalid"));
  notice([]);
}

/** Asks the program; gives the answer or `null` when it was called off or nobody is there. */
async function ask(name, address, options = {}) {
  running.get(name)?.abort();
  const control = new AbortController();
  running.set(name, control);
  try {
    return await fetch(address, { ...options, signal: control.signal });
  } catch (error) {
    if (error.name !== "AbortError") {
      notice([{ message: "the program does not answer; is it still running?", near: [] }]);
    }
    return null;
  } finally {
    if (running.get(name) === control) running.delete(name);
  }
}

/** Draws a region from its address; of several askings only the last is shown. */
async function draw(region, address = region.dataset.from) {
  region.setAttribute("aria-busy", "true");
  region.classList.add("waiting");
  const stop = region.dataset.stop && document.getElementById(region.dataset.stop);
  if (stop) stop.hidden = false;
  const turn = (turns.get(region) ?? 0) + 1;
  turns.set(region, turn);
  const response = await ask(region.id, address, { headers: { Accept: "text/html" } });
  const text = response?.ok ? await response.text() : null;
  const wrong = response && !response.ok ? (await response.json()).findings : null;
  await released();
  if (turns.get(region) !== turn) return;
  if (text !== null) put(region, text);
  else if (wrong) notice(wrong);
  region.removeAttribute("aria-busy");
  region.classList.remove("waiting");
  if (stop) stop.hidden = true;
  if (text !== null && region.dataset.done) say(one(region.dataset.done)?.textContent ?? "");
}
const turns = new WeakMap();

/** Draws everything that depends on the tank. */
function drawAll({ fields = false } = {}) {
  const stale = all("[data-from]").filter((r) => r.id !== "desk" && (fields || !r.hasAttribute("data-fields")));
  return Promise.all(stale.map((region) => draw(region)));
}

const revision = () => Number(one("[data-revision]").dataset.revision);
const json = (body) => ({ method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });

/** Sends changes of the tank; `true` when they were made. */
function change(changes, { typed = null, fields = false } = {}) {
  return post("/api/desk/edit", { changes }, { typed, fields });
}

/** Steps go one after the other: none is made for a tank that another is still changing. */
let underway = Promise.resolve();
async function post(address, body, { typed = null, fields = false } = {}) {
  const sent = underway.then(() => send(address, body, typed));
  underway = sent.catch(() => null);
  const done = await sent;
  if (done !== null) await drawAll({ fields: fields || !done });
  return done === true;
}

/** One step: `true` when it was made, `false` when the tank was another by then, `null` when it was refused. */
async function send(address, body, typed) {
  running.get("try")?.abort();
  const response = await ask("post", address, json({ revision: revision(), ...body }));
  if (!response) return null;
  const answer = await response.json();
  clear();
  if (!response.ok && response.status !== 409) {
    findings(answer.findings, typed);
    say(answer.findings.map(sentence).join(". "));
    return null;
  }
  if (response.ok) one("[data-revision]").dataset.revision = answer.revision;
  else notice(answer.findings);
  await draw(one("#desk"));
  return response.ok;
}

/** Shows what a change would make of the tank, without making it. */
async function tryOut(changes, typed, onto) {
  const options = json({ revision: revision(), changes });
  options.headers.Accept = "text/html";
  const response = await ask("try", "/api/desk/try" + units(), options);
  if (!response) return;
  clear();
  if (response.ok) onto(await response.text());
  else findings((await response.json()).findings, typed);
}

const units = () => (document.documentElement.dataset.units === "us" ? "?units=us" : "");

// Fields of the tank: judged while typing, written when left.
const written = (field) => (field.type === "checkbox" ? String(field.checked) : field.value);
let typing;
document.addEventListener("input", (event) => {
  const field = event.target.closest("[data-key]");
  if (!field || field.type === "checkbox" || field.tagName === "SELECT") return;
  clearTimeout(typing);
  typing = setTimeout(() => {
    const drawn = one("#drawn");
    tryOut([{ do: "set", key: field.dataset.key, value: written(field) }], field.dataset.key,
      (html) => { if (drawn && document.activeElement === field) put(drawn, html); });
  }, 250);
});
document.addEventListener("change", (event) => {
  const field = event.target.closest("[data-key]");
  if (!field) return;
  clearTimeout(typing);
  change([{ do: "set", key: field.dataset.key, value: written(field) }],
    { typed: field.dataset.key, fields: field.hasAttribute("data-shapes") });
});

const isOff = (button) => button.getAttribute("aria-disabled") === "true";

// Buttons that change the tank, step back and forth, save, or stop a search.
document.addEventListener("click", async (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  if (button.dataset.change) {
    // Not `disabled`: that would take the focus from it.
    if (isOff(button)) return;
    button.setAttribute("aria-disabled", "true");
    if (await change(JSON.parse(button.dataset.change), { fields: true })) say(button.dataset.said ?? "Done");
    button.removeAttribute("aria-disabled");
  } else if (button.dataset.post) {
    // A field that was just left may still be writing what this step is about.
    await underway;
    if (isOff(button)) return;
    if (await post(button.dataset.post, {}, { fields: true })) say(button.dataset.said ?? "Done");
  } else if (button.dataset.halt) {
    running.get(button.dataset.halt)?.abort();
    const region = document.getElementById(button.dataset.halt);
    region.classList.remove("waiting");
    region.removeAttribute("aria-busy");
    button.hidden = true;
    say("Stopped; the list before stands");
  } else if (button.dataset.draw) {
    draw(document.getElementById(button.dataset.draw), button.dataset.address);
  } else if (button.hasAttribute("data-swap")) {
    const pick = one(`#${button.dataset.swap}`);
    if (pick.value && await change([{ do: "swap", out: pick.dataset.out, in: pick.value }])) say("Swapped; solved again");
  } else if (button.hasAttribute("data-print")) {
    window.print();
  }
});
document.addEventListener("keydown", (event) => {
  const writes = event.target.closest("input, textarea, select");
  const command = event.ctrlKey || event.metaKey;
  if (command && event.key.toLowerCase() === "s" && one("#save")) {
    event.preventDefault();
    const here = document.activeElement;
    here?.blur();
    here?.focus({ preventScroll: true });
    one("#save").click();
  } else if (command && !writes && event.key.toLowerCase() === "z") {
    event.preventDefault();
    one(event.shiftKey ? "#redo" : "#undo")?.click();
  }
});

// The plan: zones, lamps, wood and rock are dragged, or moved by the arrow keys.
const centimetres = (svg, event) => {
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
  return [point.x, point.y];
};
const shown = (held, x, y) => held.setAttribute("transform", `translate(${x} ${y})`);

/** Takes only the light and the figures from a drawing, so that what is held stays in hand. */
function underneath(html) {
  const fresh = new DOMParser().parseFromString(html, "text/html");
  for (const id of ["bands", "scale", "figures"]) {
    const [old, now] = [document.getElementById(id), fresh.getElementById(id)];
    if (old && now) old.replaceWith(now);
  }
}

let drag = null;
document.addEventListener("pointerdown", (event) => {
  const held = event.target.closest(".held");
  if (!held || event.button !== 0) return;
  const svg = held.ownerSVGElement;
  svg.setPointerCapture(event.pointerId);
  drag = { held, svg, from: centimetres(svg, event), by: [0, 0], busy: false };
  held.classList.add("moving");
  held.focus({ preventScroll: true });
  event.preventDefault();
});
document.addEventListener("pointermove", async (event) => {
  if (!drag) return;
  const at = centimetres(drag.svg, event);
  drag.by = [at[0] - drag.from[0], at[1] - drag.from[1]].map((v) => Math.round(v * 2) / 2);
  shown(drag.held, ...drag.by);
  if (drag.busy) return;
  const mine = drag;
  mine.busy = true;
  await tryOut([move(mine.held, mine.by)], null, (html) => { if (drag === mine) underneath(html); });
  mine.busy = false;
});
const move = (held, [x, y]) => ({ do: "move", key: held.dataset.part, right_cm: x, back_cm: -y });
async function dropped() {
  const { held, by } = drag;
  drag = null;
  held.classList.remove("moving");
  if (by[0] === 0 && by[1] === 0) return;
  if (await change([move(held, by)], { fields: true })) say(document.getElementById(held.id)?.getAttribute("aria-label") ?? "");
  else shown(held, 0, 0);
}
document.addEventListener("pointerup", () => { if (drag) dropped(); });
document.addEventListener("pointercancel", () => { if (drag) { shown(drag.held, 0, 0); drag = null; } });

const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
let steps = null;
document.addEventListener("keydown", (event) => {
  const held = event.target.closest?.(".held");
  if (!held) return;
  if (event.key === "Enter" || event.key === " ") {
    event.preventDefault();
    const part = document.getElementById(`part-${slug(held.dataset.part)}`);
    if (part) { part.open = true; one("input", part)?.focus(); }
    return;
  }
  const arrow = arrows[event.key];
  if (!arrow) return;
  event.preventDefault();
  const way = event.shiftKey ? "stretch" : "move";
  if (steps && (steps.held !== held || steps.way !== way)) walk();
  steps ??= { held, way, by: [0, 0] };
  steps.by = [steps.by[0] + arrow[0], steps.by[1] + arrow[1]];
  if (way === "move") shown(held, ...steps.by);
  clearTimeout(steps.timer);
  steps.timer = setTimeout(walk, 350);
});
async function walk() {
  const { held, way, by } = steps;
  clearTimeout(steps.timer);
  steps = null;
  const done = await change([{ do: way, key: held.dataset.part, right_cm: by[0], back_cm: -by[1] }], { fields: true });
  if (done) say(document.getElementById(held.id)?.getAttribute("aria-label") ?? "");
  else shown(held, 0, 0);
}

// On a wide page there is room for the facets.
if (matchMedia("(min-width: 56rem)").matches) one("#narrow")?.setAttribute("open", "");

// The catalogue: every letter and every tick asks again; the address keeps the question.
let looking;
function look(form) {
  const question = new URLSearchParams([...new FormData(form)].filter(([, value]) => value !== ""));
  const text = question.toString();
  history.replaceState(null, "", text ? `?${text}` : location.pathname);
  draw(one("#found"), `/api/find?${text}`);
}
document.addEventListener("input", (event) => {
  const form = event.target.closest("form[data-look]");
  if (!form) return;
  clearTimeout(looking);
  looking = setTimeout(() => look(form), event.target.type === "search" ? 60 : 0);
});
document.addEventListener("submit", (event) => {
  if (event.target.matches("form[data-look]")) { event.preventDefault(); look(event.target); }
});

// Something else may have changed the file, or another window the tank.
window.addEventListener("focus", async () => {
  const desk = one("#desk");
  if (!desk || drag) return;
  const before = revision();
  await draw(desk);
  if (revision() !== before) drawAll({ fields: true });
});

// A plant of one's own against the tank.
document.addEventListener("submit", (event) => {
  const form = event.target.closest("form[data-ask]");
  if (!form) return;
  event.preventDefault();
  const question = new URLSearchParams([...new FormData(form)].filter(([, value]) => value !== "")).toString();
  if (!question) return;
  const address = form.dataset.to;
  draw(document.getElementById(form.dataset.ask), `${address}${address.includes("?") ? "&" : "?"}${question}`);
});
