// What is drawn: things are links to their pages, handles are dragged or moved with the arrow keys. While one moves, the
// project follows it, one change under way at a time and the last always done; all of it is one step to undo.
import { page, post } from "./frame.js";
import { anew, later } from "./pieces.js";

const PACE = 150, TOLD = 6000, RUN = 1000;

document.addEventListener("click", event => {
  const thing = event.target.closest && event.target.closest("a.thing[data-kind]");
  if (!thing) return;
  event.preventDefault();
  location.href = `/${thing.dataset.kind}/${encodeURIComponent(thing.dataset.key)}`;
});

// what a tape measure would show, beside what moves, and why a size can't be
const tape = document.createElement("output");
tape.className = "tape";
function onTape(metres, inch) {
  if (!inch) return Math.abs(metres) < 1 ? `${Math.round(metres * 1000)} mm` : `${metres.toFixed(3)} m`;
  const eighths = Math.round(metres / 0.0254 * 8), feet = Math.floor(eighths / 96), whole = Math.floor(eighths % 96 / 8);
  const rest = eighths % 8, by = [8, 1, 2, 1, 4, 1, 2, 1][rest];
  const inches = [whole || !rest ? whole : "", rest ? `${rest / by}/${8 / by}` : ""].filter(part => part !== "").join(" ");
  return feet ? `${feet} ft ${inches} in` : `${inches} in`;
}
function shown(words, x, y) {
  clearTimeout(tape.ending);
  tape.value = words;
  tape.style.left = `${Math.min(Math.max(x, 90), innerWidth - 90)}px`;
  tape.style.top = `${y}px`;
  if (!tape.isConnected) document.body.append(tape);
}

// the one thing that moves: where it is wanted, and what of that has been asked for
let move = null, held = null, runs = 0, pressed = 0;
const keyed = handle => `${handle.dataset.box} ${handle.dataset.field}`;
const at = handle => move && move.key === keyed(handle) ? move.metres : Number(handle.dataset.value);
const bounded = (handle, metres) => {
  const [low, high] = ["min", "max"].map(name => Number(handle.getAttribute(`aria-value${name}`)));
  return Math.min(Math.max(metres, low), high);
};
function aimed(handle, metres, stroke) {
  if (!move || move.key !== keyed(handle)) {
    const steps = handle.dataset.field.split(".").map(step => (/^\d+$/.test(step) ? Number(step) : step));
    const path = JSON.stringify(["box", handle.dataset.box, ...steps]);
    const value = Number(handle.dataset.value);
    move = { key: keyed(handle), path, asked: value, taken: value, place: handle.closest(".later") };
  }
  Object.assign(move, { metres, stroke });
  told(handle, metres);
  go(move);
}
function told(handle, metres) {
  handle.setAttribute("aria-valuenow", metres.toFixed(4));
  handle.setAttribute("aria-valuetext", onTape(metres, handle.dataset.units === "inch"));
}
async function go(own) {
  if (own.going) return;
  own.going = true;
  while (own.metres !== own.asked) {
    own.asked = own.metres;
    const { number } = page().dataset;
    const values = { path: own.path, metres: String(own.asked), from: String(own.taken), stroke: own.stroke };
    const rest = new Promise(done => setTimeout(done, held ? PACE : 0));
    await Promise.all([post("/change", values), rest]);
    own.refusal = document.querySelector("#said[data-kind='refused'], main > .alarm h2")?.textContent || "";
    own.still = page().dataset.number === number;
    if (!own.still) own.taken = own.asked;
    refused(own);
  }
  own.going = false;
  if (held) return;
  own.after?.click();
  own.after = null;
  if (own.still) anew(own.place);  // it was not taken: the edge goes back
  later();
}
function refused(own) {
  if (!own.refusal) return;
  const edge = document.querySelector(`.handle[data-field="${CSS.escape(own.key.split(" ")[1])}"]`);
  const { left, top } = edge ? edge.getBoundingClientRect() : { left: innerWidth / 2, top: 100 };
  shown(held ? `${onTape(own.metres, held.handle.dataset.units === "inch")}: ${own.refusal}` : own.refusal, left, top);
  tape.classList.add("why");
  if (!held) tape.ending = setTimeout(gone, TOLD);
}
function gone() {
  tape.classList.remove("why");
  tape.remove();
}
document.addEventListener("drawn", event => {
  if (!move || move.place !== event.target) return;
  if (!move.going && !held) { move = null; return; }
  for (const handle of event.target.querySelectorAll(".handle")) if (keyed(handle) === move.key) told(handle, move.metres);
});

// undoing and saving come after the last of what moves
document.addEventListener("click", event => {
  const button = event.target.closest?.("button[data-key]");
  if (!button || !move?.going) return;
  event.preventDefault();
  event.stopPropagation();
  move.after = button;
}, true);

document.addEventListener("pointerdown", event => {
  const handle = event.target.closest && event.target.closest(".handle");
  if (!handle || event.button) return;
  event.preventDefault();
  handle.focus();
  gone();
  const box = handle.ownerSVGElement.getScreenCTM(), place = handle.closest(".later");
  const value = at(handle);
  held = { handle, place, x: event.clientX, y: event.clientY, scale: 1 / box.a, first: value, value, stroke: `d${runs++}` };
  held.base = Number(handle.dataset.value);
  if (place) place.held = true;  // its drawing waits; all else follows
});
document.addEventListener("pointermove", event => {
  if (!held) return;
  const { handle } = held, { dataset } = handle, across = dataset.axis === "x", per = Number(dataset.metresPerUnit);
  const by = (across ? event.clientX - held.x : held.y - event.clientY) * held.scale;
  held.value = bounded(handle, held.first + by * per);
  moved(handle, (held.value - held.base) / per);
  tape.classList.remove("why");
  shown(onTape(held.value, dataset.units === "inch"), event.clientX, event.clientY);
  if (held.value !== held.first || move) aimed(handle, held.value, held.stroke);
});
function moved(handle, by) {
  handle.style.transform = handle.dataset.axis === "x" ? `translate(${by}px, 0)` : `translate(0, ${-by}px)`;
}
function released(metres) {
  const { handle, place, stroke, value, first } = held;
  held = null;
  if (place) place.held = false;
  if (!tape.classList.contains("why")) gone();
  else tape.ending = setTimeout(gone, TOLD);
  if (metres !== undefined && (move || metres !== value)) aimed(handle, metres, stroke);
  else if (value !== first) aimed(handle, value, stroke);
  if (!move || !move.going) {  // nothing more is under way that would draw it anew
    if (move && move.still) anew(place);
    if (move) refused(move);
    if (value === first || metres !== undefined) moved(handle, 0);
    later();
  }
}
document.addEventListener("pointerup", () => { if (held) released(); });
document.addEventListener("pointercancel", () => { if (held) released(held.first); });
document.addEventListener("keydown", event => {
  if (held && event.key === "Escape") { event.preventDefault(); released(held.first); return; }
  const handle = event.target.closest && event.target.closest(".handle");
  const step = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key];
  if (!handle || !step || held) return;
  event.preventDefault();
  if (event.timeStamp - pressed > RUN) runs++;
  pressed = event.timeStamp;
  const metres = bounded(handle, at(handle) + step * Number(handle.dataset.step));
  if (metres !== at(handle)) aimed(handle, metres, `k${runs}`);
});
