// Recordings that are dropped or chosen: each gets a line of its own.
import { renewed } from "./frame.js";
import { lost } from "./pulse.js";

async function sent(file) {
  const place = document.getElementById("received"), line = document.createElement("div");
  line.textContent = `Taking ${file.name}.`;
  place.append(line);
  const { most } = document.getElementById("recording").dataset;
  if (file.size > most * 1e6) {
    line.className = "alarm";
    line.textContent = `${file.name}: the recording has more than ${most} MB; cut it to the part that counts.`;
    return false;
  }
  try {
    const answer = await fetch("/recording?name=" + encodeURIComponent(file.name), { method: "POST", body: file });
    if (answer.status === 403) throw new Error("another start answers");
    line.innerHTML = await answer.text();
    return answer.ok;
  } catch {
    line.className = "alarm";
    line.textContent = `${file.name} was not taken. Drop it once more when the program answers.`;
    lost();
  }
  return false;
}
async function all(files) {
  document.getElementById("received").replaceChildren();
  const kept = [];
  for (const file of files) kept.push(await sent(file));
  if (kept.includes(true)) renewed();  // they stand in its list
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
  all([...event.dataTransfer.files]);
});
document.addEventListener("change", event => {
  if (event.target.id === "recording") all([...event.target.files]);
});
