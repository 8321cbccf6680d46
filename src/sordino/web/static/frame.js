// The frame that every view stands in: the name of its tab, its width, what is swapped into it and what must outlast
// that, shortcuts, and what is asked before a view is left.
const tab = sessionStorage.getItem("tab") || Math.random().toString(36).slice(2, 12);
sessionStorage.setItem("tab", tab);
export const page = () => document.getElementById("page");
export const here = () => location.pathname + location.search;

// pictures are drawn for the width of this window, whatever another one of the same browser has
export const narrow = matchMedia("(max-width: 40rem)");
export const width = () => narrow.matches ? "1" : "0";
export function sized() { document.cookie = `narrow=${width()}; path=/; samesite=strict`; }

function named() {
  sized();
  for (const input of document.querySelectorAll('input[name="tab"]')) if (input.value !== tab) input.value = tab;
}
for (const event of ["submit", "input", "click"]) document.addEventListener(event, named, true);
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

// what somebody typed that the project has not taken: refused texts, and a whole text that was not handed in yet
const refused = () => [...document.querySelectorAll('form.field [name="value"][aria-invalid="true"]')];
const handed = each => each.value === each.defaultValue;
const unhanded = () => [...document.querySelectorAll('main textarea[name="text"]')].filter(each => !handed(each));
const asked = () => [...document.querySelectorAll("#begin input:not([type=hidden])")].filter(each => !handed(each));

let kept = [], focus = null;
function before(form) {
  focus = document.activeElement;
  kept = refused().filter(each => each.form !== form)
    .map(({ id, value, form: of }) => ({ id, value, words: of.querySelector(".problem")?.textContent || "" }));
}
function after() {
  const back = [];
  for (const { id, value, words } of kept) {
    const field = document.getElementById(id), more = document.getElementById(`${id}-more`);
    if (!field || !more || field.getAttribute("aria-invalid") === "true") continue;
    field.setAttribute("value", value);
    field.value = value;
    field.setAttribute("aria-invalid", "true");
    const problem = document.createElement("strong");
    problem.className = "problem";
    problem.textContent = words;
    more.replaceChildren(problem);
    back.push(document.querySelector(`label[for="${id}"]`).textContent);
  }
  const said = document.getElementById("said");
  if (back.length && said?.dataset.kind === "saved") said.textContent += ` Not with it, see there: ${back.join(", ")}.`;
  kept = [];
  guarded();
  refocused();
}
// a button that went with what it was in leaves the focus to what came instead
function refocused() {
  const now = document.activeElement;
  if (!focus || focus === document.body || (now !== document.body && !now.disabled)) return;
  const home = focus.isConnected ? focus.closest(".acts") : homes.map(id => document.getElementById(id)).find(Boolean);
  const next = home && home.id !== "main" && home.querySelector("button:not(:disabled), a[href]");
  (next || document.getElementById("main"))?.focus({ preventScroll: true });
}
let homes = [];
document.addEventListener("focusin", event => {
  homes = [];
  for (let at = event.target.parentElement; at; at = at.parentElement) if (at.id) homes.push(at.id);
});
document.addEventListener("htmx:before:swap", event => {
  before(event.detail.ctx?.sourceElement?.closest?.("form.field"));
});
document.addEventListener("htmx:after:swap", after);
// a text that is being written is left alone, whatever the project has become meanwhile
function guarded() {
  for (const each of document.querySelectorAll("main textarea")) each.toggleAttribute("hx-morph-skip", !handed(each));
}
const freed = () => document.querySelectorAll("main textarea").forEach(each => each.removeAttribute("hx-morph-skip"));
document.addEventListener("input", guarded);
document.addEventListener("submit", event => { if (event.target.matches?.('form[action="/text"]')) freed(); }, true);

let renewing = false, anew = false;
export const underway = () => renewing;
export function renewed() {
  anew = renewing;  // what was asked for meanwhile, perhaps for another width, comes after it
  if (renewing) return;
  renewing = true;
  mine = null;
  sized();
  fetch(here(), { headers: { "HX-Request": "true" } })
    .then(answer => answer.ok || answer.status === 404 ? answer.text() : Promise.reject(answer.status))
    .then(html => {
      const said = document.getElementById("said");  // what was said of a deed outlasts what only follows it
      said?.setAttribute("hx-morph-skip", "");
      return htmx.swap({ target: page(), text: html, swap: "outerMorph" }).finally(() => said?.removeAttribute("hx-morph-skip"));
    })
    .catch(() => { /* the pulse tells if nothing answers */ })
    .finally(() => { renewing = false; if (anew) renewed(); });
}

export function post(to, values) {
  mine = null;
  const all = { number: page().dataset.number, tab, back: here(), ...values };
  return htmx.ajax("POST", to, { target: "#page", swap: "outerMorph", values: all });
}

// saving takes the whole text first, if one was written
async function saved(button) {
  const [text] = unhanded();
  freed();
  await post("/text", { text: text.value });
  if (document.querySelector("main > .alarm")) return;
  text.defaultValue = text.value;
  button.click();
}
document.addEventListener("click", event => {
  const button = event.target.closest?.('button[data-key="save"]');
  if (!button || !unhanded().length) return;
  event.preventDefault();
  event.stopPropagation();
  saved(button);
}, true);

/** Whether undoing belongs to what is being typed and not to the project. */
function writing() {
  const at = document.activeElement;
  if (at instanceof HTMLTextAreaElement) return true;
  if (!(at instanceof HTMLInputElement) || ["range", "checkbox", "radio", "file"].includes(at.type)) return false;
  return !at.closest("form.field") || at.getAttribute("aria-invalid") === "true";
}
document.addEventListener("keydown", event => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const what = key === "s" ? "save" : key === "z" && !event.shiftKey ? "undo" : key === "y" || key === "z" ? "redo" : "";
  const button = what && document.querySelector(`button[data-key="${what}"]`);
  if (!button || (what !== "save" && writing())) return;
  event.preventDefault();
  mine = null;
  if (!button.disabled) button.click();
});

addEventListener("beforeunload", event => {
  if (refused().length || unhanded().length || asked().length) event.preventDefault();
});
