"use strict";
(() => {
  const search = document.getElementById("search");
  const result = document.getElementById("result");
  const found = document.getElementById("found");
  const items = [...document.querySelectorAll("[data-result]")];
  const rows = items.filter((item) => item.matches("tr"));
  // A row is found by the words of its own part of the page, too.
  const texts = new Map();
  const textOf = (item) => {
    if (!texts.has(item)) {
      const part = item.matches("tr") ? document.querySelector(item.querySelector("a").hash) : item;
      texts.set(item, `${item.textContent} ${part.textContent}`.toLowerCase());
    }
    return texts.get(item);
  };
  const filter = () => {
    const words = search.value.trim().toLowerCase().split(/\s+/).filter(Boolean);
    for (const item of items) {
      const wanted = !result.value || item.dataset.result === result.value;
      item.hidden = !(wanted && words.every((word) => textOf(item).includes(word)));
    }
    const shown = rows.filter((row) => !row.hidden).length;
    found.textContent = `${shown} of ${rows.length} types shown`;
  };
  search.addEventListener("input", filter);
  result.addEventListener("change", filter);
  // "#HB-1" leads to the mark, as "#row-2" to the row.
  const follow = () => {
    const mark = decodeURIComponent(location.hash.slice(1)).toLowerCase();
    const target = mark && items.find((item) => item.matches("article") && item.dataset.marks.split("\n").includes(mark));
    if (target) {
      search.value = "";
      result.value = "";
      filter();
      target.focus({ preventScroll: true });
      // Parts above it get their true heights only as they come near the screen.
      let frames = 10;
      const settle = () => {
        target.scrollIntoView();
        frames -= 1;
        if (frames > 0) requestAnimationFrame(settle);
      };
      settle();
    }
  };
  window.addEventListener("hashchange", follow);
  filter();
  follow();
})();
