// What the page knows: the plan as text with its past, what is shown of it, and words beside where somebody acts.
export const $ = (id) => document.getElementById(id);
export const inFolder = document.body.dataset.folder === "yes";
const person = crypto.randomUUID();
const FRESH = 8000, PAUSE = 250, MOST_PAST = 30;
const KEPT = "plan", PAST = "past", WORDS = "words", TICKS = "ticks";
const past = [""];
let at = 0, turn = 0, timer = 0, shown = null, note = null, told = false;
export const asked = { passed: new Set(), later: [] };

export const text = () => past[at];
export const hasPlan = () => text().trim() !== "";

// --- what the browser keeps: the plan with its past, the words, the ticks; nothing in folder mode -------------
function keep(name, value) {
  if (!inFolder) try { localStorage.setItem(name, value); } catch { /* no room, or not allowed */ }
}
function kept(name) {
  try { return inFolder ? null : localStorage.getItem(name); } catch { return null; }
}
export function keepWords() { keep(WORDS, $("words").value); }
export function forgetWords() { $("words").value = ""; $("heard").replaceChildren(); keepWords(); }
const ticks = new Set(list(kept(TICKS)));
function list(json) {
  try { const found = JSON.parse(json); return Array.isArray(found) ? found.filter((one) => typeof one === "string") : []; } catch { return []; }
}

export function restore() {
  const plan = kept(KEPT), before = list(kept(PAST));
  $("words").value = kept(WORDS) || $("words").value;
  if (!plan) { show(); return; }
  past.splice(0, past.length, ...(before[before.length - 1] === plan ? before : ["", plan]));
  at = past.length - 1;
  show();
  tell("Your plan of last time.");
}

// --- talking to the server ------------------------------------------------------------------------------------
export async function post(address, sent) {
  let answer;
  try {
    answer = await fetch(address, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(sent) });
  } catch {
    tell("The page's program does not answer. Start it again; your plan is kept here.");
    return null;
  }
  if (answer.status === 409) return null; // something newer was asked
  if (!answer.headers.get("content-type").startsWith("application/json")) {
    tell(await answer.text());
    return null;
  }
  return answer.json();
}

// --- telling ----------------------------------------------------------------------------------------------------
// `where()` gives an element and where beside it the words stand; they stay there over a live change.
export function tell(words, where = null, bad = false) {
  const head = $("told");
  head.setAttribute("aria-live", where ? "off" : "polite"); // said once: beside, or at the head
  head.textContent = words;
  note = where ? { words, where, bad } : null;
  place(true);
}
export const after = (id) => () => $(id) ? [$(id), "afterend"] : null;

function place(aloud) {
  const old = $("beside");
  if (old) old.remove();
  for (const field of document.querySelectorAll("[aria-describedby=beside]")) { field.removeAttribute("aria-describedby"); field.removeAttribute("aria-invalid"); }
  const found = note && note.words && note.where();
  if (!found) return;
  const [element, side] = found, said = document.createElement("p");
  said.id = "beside";
  said.className = note.bad ? "beside bad" : "beside";
  if (aloud) said.setAttribute("role", note.bad ? "alert" : "status");
  element.insertAdjacentElement(side, said);
  said.textContent = note.words;
  const around = element.closest("form.ask, .cell, .named, .first-day");
  const field = note.bad && around && around.querySelector("input, select");
  if (field) { field.setAttribute("aria-describedby", "beside"); field.setAttribute("aria-invalid", "true"); }
}

// --- the plan ---------------------------------------------------------------------------------------------------
export function change(now, words, where = null) {
  if (now === text()) { if (words) tell(words, where); return; }
  past.splice(at + 1);
  past.push(now);
  past.splice(0, past.length - MOST_PAST);
  at = past.length - 1;
  told = Boolean(words);
  show();
  tell(words || "", where);
}
export function start(first) { past.splice(0, past.length, first); at = 0; shown = null; asked.passed = new Set(); asked.later = []; forgetWords(); show(); }
export function step(by) {
  if (at + by < 0 || at + by >= past.length) return;
  at += by;
  told = false;
  show();
  tell(by < 0 ? "Undone." : "Done again.");
}

export function show() {
  if ($("text").value !== text()) $("text").value = text();
  $("undo").disabled = at === 0;
  $("redo").disabled = at === past.length - 1;
  for (const one of document.querySelectorAll(".needs")) if ("disabled" in one) one.disabled = !hasPlan(); else one.hidden = !hasPlan();
  keep(KEPT, text());
  keep(PAST, JSON.stringify(past.slice(0, at + 1)));
  clearTimeout(timer);
  timer = setTimeout(look, PAUSE);
}

async function look() {
  const now = text();
  turn += 1;
  const mine = turn;
  if (!now.trim()) {
    problems([]);
    $("gauge").textContent = "";
    $("says-body").textContent = $("cards").textContent = "There is no plan yet. Tell it in your own words, or start from a usual job.";
    $("sentences").replaceChildren();
    shown = null;
    return;
  }
  document.body.setAttribute("aria-busy", "true");
  const found = await post("/look", { text: now, person, turn: mine });
  if (mine !== turn) return;
  document.body.removeAttribute("aria-busy");
  if (found === null) return;
  problems(found.problems);
  if (!found.parts) {
    $("gauge").textContent = shown === null ? "" : "The plan cannot be read as it stands now. Below is what was said before.";
    return;
  }
  const before = headings();
  for (const [id, part] of [["says-body", "says"], ["questions-body", "questions"], ["advice-body", "advice"], ["order-body", "order"], ["cards", "cards"], ["sentences", "sentences"]]) replace(id, found.parts[part]);
  if (document.activeElement !== $("title")) $("title").value = found.title;
  if (document.activeElement !== $("start")) $("start").value = found.start;
  arrangeQuestions();
  mark(before, found);
  place(false);
  shown = found.counts;
}

function problems(listed) {
  const items = $("problems");
  items.replaceChildren();
  for (const one of listed) {
    const item = document.createElement("li");
    item.textContent = (one.line ? `Line ${one.line}: ` : "") + one.message;
    if (one.line) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = "Show the line";
      button.addEventListener("click", () => showLine(one.line));
      item.append(" ", button);
    }
    items.append(item);
  }
}

function showLine(line) {
  $("file").open = true;
  const lines = text().split("\n");
  const from = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
  $("text").focus();
  $("text").setSelectionRange(from, from + lines[line - 1].length);
}

// What stood open and where the cursor was stays so over a change.
// What an advice would change belongs to the plan that it was asked for: it stays while that one does.
export const changedMeanwhile = () => tell("The plan was changed meanwhile. Look again at what this would change.", after("advice-head"), true);

function hang(preview) {
  const button = preview.plan === text() && document.querySelector(`.take[data-finding="${CSS.escape(preview.dataset.finding)}"]`);
  if (button) button.closest("li").append(preview); else changedMeanwhile();
}

function replace(id, html) {
  const spot = $(id), active = document.activeElement;
  const inside = spot.contains(active) && active.id ? { id: active.id, from: active.selectionStart, to: active.selectionEnd } : null;
  const row = inside && rowOf(active);
  const open = [...spot.querySelectorAll("details[open]")].map((one) => one.id).filter(Boolean);
  const typed = typedIn(spot), preview = spot.querySelector("#preview");
  spot.innerHTML = html; // escaped by the templates
  for (const one of open) if ($(one)) $(one).open = true;
  for (const [own, value] of typed) if ($(own)) { if (value === true) $(own).checked = true; else $(own).value = value; }
  if (preview) hang(preview);
  if (id === "says-body") for (const box of spot.querySelectorAll("input[type=checkbox]")) box.checked = ticks.has(tickOf(box));
  if (inside && $(inside.id)) {
    $(inside.id).focus();
    if (typeof inside.from === "number" && $(inside.id).setSelectionRange) try { $(inside.id).setSelectionRange(inside.from, inside.to); } catch { /* no text field */ }
  }
  if (inside && document.activeElement === document.body) { // gone, or of no use any more: what stands in its place
    const rows = row !== null && id !== "cards" ? [...spot.querySelectorAll(ROWS)] : [];
    const next = rows.length ? rows[Math.min(row, rows.length - 1)].querySelector("input, select, button") : null;
    const beside = $(inside.id) && $(inside.id).parentElement.querySelector("button:enabled");
    const heading = spot.closest("section").querySelector("h2");
    heading.tabIndex = -1;
    (next || beside || heading).focus();
  }
}
const ROWS = ".asked > li, .advised > li";
export function rowOf(element) {
  const row = element.closest(ROWS);
  return row && row.parentElement ? [...row.parentElement.children].indexOf(row) : null;
}
// An answer that is half typed is not lost when another one is given.
function typedIn(spot) {
  const found = [];
  for (const one of spot.querySelectorAll(".ask input[id], .ask select[id]")) {
    if (one.type === "checkbox" || one.type === "radio") { if (one.checked) found.push([one.id, true]); }
    else if (one.value) found.push([one.id, one.value]);
  }
  return found;
}

// A tick belongs to its words: where they change, it has to be looked at again.
const tickOf = (box) => { const label = document.querySelector(`label[for="${CSS.escape(box.id)}"]`); return label ? label.textContent.trim() : ""; };
$("says-body").addEventListener("change", (event) => {
  if (event.target.type !== "checkbox" || !tickOf(event.target)) return;
  if (event.target.checked) ticks.add(tickOf(event.target)); else ticks.delete(tickOf(event.target));
  keep(TICKS, JSON.stringify([...ticks]));
});

const headings = () => new Map([...document.querySelectorAll("#says-body .finding")].map((one) => [one.querySelector("h3,h4,h5,h6").textContent, one]));

function mark(before, found) {
  $("gauge").textContent = found.gauge;
  if (shown === null) return;
  const now = headings();
  const came = [...now].filter(([words]) => !before.has(words));
  const went = [...before.keys()].filter((words) => !now.has(words));
  for (const [, card] of came) {
    card.classList.add("fresh");
    setTimeout(() => card.classList.remove("fresh"), FRESH);
  }
  if (!told && (came.length || went.length)) $("told").textContent = [$("told").textContent, `New: ${came.length}. Gone: ${went.length}.`].join(" ").trim();
  told = true;
}

export const keyOf = (form) => `${form.dataset.sort} ${form.dataset.own} ${form.dataset.attribute}`;
function arrangeQuestions() {
  const questions = document.querySelector("#questions-body .asked");
  if (!questions) return;
  for (const form of questions.querySelectorAll("form")) if (asked.passed.has(keyOf(form))) form.closest("li").remove();
  for (const key of asked.later) for (const form of questions.querySelectorAll("form")) if (keyOf(form) === key) questions.append(form.closest("li"));
}

// A value into the plan; `where` is beside what was pressed, `then` where the words stand when it is done.
export async function write(to, value, where, then = where) {
  tell("Writing it down …", where);
  const found = await post("/write", { text: text(), sort: to.sort, own: to.own, attribute: to.attribute, value });
  if (found === null) { tell($("told").textContent === "Writing it down …" ? "" : $("told").textContent, where, true); return false; }
  if (found.problems.length) { tell(found.problems.map((one) => one.message).join(" "), where, true); return false; }
  change(found.text, found.told, then);
  return true;
}
