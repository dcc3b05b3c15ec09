// What each field and button of the page does.
import { $, after, asked, change, changedMeanwhile, forgetWords, hasPlan, inFolder, keepWords, keyOf, post, restore, rowOf, show, start, step, tell, text, write } from "./core.js";
let file = null;
const problemsOf = (found) => found.problems.map((one) => one.message).join(" ");

// Nothing that was made is replaced unasked.
function ask(beside, words, ways) {
  const old = $("asking");
  if (old) old.remove();
  const box = document.createElement("div"), said = document.createElement("p"), row = document.createElement("span");
  box.id = "asking"; row.className = "acts";
  box.setAttribute("role", "group"); box.setAttribute("aria-labelledby", "asking-words");
  said.id = "asking-words"; said.textContent = words;
  for (const [label, go] of [...ways, ["Leave it", () => beside.querySelector("button").focus()]]) {
    const button = document.createElement("button");
    button.type = "button"; button.textContent = label;
    button.addEventListener("click", () => { box.remove(); go(); });
    row.append(button);
  }
  box.append(said, row);
  beside.after(box);
  row.firstElementChild.focus();
}

// --- tell it -----------------------------------------------------------------------------------------------------
async function hear(into) {
  const words = $("words").value;
  if (!words.trim()) { tell("Write something first: what is done to what.", after("made"), true); $("words").focus(); return; }
  tell("Reading it …", after("made"));
  const found = await post("/draft", { words, into });
  if (found === null) return;
  if (found.heard) $("heard").innerHTML = found.heard; // escaped by the template
  if (found.problems.length) { tell(problemsOf(found), after("made"), true); return; }
  change(found.text, "Heard. What is marked was not sure, or not understood.", after("made"));
}
$("words").addEventListener("input", keepWords);
$("make").addEventListener("click", () => {
  if (!hasPlan()) { hear(""); return; }
  ask($("made"), "There is a plan already.", [["Put the new one in its place", () => { $("make").focus(); hear(""); }], ["Add it to the plan", () => { $("add").focus(); hear(text()); }]]);
});
$("add").addEventListener("click", () => hear(text()));
$("heard").addEventListener("click", async (event) => {
  const button = event.target.closest(".offer, .these, .none");
  if (!button) return;
  const item = button.closest("li"), words = item.querySelector("q").textContent;
  const here = () => [item.querySelector(".acts") || item.firstElementChild, "afterend"];
  let value = button.dataset.value, to = button.dataset;
  if (button.classList.contains("these")) {
    to = item.dataset;
    value = [...item.querySelectorAll("input:checked")].map((one) => one.value).join(", ");
    if (!value) { tell("Tick what is meant, or press None of these.", here, true); return; }
  }
  if (!button.classList.contains("none") && !await write(to, value, here)) return;
  const said = document.createElement("p"), quote = document.createElement("q");
  quote.textContent = words;
  quote.dir = "auto";
  said.append(quote, button.classList.contains("none") ? ": left out; nothing was written." : ": written.");
  said.tabIndex = -1;
  const next = item.nextElementSibling && item.nextElementSibling.querySelector("input, button");
  item.replaceChildren(said);
  if (button.classList.contains("none")) tell("");
  else tell($("told").textContent, () => [said, "afterend"]);
  (next || said).focus();
});
$("begin").addEventListener("click", () => {
  const jobs = [...document.querySelectorAll(".job input:checked")].map((one) => one.value);
  if (!jobs.length) { tell("Choose a job first.", after("started"), true); return; }
  const go = async () => {
    const found = await post("/begin", { jobs });
    if (found) { forgetWords(); change(found.text, "A starting plan. Answer the questions, and change what is otherwise with you.", after("started")); }
  };
  if (hasPlan()) ask($("started"), "There is a plan already.", [["Put the new one in its place", () => { $("begin").focus(); go(); }]]); else go();
});

// --- the plan ------------------------------------------------------------------------------------------------------
$("text").addEventListener("input", () => change($("text").value));
$("title").addEventListener("change", async () => {
  if (!hasPlan()) return;
  const found = await post("/name", { text: text(), title: $("title").value });
  if (found) { if (found.problems.length) tell(problemsOf(found), after("named"), true); else change(found.text, "Named.", after("named")); }
});
for (const spot of ["cards", "sentences"]) $(spot).addEventListener("change", (event) => {
  const cell = event.target.closest(".cell"), id = event.target.id;
  if (cell && event.target.value) write(cell.dataset, event.target.value, after(id));
});
async function move(number, places, id) {
  const found = await post("/move", { text: text(), number, places });
  if (found === null) return;
  const here = () => $(id) ? [$(id).parentElement, "afterend"] : null;
  if (found.problems.length) { tell(problemsOf(found), here, true); return; }
  change(found.text, "Moved.", here);
}
$("cards").addEventListener("click", (event) => {
  const button = event.target.closest(".up, .down");
  if (button) move(Number(button.dataset.number), button.classList.contains("up") ? -1 : 1, button.id);
});
let dragged = null;
$("cards").addEventListener("dragstart", (event) => { dragged = event.target.closest("li[data-number]"); });
$("cards").addEventListener("dragover", (event) => { if (dragged) event.preventDefault(); });
$("cards").addEventListener("drop", (event) => {
  const target = event.target.closest("li[data-number]");
  if (dragged && target && target !== dragged) {
    event.preventDefault();
    move(Number(dragged.dataset.number), Number(target.dataset.number) - Number(dragged.dataset.number), target.querySelector("button").id);
  }
  dragged = null;
});

// --- questions -------------------------------------------------------------------------------------------------------
// What a form says: its ticks and what was typed; `null` where it says nothing, "" where it says none of these.
function said(form) {
  const choices = [...form.querySelectorAll("input[type=checkbox], input[type=radio]")];
  const own = form.querySelector("input.own, select, input:not([type])"), typed = own ? own.value.trim() : "";
  const chosen = choices.filter((one) => one.checked && !one.classList.contains("nothing")).map((one) => one.value);
  const nothing = form.querySelector(".nothing:checked");
  if (form.querySelector("input[type=radio]")) return typed || chosen[0] || null;
  const found = [...chosen, ...(typed ? [typed] : [])];
  return found.length ? found.join(", ") : nothing ? nothing.value : null;
}
function inForm(form) { // found again by what it asks
  const key = keyOf(form), area = form.closest("section").id;
  return () => { const now = [...document.querySelectorAll(`#${area} form.ask`)].find((one) => keyOf(one) === key); return now ? [now.querySelector(".acts"), "afterend"] : null; };
}
const atRow = (row) => () => { const rows = document.querySelectorAll(".asked > li"); return rows.length ? [rows[Math.min(row, rows.length - 1)], "afterbegin"] : [$("questions-body"), "afterbegin"]; };
function pass(form, words) {
  const item = form.closest("li"), row = rowOf(form), next = item.nextElementSibling || item.previousElementSibling;
  asked.passed.add(keyOf(form));
  item.remove();
  tell(words, atRow(row));
  const field = next && next.querySelector("select, input");
  if (field) field.focus();
}
for (const spot of ["questions-body", "says-body"]) $(spot).addEventListener("submit", (event) => {
  event.preventDefault();
  const form = event.target, value = said(form);
  if (value === null) { tell("Choose or write an answer, or press Don't know.", inForm(form), true); form.querySelector("select, input").focus(); return; }
  if (value === "") { pass(form, "None of these: a plan has no word for that, so it stays open and is not asked again."); return; }
  const row = rowOf(form);
  write(form.dataset, value, inForm(form), row === null ? after("says-head") : atRow(row));
});
$("questions-body").addEventListener("change", (event) => { // none of these, or some of them
  const box = event.target;
  if (box.type === "radio") { const own = box.form.querySelector(".own"); if (own) own.value = ""; return; }
  if (box.type !== "checkbox" || !box.checked) return;
  const nothing = box.classList.contains("nothing");
  for (const one of box.form.querySelectorAll("input[type=checkbox]")) if (one !== box && (nothing || one.classList.contains("nothing"))) one.checked = false;
});
$("questions-body").addEventListener("click", (event) => {
  const button = event.target.closest(".pass, .later");
  if (!button) return;
  const form = button.closest("form"), item = form.closest("li");
  if (button.classList.contains("pass")) { pass(form, "It stays unknown, and is not asked again."); return; }
  const row = rowOf(form), next = item.nextElementSibling;
  asked.later = asked.later.filter((key) => key !== keyOf(form)).concat(keyOf(form));
  item.parentElement.append(item);
  tell("It is asked again after the others.", atRow(row));
  if (next) next.querySelector("select, input").focus();
});

// --- advice -------------------------------------------------------------------------------------------------------------
$("advice-body").addEventListener("click", async (event) => {
  let button = event.target.closest(".take");
  if (!button) return;
  const sent = text(), found = await post("/take", { text: sent, finding: button.dataset.finding });
  if (found === null) return;
  if (text() !== sent) { changedMeanwhile(); return; }
  button = document.querySelector(`.take[data-finding="${CSS.escape(button.dataset.finding)}"]`) || button; // drawn anew meanwhile
  if ($("preview")) $("preview").remove();
  const box = document.createElement("div"), row = rowOf(button);
  box.id = "preview";
  box.plan = sent;
  box.dataset.finding = button.dataset.finding;
  const write = found.problems.length === 0 && found.text !== text();
  for (const words of found.problems.length ? [problemsOf(found)] : [...found.said, found.told]) box.append(Object.assign(document.createElement("p"), { textContent: words }));
  if (write) {
    const more = document.createElement("details"), name = document.createElement("summary"), lines = document.createElement("pre");
    name.textContent = "The lines of the plan file";
    lines.textContent = found.diff.join("\n");
    lines.tabIndex = 0;
    more.append(name, lines);
    const go = document.createElement("button");
    go.type = "button"; go.id = "do-it"; go.textContent = "Do it";
    go.addEventListener("click", () => {
      box.remove();
      button.focus();
      if (text() !== sent) { changedMeanwhile(); return; }
      change(found.text, `Done. ${found.told}`, () => { const rows = document.querySelectorAll(".advised > li"); return rows.length ? [rows[Math.min(row, rows.length - 1)], "afterbegin"] : after("advice-head")(); });
    });
    box.append(more, go, " ");
  }
  const leave = document.createElement("button");
  leave.type = "button"; leave.textContent = "Leave it";
  leave.addEventListener("click", () => { box.remove(); if ($(button.id)) $(button.id).focus(); });
  box.append(leave);
  button.closest("li").append(box);
  (box.querySelector("#do-it") || leave).focus();
});

// --- back, forth, files ---------------------------------------------------------------------------------------------------
$("undo").addEventListener("click", () => step(-1));
$("redo").addEventListener("click", () => step(1));
for (const button of document.querySelectorAll("#sheets button")) button.addEventListener("click", (event) => {
  $("sheet-text").value = text();
  if (button.id !== "calendar" || $("start").value) return;
  event.preventDefault();
  tell("Choose the first day of the work: a calendar needs it.", after("start"), true);
  $("start").focus();
});
$("start").addEventListener("change", () => { if ($("start").value && hasPlan()) write({ sort: "crew", own: "crew", attribute: "start" }, $("start").value, after("start")); });
if (inFolder) {
  $("which").addEventListener("change", async () => {
    if (!$("which").value) return;
    const answer = await fetch(`/plans/${encodeURIComponent($("which").value)}`);
    if (!answer.ok) { tell(await answer.text()); return; }
    file = await answer.json();
    start(file.text);
    tell(`Opened: ${file.name}.`);
  });
  $("save").addEventListener("click", () => save());
} else {
  $("open").addEventListener("change", async () => {
    const chosen = $("open").files[0];
    if (!chosen) return;
    if (chosen.size > 1900000) { tell("This file is more than the page takes."); return; }
    forgetWords();
    change(await chosen.text(), `Opened: ${chosen.name}. Undo brings back what was here.`);
    $("open").value = "";
  });
  $("keep").addEventListener("click", () => {
    const link = document.createElement("a"), short = $("title").value.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "").slice(0, 40);
    link.href = URL.createObjectURL(new Blob([text()], { type: "application/yaml" }));
    link.download = `${short || "plan"}.yaml`;
    link.click();
    URL.revokeObjectURL(link.href);
    tell(`Saved as ${link.download}.`);
  });
}
async function save() {
  if (!file) { tell("Choose a plan of the folder first."); return; }
  const answer = await fetch(`/plans/${encodeURIComponent(file.name)}`, {
    method: "PUT", headers: { "content-type": "application/json" }, body: JSON.stringify({ text: text(), mark: file.mark }),
  });
  if (answer.status === 409) { clash(await answer.json()); return; }
  if (!answer.ok) { tell(await answer.text()); return; }
  file = await answer.json();
  $("clash").hidden = true;
  tell(`Saved: ${file.name}.`);
}
function clash(theirs) {
  const box = $("clash");
  box.replaceChildren();
  box.hidden = false;
  const say = document.createElement("p");
  say.textContent = `${theirs.name} was changed meanwhile, somewhere else. Nothing was saved. This is what stands there now:`;
  const there = document.createElement("pre");
  there.textContent = theirs.text;
  there.tabIndex = 0;
  const take = document.createElement("button"), over = document.createElement("button");
  take.type = over.type = "button";
  take.textContent = "Take what stands there";
  take.addEventListener("click", () => { file = theirs; box.hidden = true; change(theirs.text, "Taken. Undo brings yours back."); });
  over.textContent = "Save mine in its place";
  over.addEventListener("click", () => { file = { ...theirs }; save(); });
  box.append(say, there, take, " ", over);
  take.focus();
}

post("/words", {}).then((found) => { if (found) $("lists").innerHTML = found.lists; }); // escaped by the template
if (inFolder) show(); else restore();
