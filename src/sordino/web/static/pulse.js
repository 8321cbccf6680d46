// Hears every second what goes on behind the page: other tabs, the file, and whether the program still answers.
import { page, post, renewed } from "./frame.js";
import { later, missed } from "./pieces.js";

const PATIENCE = 20000;
const LOST = "Nothing that is done here is taken or saved until it does; what was typed stays where it is. " +
  "If it was ended, start sordino open again and use the address that it prints then: it offers what was not saved.";

let silent = false, disk = "";
const left = new Set();

function alarm(id, head, words) {
  const box = document.createElement("section"), line = document.createElement("p"), title = document.createElement("h2");
  box.className = "alarm";
  box.id = id;
  title.textContent = head;
  line.textContent = words;
  box.append(title, line);
  document.getElementById("elsewhere").append(box);
  return box;
}

/** Say that nothing answers. */
export function lost() {
  if (silent) return;
  silent = true;
  document.getElementById("elsewhere").setAttribute("role", "alert");
  alarm("lost", "The program does not answer", LOST);
}
function found() {
  if (!silent) return;
  silent = false;
  document.getElementById("lost")?.remove();
  for (const form of left) {
    const field = form.querySelector('[name="value"]');
    if (form.isConnected && field && field.value !== field.getAttribute("value")) form.requestSubmit();
  }
  left.clear();
}

function typing() {
  const at = document.activeElement;
  return at && at.closest && at.closest("form.field") && at.getAttribute("aria-invalid") === "true";
}
async function pulse() {
  try {
    const answer = await fetch("/pulse", { signal: AbortSignal.timeout(PATIENCE) });
    if (!answer.ok) throw new Error("another start answers");
    const beat = await answer.json();
    found();
    const mine = page();
    if (mine && !typing() && !document.querySelector(".htmx-request")) {
      const behind = beat.number > Number(mine.dataset.number);
      if (behind || beat.waiting < Number(mine.dataset.waiting)) renewed();
    }
    const now = beat.gone ? "gone" : beat.disk ? "changed" : "";
    if (now !== disk) { disk = now; told(); }
    missed();
  } catch { if (!leaving) lost(); }
  setTimeout(pulse, 1000);
}
function told() {
  document.getElementById("disk")?.remove();
  if (!disk) return;
  if (disk === "gone") {
    alarm("disk", "The file is gone", "It was deleted, renamed or moved. Save will ask before it writes it anew.");
    return;
  }
  const box = alarm("disk", "The file was changed elsewhere", "Save will ask before it overwrites that.");
  const take = document.createElement("button");
  take.textContent = "Take what the file says (Undo brings yours back)";
  take.addEventListener("click", () => post("/reread", {}));
  box.append(take);
}

let leaving = false;
addEventListener("pagehide", () => { leaving = true; });
addEventListener("pageshow", () => { leaving = false; });

// what is asked for and not answered is told at once, and a field sent again once it can be
document.addEventListener("htmx:error", event => {
  const form = event.detail.ctx?.sourceElement?.closest?.("form.field");
  if (form) left.add(form);
  if (event.detail.ctx && !leaving) lost();
});
document.addEventListener("htmx:before:response", event => {
  const { status, headers } = event.detail.ctx.response;
  if (status === 403) lost();
  else if (status < 500 || (headers.get("content-type") || "").startsWith("text/html")) return;
  else {
    const said = document.getElementById("said");
    if (said) said.textContent = "Something went wrong in the program; it was not done. What it says stands where it was started.";
  }
  event.preventDefault();
});
later();
setTimeout(pulse, 300);
