"use strict";
// What somebody has unfolded, or folded, stays so when the page is renewed.
(() => {
  const wanted = new Map();
  const named = fold => fold.id || fold.querySelector("summary")?.textContent.replace(/\d+/g, "").trim() || "";
  document.addEventListener("click", event => {
    const summary = event.target.closest && event.target.closest("summary");
    const fold = summary && summary.parentElement;
    if (fold instanceof HTMLDetailsElement) wanted.set(named(fold), !fold.open);
  }, true);
  new MutationObserver(() => {
    if (!wanted.size) return;
    for (const fold of document.querySelectorAll("details")) {
      const open = wanted.get(named(fold));
      if (open !== undefined && fold.open !== open) fold.open = open;
    }
  }).observe(document.documentElement, { subtree: true, childList: true, attributes: true, attributeFilter: ["open"] });
})();
