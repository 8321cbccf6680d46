// Pieces that take longer come by themselves; the old one stays, dimmed, until its successor is there. What was asked for
// by a button stays too, and is asked for anew or says so once the project has changed.
import { narrow, page, renewed, sized, underway, width } from "./frame.js";

// what the box takes comes first; the sound field takes longest, ms
const AFTER = { section: 120, field: 250 };

function wanted(place) {
  const at = document.getElementById("at");
  return place.id === "field" && at ? place.dataset.src.replace(/at=[^&]*/, "at=" + at.value) : place.dataset.src;
}
export function later() {
  const ended = document.querySelector(".job[data-job='fine'][data-stand='done']");
  if (ended && !ended.seen) {  // the finer field is there: show what it says
    ended.seen = true;
    anew(document.getElementById("loss"));
  }
  for (const place of document.querySelectorAll(".later[data-src]")) {
    if (place.held) continue;  // somebody drags in it
    const source = wanted(place);
    place.classList.toggle("stale", place.asked !== source || Boolean(place.underway));  // a swap takes it off
    if (place.asked === source) continue;
    place.asked = place.underway = source;
    setTimeout(fetched, AFTER[place.id] || 0, place, source);
  }
  answered();
}
async function fetched(place, source) {
  const current = () => place.isConnected && place.asked === source && !place.held;
  if (!current()) return;
  sized();
  try {
    const answer = await fetch(source);
    const html = await answer.text();
    if (!current() || answer.status === 204 || answer.status === 403) return;
    const at = place.contains(document.activeElement) ? document.activeElement.dataset.field : "";
    place.innerHTML = html;
    htmx.process(place);
    const again = at && place.querySelector(`[data-field="${CSS.escape(at)}"]`);
    if (again) again.focus();
    place.dispatchEvent(new Event("drawn", { bubbles: true }));
  } catch { place.missed = true; /* the program was ended: asked again once it answers */ }
  if (!current()) return;
  place.underway = "";
  place.classList.remove("stale");
}
/** Ask for a piece once more. */
export function anew(place) {
  if (place) place.asked = "";
}
/** Ask once more for what could not be had while nothing answered. */
export function missed() {
  for (const place of document.querySelectorAll(".later")) if (place.missed) place.missed = place.asked = "";
  later();
}
new MutationObserver(later).observe(document.documentElement, {
  childList: true, subtree: true, attributes: true, attributeFilter: ["data-src", "class", "data-number"],
});
document.addEventListener("input", event => {
  if (event.target.id !== "at") return;
  const said = document.getElementById("at-said");
  if (said) said.value = event.target.value;
  event.target.setAttribute("aria-valuetext", `${event.target.value} Hz`);
  later();
});

// what a button brought: it knows its address and the state that it is of
document.addEventListener("htmx:config:request", event => {
  const { ctx } = event.detail, place = ctx.target instanceof Element ? ctx.target : null;
  const { action, body, method } = ctx.request;
  if (!place?.matches(".on-ask") || method !== "GET" || action.includes("going=1")) return;
  const more = String(new URLSearchParams(body || ""));
  place.address = action + (more && (action.includes("?") ? "&" : "?") + more);
  place.number = page().dataset.number;
});
function answered() {
  for (const place of document.querySelectorAll(".on-ask")) {
    if (!place.address || place.number === page().dataset.number) continue;
    place.number = page().dataset.number;
    if (place.dataset.again === undefined) told(place);
    else htmx.ajax("GET", place.address, { target: place, swap: "innerHTML" });
  }
}
function told(place) {
  if (place.querySelector(":scope > .older, .job")) return;  // work under way tells it by itself
  const words = document.createElement("p"), button = document.createElement("button");
  words.className = "hint older";
  words.textContent = "The project has changed since this was worked out. ";
  button.type = "button";
  button.textContent = "Ask again";
  button.addEventListener("click", () => htmx.ajax("GET", place.address, { target: place, swap: "innerHTML" }));
  words.append(button);
  place.prepend(words);
}

function widthTold() {
  sized();
  if (!underway() && !(page() && (page().dataset.narrow || "0") !== width())) return;
  for (const place of document.querySelectorAll(".later[data-src]")) anew(place);  // drawn for the other width
  later();
  renewed();
}
narrow.addEventListener("change", widthTold);
later();
widthTold();
if (page() && page().dataset.wait) renewed();
