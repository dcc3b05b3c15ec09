"use strict";
// The plan is text; everything else on the page is worked out from it by the server, which keeps nothing.
(function () {
  const $ = (id) => document.getElementById(id);
  const person = crypto.randomUUID();
  const inFolder = document.body.dataset.folder === "yes";
  const KEPT = "plan", FRESH = 8000, PAUSE = 250;
  const past = [""];
  let at = 0, turn = 0, timer = 0, file = null, passed = new Set(), later = [], shown = null;

  const text = () => past[at];

  async function post(address, sent) {
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

  function tell(words) { $("told").textContent = words; }

  function change(now, words) {
    if (now === text()) { if (words) tell(words); return; }
    past.splice(at + 1);
    past.push(now);
    at = past.length - 1;
    show();
    if (words) tell(words);
  }

  function show() {
    if ($("text").value !== text()) $("text").value = text();
    $("undo").disabled = at === 0;
    $("redo").disabled = at === past.length - 1;
    if (!inFolder) try { localStorage.setItem(KEPT, text()); } catch { /* no room, or not allowed */ }
    clearTimeout(timer);
    timer = setTimeout(look, PAUSE);
  }

  async function look() {
    const asked = text();
    if (!asked.trim()) return;
    turn += 1;
    const mine = turn;
    document.body.setAttribute("aria-busy", "true");
    const found = await post("/look", { text: asked, person, turn: mine });
    if (mine !== turn) return;
    document.body.removeAttribute("aria-busy");
    if (found === null) return;
    problems(found.problems);
    if (!found.parts) {
      $("gauge").textContent = shown === null ? "" : "The plan cannot be read as it stands now. Below is what was said before.";
      return;
    }
    const before = headings();
    replace("says-body", found.parts.says);
    replace("questions-body", found.parts.questions);
    replace("advice-body", found.parts.advice);
    replace("order-body", found.parts.order);
    replace("cards", found.parts.cards);
    replace("sentences", found.parts.sentences);
    arrangeQuestions();
    mark(before, found);
    shown = found.counts;
  }

  function problems(listed) {
    const list = $("problems");
    list.replaceChildren();
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
      list.append(item);
    }
  }

  function showLine(line) {
    $("file").open = true;
    const lines = text().split("\n");
    const start = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
    $("text").focus();
    $("text").setSelectionRange(start, start + lines[line - 1].length);
  }

  // What stood open and where the cursor was stays so over a change.
  function replace(id, html) {
    const place = $(id), active = document.activeElement;
    const inside = place.contains(active) && active.id ? { id: active.id, from: active.selectionStart, to: active.selectionEnd } : null;
    const open = [...place.querySelectorAll("details[open]")].map((one) => one.id).filter(Boolean);
    const ticked = [...place.querySelectorAll("input[type=checkbox]:checked")].map((one) => one.id);
    place.innerHTML = html; // escaped by the templates
    for (const one of open) if ($(one)) $(one).open = true;
    for (const one of ticked) if ($(one)) $(one).checked = true;
    if (inside && $(inside.id)) {
      $(inside.id).focus();
      if (typeof inside.from === "number" && $(inside.id).setSelectionRange) try { $(inside.id).setSelectionRange(inside.from, inside.to); } catch { /* no text field */ }
    }
    if (inside && document.activeElement === document.body) { // gone, or of no use any more: what stands beside it
      const beside = $(inside.id) && $(inside.id).parentElement.querySelector("button:enabled");
      const heading = place.closest("section").querySelector("h2");
      heading.tabIndex = -1;
      (beside || heading).focus();
    }
  }

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
    if (came.length || went.length) {
      const news = `${came.length} finding${came.length === 1 ? "" : "s"} came, ${went.length} went.`;
      $("told").textContent = [$("told").textContent.replace(/ ?\d+ findings? came, \d+ went\./, ""), news].join(" ").trim();
    }
  }

  const keyOf = (form) => `${form.dataset.sort} ${form.dataset.own} ${form.dataset.attribute}`;

  function arrangeQuestions() {
    const list = document.querySelector("#questions-body .asked");
    if (!list) return;
    for (const form of list.querySelectorAll("form")) if (passed.has(keyOf(form))) form.closest("li").remove();
    for (const key of later) for (const form of list.querySelectorAll("form")) if (keyOf(form) === key) list.append(form.closest("li"));
  }

  async function write(where, value) {
    const found = await post("/write", { text: text(), sort: where.sort, own: where.own, attribute: where.attribute, value });
    if (found === null) return false;
    if (found.problems.length) { tell(found.problems.map((one) => one.message).join(" ")); return false; }
    change(found.text, `Written. ${found.told}`);
    return true;
  }

  // --- tell it -------------------------------------------------------------------------------------------
  async function hear(into) {
    const words = $("words").value;
    if (!words.trim()) { tell("Write something first: what is done to what."); $("words").focus(); return; }
    const found = await post("/draft", { words, into });
    if (found === null) return;
    if (found.heard) $("heard").innerHTML = found.heard;
    if (found.problems.length) { tell(found.problems.map((one) => one.message).join(" ")); return; }
    change(found.text, "Heard. What is marked was not sure, or not understood.");
  }
  $("heard").addEventListener("click", async (event) => {
    const button = event.target.closest(".offer, .none");
    if (!button) return;
    const item = button.closest("li"), list = item.parentElement;
    if (button.classList.contains("offer") && !await write(button.dataset, button.dataset.value)) return;
    if (button.classList.contains("none")) tell("Left out; nothing was written.");
    const next = (item.nextElementSibling || item.previousElementSibling || list).querySelector("button");
    item.remove();
    (next || $("words")).focus();
  });
  $("make").addEventListener("click", () => hear(""));
  $("add").addEventListener("click", () => hear(text()));
  $("begin").addEventListener("click", async () => {
    const jobs = [...document.querySelectorAll(".job input:checked")].map((one) => one.value);
    if (!jobs.length) { tell("Choose a job first."); return; }
    const found = await post("/begin", { jobs });
    if (found) change(found.text, "A starting plan. Answer the questions, and change what is otherwise with you.");
  });

  // --- the plan ------------------------------------------------------------------------------------------
  $("text").addEventListener("input", () => change($("text").value));
  for (const place of ["cards", "sentences"]) $(place).addEventListener("change", (event) => {
    const cell = event.target.closest(".cell");
    if (cell && event.target.value) write(cell.dataset, event.target.value);
  });
  async function move(number, places) {
    const found = await post("/move", { text: text(), number, places });
    if (found === null) return;
    if (found.problems.length) { tell(found.problems[0].message); return; }
    change(found.text, "Moved.");
  }
  $("cards").addEventListener("click", (event) => {
    const button = event.target.closest(".up, .down");
    if (button) move(Number(button.dataset.number), button.classList.contains("up") ? -1 : 1);
  });
  let dragged = null;
  $("cards").addEventListener("dragstart", (event) => { dragged = event.target.closest("li[data-number]"); });
  $("cards").addEventListener("dragover", (event) => { if (dragged) event.preventDefault(); });
  $("cards").addEventListener("drop", (event) => {
    const target = event.target.closest("li[data-number]");
    if (dragged && target && target !== dragged) {
      event.preventDefault();
      move(Number(dragged.dataset.number), Number(target.dataset.number) - Number(dragged.dataset.number));
    }
    dragged = null;
  });

  // --- questions -----------------------------------------------------------------------------------------
  $("questions-body").addEventListener("submit", (event) => {
    event.preventDefault();
    const form = event.target, field = form.querySelector("select, input");
    if (!field.value) { tell("Choose or write an answer, or press Don't know."); field.focus(); return; }
    write(form.dataset, field.value);
  });
  $("questions-body").addEventListener("click", (event) => {
    const button = event.target.closest(".pass, .later");
    if (!button) return;
    const form = button.closest("form"), item = form.closest("li");
    const next = item.nextElementSibling || item.previousElementSibling;
    if (button.classList.contains("pass")) { passed.add(keyOf(form)); item.remove(); tell("It stays unknown, and is not asked again."); }
    else { later = later.filter((key) => key !== keyOf(form)).concat(keyOf(form)); item.parentElement.append(item); tell("It is asked again after the others."); }
    if (next) next.querySelector("select, input").focus();
  });

  // --- advice --------------------------------------------------------------------------------------------
  $("advice-body").addEventListener("click", async (event) => {
    const button = event.target.closest(".take");
    if (!button) return;
    const found = await post("/take", { text: text(), finding: button.dataset.finding });
    if (found === null) return;
    const box = $("preview");
    box.replaceChildren();
    box.hidden = false;
    const say = document.createElement("p");
    say.textContent = found.problems.length ? found.problems.map((one) => one.message).join(" ") : `What it would do: ${found.told}`;
    box.append(say);
    if (!found.problems.length && found.text !== text()) {
      const lines = document.createElement("pre");
      lines.textContent = found.diff.join("\n");
      lines.tabIndex = 0;
      const go = document.createElement("button");
      go.type = "button"; go.id = "do-it"; go.textContent = "Do it";
      go.addEventListener("click", () => { box.hidden = true; change(found.text, found.told); $("advice-head").tabIndex = -1; $("advice-head").focus(); });
      box.append(lines, go, " ");
    }
    const leave = document.createElement("button");
    leave.type = "button"; leave.textContent = "Leave it";
    leave.addEventListener("click", () => { box.hidden = true; if ($(button.id)) $(button.id).focus(); });
    box.append(leave);
    (box.querySelector("#do-it") || leave).focus();
  });

  // --- back, forth, files --------------------------------------------------------------------------------
  $("undo").addEventListener("click", () => { if (at > 0) { at -= 1; show(); tell("Undone."); } });
  $("redo").addEventListener("click", () => { if (at < past.length - 1) { at += 1; show(); tell("Done again."); } });
  for (const button of document.querySelectorAll("#sheets button")) button.addEventListener("click", () => { $("sheet-text").value = text(); });
  if (inFolder) {
    $("which").addEventListener("change", async () => {
      if (!$("which").value) return;
      const answer = await fetch(`/plans/${encodeURIComponent($("which").value)}`);
      if (!answer.ok) { tell(await answer.text()); return; }
      file = await answer.json();
      past.splice(0, past.length, file.text); at = 0; shown = null; passed = new Set(); later = [];
      show();
      tell(`Opened: ${file.name}.`);
    });
    $("save").addEventListener("click", () => save(false));
  } else {
    $("open").addEventListener("change", async () => {
      const chosen = $("open").files[0];
      if (!chosen) return;
      if (chosen.size > 1900000) { tell("This file is more than the page takes."); return; }
      change(await chosen.text(), `Opened: ${chosen.name}.`);
      $("open").value = "";
    });
    $("keep").addEventListener("click", () => {
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([text()], { type: "application/yaml" }));
      link.download = "plan.yaml";
      link.click();
      URL.revokeObjectURL(link.href);
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
  if (!inFolder) {
    let kept = null;
    try { kept = localStorage.getItem(KEPT); } catch { /* not allowed */ }
    if (kept) { past[0] = kept; show(); tell("Your plan of last time."); }
  }
})();
