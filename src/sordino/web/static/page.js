"use strict";
// What the page does beyond its forms: names its tab, hears of changes elsewhere, shortcuts, dragging, dropping.
(() => {
  const tab = sessionStorage.getItem("tab") || Math.random().toString(36).slice(2, 12);
  sessionStorage.setItem("tab", tab);
  const page = () => document.getElementById("page");
  const here = () => location.pathname + location.search;

  // pictures are drawn for the width of this window, whatever another one of the same browser has
  const narrow = matchMedia("(max-width: 40rem)");
  const width = () => narrow.matches ? "1" : "0";
  function sized() { document.cookie = `narrow=${width()}; path=/; samesite=strict`; }

  function named() {
    sized();
    for (const input of document.querySelectorAll('input[name="tab"]')) if (input.value !== tab) input.value = tab;
  }
  document.addEventListener("submit", named, true);
  document.addEventListener("input", named, true);
  document.addEventListener("click", named, true);
  named();

  // what the server says a field holds is what it shows, except where somebody is typing just now
  let mine = null;
  document.addEventListener("input", event => { mine = event.target; }, true);
  new MutationObserver(changes => {
    for (const { target } of changes) {
      if (target === mine && target === document.activeElement) continue;
      if (target instanceof HTMLInputElement && target.closest("form.field")) {
        const said = target.getAttribute("value") || "";
        if (target.value !== said) target.value = said;
      } else if (target instanceof HTMLOptionElement && target.hasAttribute("selected")) target.selected = true;
    }
  }).observe(document.documentElement, { subtree: true, attributes: true, attributeFilter: ["value", "selected"] });

  // pieces that take longer come by themselves; the old one stays, dimmed, until its successor is there
  function wanted(place) {
    const at = document.getElementById("at");
    return place.id === "field" && at ? place.dataset.src.replace(/at=[^&]*/, "at=" + at.value) : place.dataset.src;
  }
  function later() {
    const ended = document.querySelector(".job[data-job='fields'][data-stand='done']");
    if (ended && !ended.seen) {  // the finer field is there: show what it says
      ended.seen = true;
      const loss = document.getElementById("loss");
      if (loss) loss.asked = "";
    }
    for (const place of document.querySelectorAll(".later[data-src]")) {
      const source = wanted(place);
      place.classList.toggle("stale", place.asked !== source || Boolean(place.underway));  // a swap takes it off
      if (place.asked === source) continue;
      place.asked = place.underway = source;
      setTimeout(() => fetched(place, source), place.id === "field" ? 200 : 20);  // the field takes longest
    }
  }
  async function fetched(place, source) {
    const current = () => place.isConnected && place.asked === source;
    if (!current()) return;
    sized();
    try {
      const answer = await fetch(source);
      const html = await answer.text();
      if (!current() || answer.status === 204) return;
      const at = place.contains(document.activeElement) ? document.activeElement.dataset.field : "";
      place.innerHTML = html;
      htmx.process(place);
      const again = at && place.querySelector(`[data-field="${CSS.escape(at)}"]`);
      if (again) again.focus();
    } catch { place.missed = true; /* the program was ended: asked again once it answers */ }
    if (!current()) return;
    place.underway = "";
    place.classList.remove("stale");
  }
  new MutationObserver(later).observe(document.documentElement, {
    childList: true, subtree: true, attributes: true, attributeFilter: ["data-src", "class"],
  });
  document.addEventListener("input", event => {
    if (event.target.id !== "at") return;
    const said = document.getElementById("at-said");
    if (said) said.value = event.target.value;
    later();
  });

  function widthTold() {
    sized();
    if (!renewing && !(page() && (page().dataset.narrow || "0") !== width())) return;
    for (const place of document.querySelectorAll(".later[data-src]")) place.asked = "";  // drawn for the other width
    later();
    renewed();
  }
  narrow.addEventListener("change", widthTold);

  let renewing = false, anew = false;
  function renewed() {
    anew = renewing;  // what was asked for meanwhile, perhaps for another width, comes after it
    if (renewing) return;
    renewing = true;
    mine = null;
    sized();
    fetch(here(), { headers: { "HX-Request": "true" } })
      .then(answer => answer.text())
      .then(html => htmx.swap({ target: page(), text: html, swap: "outerMorph" }))
      .finally(() => { renewing = false; if (anew) renewed(); });
  }

  function typing() {
    const at = document.activeElement;
    return at && at.closest && at.closest("form.field") && at.getAttribute("aria-invalid") === "true";
  }

  let disk = false;
  async function pulse() {
    try {
      const beat = await (await fetch("/pulse")).json();
      const mine = page();
      if (mine && !typing() && !document.querySelector(".htmx-request")) {
        const behind = beat.number > Number(mine.dataset.number);
        if (behind || beat.waiting < Number(mine.dataset.waiting)) renewed();
      }
      if (beat.disk !== disk) { disk = beat.disk; told(); }
      for (const place of document.querySelectorAll(".later")) if (place.missed) place.missed = place.asked = "";
      later();
    } catch { /* the program was ended, or is busy: asked again */ }
    setTimeout(pulse, 1000);
  }
  function told() {
    const place = document.getElementById("elsewhere");
    place.replaceChildren();
    if (!disk) return;
    const box = document.createElement("section");
    box.className = "alarm";
    box.innerHTML = "<h2>The file was changed elsewhere</h2><p>Save will ask before it overwrites that.</p>";
    const take = document.createElement("button");
    take.textContent = "Take what the file says (Undo brings yours back)";
    take.addEventListener("click", () => post("/reread", {}));
    box.append(take);
    place.append(box);
  }

  function post(to, values) {
    mine = null;
    const all = { number: page().dataset.number, tab, back: here(), ...values };
    return htmx.ajax("POST", to, { target: "#page", swap: "outerMorph", values: all });
  }

  document.addEventListener("keydown", event => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    const what = key === "s" ? "save" : key === "z" && !event.shiftKey ? "undo" : key === "y" || key === "z" ? "redo" : "";
    if (!what) return;
    const button = document.querySelector(`button[data-key="${what}"]`);
    if (!button) return;
    event.preventDefault();
    mine = null;
    if (!button.disabled) button.click();
  });

  // what is drawn: things are links to their pages, handles are dragged or moved with the arrow keys
  document.addEventListener("click", event => {
    const thing = event.target.closest && event.target.closest("a.thing[data-kind]");
    if (!thing) return;
    event.preventDefault();
    location.href = `/${thing.dataset.kind}/${encodeURIComponent(thing.dataset.key)}`;
  });
  let latest = null;
  function moved(handle, metres) {
    const bound = name => Number(handle.getAttribute(`aria-value${name}`));
    const to = Math.min(Math.max(metres, bound("min")), bound("max"));
    if (to === Number(handle.dataset.value)) return;
    const steps = handle.dataset.field.split(".").map(step => (/^\d+$/.test(step) ? Number(step) : step));
    const number = page().dataset.number, place = handle.closest(".later");
    handle.dataset.value = to;
    const mine = latest = {};
    const values = { path: JSON.stringify(["box", handle.dataset.box, ...steps]), metres: String(to) };
    return post("/change", values).finally(() => {
      if (latest !== mine || page().dataset.number !== number || !place) return;
      place.asked = "";  // it was not taken: the edge goes back
      later();
    });
  }
  // what a tape measure would show, beside the pointer
  const tape = document.createElement("output");
  tape.className = "tape";
  function onTape(metres, inch) {
    if (!inch) return Math.abs(metres) < 1 ? `${Math.round(metres * 1000)} mm` : `${metres.toFixed(3)} m`;
    const eighths = Math.round(metres / 0.0254 * 8), feet = Math.floor(eighths / 96), whole = Math.floor(eighths % 96 / 8);
    const rest = eighths % 8, by = [8, 1, 2, 1, 4, 1, 2, 1][rest];
    const inches = [whole || !rest ? whole : "", rest ? `${rest / by}/${8 / by}` : ""].filter(part => part !== "").join(" ");
    return feet ? `${feet} ft ${inches} in` : `${inches} in`;
  }
  let held = null;
  document.addEventListener("pointerdown", event => {
    const handle = event.target.closest && event.target.closest(".handle");
    if (!handle) return;
    event.preventDefault();
    handle.focus();
    const box = handle.ownerSVGElement.getScreenCTM();
    held = { handle, x: event.clientX, y: event.clientY, scale: 1 / box.a, at: Number(handle.dataset.value) };
  });
  document.addEventListener("pointermove", event => {
    if (!held) return;
    const across = held.handle.dataset.axis === "x";
    const { dataset } = held.handle, per = Number(dataset.metresPerUnit);
    const [low, high] = ["aria-valuemin", "aria-valuemax"].map(name => Number(held.handle.getAttribute(name)));
    const by = (across ? event.clientX - held.x : held.y - event.clientY) * held.scale;
    held.value = Math.min(Math.max(held.at + by * per, low), high);
    const shown = (held.value - held.at) / per;
    held.handle.style.transform = across ? `translate(${shown}px, 0)` : `translate(0, ${-shown}px)`;
    tape.value = onTape(held.value, dataset.units === "inch");
    tape.style.left = `${event.clientX}px`;
    tape.style.top = `${event.clientY}px`;
    if (!tape.isConnected) document.body.append(tape);
  });
  function released() {
    tape.remove();
    const last = held;
    held = null;
    return last;
  }
  const back = handle => { handle.style.transform = ""; };
  document.addEventListener("pointerup", () => {
    const last = held && released();
    if (!last) return;
    if (last.value === undefined || last.value === last.at) back(last.handle);
    else moved(last.handle, last.value).finally(() => setTimeout(back, 800, last.handle));  // a new drawing comes first
  });
  document.addEventListener("pointercancel", () => { if (held) back(released().handle); });
  document.addEventListener("keydown", event => {
    const handle = event.target.closest && event.target.closest(".handle");
    const step = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key];
    if (!handle || !step) return;
    event.preventDefault();
    moved(handle, Number(handle.dataset.value) + step * Number(handle.dataset.step));
  });

  // recordings
  async function sent(file) {
    const place = document.getElementById("received");
    place.textContent = `Taking ${file.name}.`;
    const answer = await fetch("/recording?name=" + encodeURIComponent(file.name), { method: "POST", body: file });
    place.innerHTML = await answer.text();
  }
  document.addEventListener("dragover", event => {
    const drop = event.target.closest && event.target.closest(".drop");
    if (drop) { event.preventDefault(); drop.classList.add("over"); }
  });
  document.addEventListener("dragleave", event => {
    const drop = event.target.closest && event.target.closest(".drop");
    if (drop) drop.classList.remove("over");
  });
  document.addEventListener("drop", event => {
    const drop = event.target.closest && event.target.closest(".drop");
    if (!drop) return;
    event.preventDefault();
    drop.classList.remove("over");
    for (const file of event.dataTransfer.files) sent(file);
  });
  document.addEventListener("change", event => {
    if (event.target.id === "recording") for (const file of event.target.files) sent(file);
  });

  later();
  widthTold();
  if (page() && page().dataset.wait) renewed();
  setTimeout(pulse, 300);
})();
