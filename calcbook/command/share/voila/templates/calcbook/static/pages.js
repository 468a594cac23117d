// The head of a page follows the job; folds keep their state; a page whose process has ended comes back.
(function () {
  "use strict";
  const marks = { "OK": "✓", "NOT OK": "✗", "NEEDS ENGINEER": "▲", "NOT WORKED OUT": "?" };
  const waits = document.body.dataset.waits === "yes";
  const config = document.getElementById("jupyter-config-data");
  const kernel = config ? JSON.parse(config.textContent).kernelId : "";
  const base = (/^\/of\/[^/]+/.exec(location.pathname) || [""])[0]; // of another job than the first
  let whole = false; // every part of the page is shown
  const one = (id) => document.getElementById(id);

  // The page server's script gives the process four seconds to tell its fields. On a busy machine that is too
  // little, and its other way, field by field, can show a part before its model is there. So it waits longer;
  // should a part have no model all the same, the page is loaded again, once. A page that is being left has lost its
  // process on purpose: to load it again would take the reader back to it.
  const later = window.setTimeout, complain = console.error;
  window.setTimeout = (work, pause, ...rest) => later(work, pause === 4000 ? 60000 : pause, ...rest);
  const key = "again " + location.pathname;
  let leaving = false, again = false;
  window.addEventListener("beforeunload", () => { leaving = true; later(() => { leaving = false; }, 5000); }, true);
  console.error = (...words) => {
    const lost = words.some((word) => String(word).includes("widget model not found"));
    if (lost && (leaving || again)) { return; }
    if (!lost || !reloadOnce()) { complain.apply(console, words); }
  };
  function reloadOnce() {
    if (sessionStorage.getItem(key)) { return false; }
    again = true;
    sessionStorage.setItem(key, "yes");
    location.reload();
    return true;
  }
  later(() => sessionStorage.removeItem(key), 30000);

  function write(place, words) { // asked several times a second, mostly the same
    if (place.textContent !== words) { place.textContent = words; }
  }

  function show(state) {
    write(one("job"), state.job);
    write(one("place"), state.place);
    write(one("checks"), state.problem ? "job file cannot be read" : state.checks ? (marks[state.status] || "") + " " + state.checks : "checks being worked out …");
    one("checks").className = state.status === "OK" ? "" : "bad";
    write(one("unsaved"), state.unsaved
      ? state.unsaved + (state.unsaved === 1 ? " change" : " changes") + " not saved" : "");
    one("problem").hidden = !state.problem;
    write(one("problem"), state.problem
      ? state.problem.replace(/([^.?!])$/, "$1.") + (waits ? "" : " What stands below is from before; it follows again when the file is mended.") : "");
    document.body.classList.toggle("stale", Boolean(state.problem) && !waits); // the page of a mistake is not of before
    document.querySelectorAll(".verdict").forEach((place) => {
      const verdict = (state.verdicts || {})[place.dataset.page];
      write(place, verdict ? marks[verdict] + " " + verdict : "");
      place.classList.toggle("bad", Boolean(verdict) && verdict !== "OK");
    });
  }

  async function ask() {
    if (document.visibilityState !== "visible") { return 1000; }
    try {
      const answer = await fetch(base + "/state?kernel=" + kernel + (whole ? "&whole=1" : ""), { cache: "no-store" });
      const state = await answer.json();
      if (waits && !state.problem) { location.reload(); return 5000; }
      if (!state.alive && !whole && reloadOnce()) { return 5000; } // it ended before the page was there
      if (!state.alive) { rest(); return 3000; }
      show(state);
      return !state.more || state.problem ? 1000 : 400;
    } catch (error) {
      one("problem").hidden = false;
      one("problem").textContent = "The book has been stopped. What you changed is kept, saved or not. Start the book again, as you did before, and open this job.";
      document.body.classList.add("stale");
      return 3000;
    }
  }

  // its process has ended, to spare memory: the page wakes when someone comes back to it
  let rests = false;
  function rest() {
    if (rests) { return; }
    rests = true;
    one("problem").hidden = false;
    one("problem").textContent = "This page rests. It wakes when you touch it.";
    document.body.classList.add("stale");
    for (const sign of ["focus", "pointerdown", "keydown"]) {
      window.addEventListener(sign, () => location.reload(), { once: true });
    }
    document.addEventListener("visibilitychange", () => { if (!document.hidden) { location.reload(); } });
  }

  // what scrolls by itself can be reached by keyboard; all is measured before any is changed, as each change would have
  // the whole page laid out anew, and what is folded is measured when it is unfolded
  function reach() {
    const parts = [...document.querySelectorAll(":is(.wide, .math, .jp-RenderedLatex, .jp-RenderedMarkdown table, .cb pre):not([tabindex])")];
    parts.filter((part) => !part.closest("details:not([open])"))
      .filter((part) => part.scrollWidth > part.clientWidth || part.scrollHeight > part.clientHeight)
      .forEach((part) => { part.tabIndex = 0; });
  }

  // a link from one notebook to another leads to its page
  function link() {
    document.querySelectorAll('a[href$=".ipynb"]').forEach((a) => { a.href = base + "/" + a.getAttribute("href").replace(/^.*\//, "").replace(/\.ipynb$/, ""); });
  }

  // Enter ends an entry, which the field then tells as changed; a second message that Enter was pressed would go before it
  document.addEventListener("keypress", (event) => {
    if (event.key === "Enter" && event.target.matches(".cb-field input[type=text]")) { event.stopPropagation(); }
  }, true);

  // a slider says what it sets
  function name() {
    document.querySelectorAll(".widget-slider").forEach((slider) => {
      const label = slider.querySelector(".widget-label");
      slider.querySelectorAll(".noUi-handle:not([aria-label])").forEach((handle) => handle.setAttribute("aria-label", label.textContent));
    });
  }

  // the page's process is told, once, that the page is shown, and works out the rest
  function tell() {
    const unseen = whole || leaving ? null : document.querySelector("button.cb-shown");
    if (unseen) { whole = true; unseen.click(); }
  }

  // what has the focus can be written anew, as the buttons of a list are: the focus stays with what is called the same
  let held = null, called = "";
  const nameOf = (part) => part.tagName + " " + (part.labels && part.labels[0] ? part.labels[0].textContent : part.getAttribute("aria-label") || part.textContent);
  document.addEventListener("focusin", (event) => { held = event.target; called = nameOf(held); });
  function keepFocus() {
    if (!held || held.isConnected || document.activeElement !== document.body) { return; }
    held = [...document.querySelectorAll("#main " + held.tagName)].find((part) => nameOf(part) === called && part.offsetParent) || null;
    if (held) { held.focus({ preventScroll: true }); }
  }

  // the list of chapters closes by Escape, and by a press beside it
  const menu = one("menu");
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && menu.open) { menu.open = false; menu.querySelector("summary").focus(); }
  });
  document.addEventListener("pointerdown", (event) => { if (!menu.contains(event.target)) { menu.open = false; } });

  // soon after anything is shown, unfolded or made narrower
  let soon = 0;
  function mend() {
    soon = soon || setTimeout(() => { soon = 0; keepFocus(); reach(); name(); link(); tell(); }, 100);
  }
  new MutationObserver(mend).observe(document.documentElement, { childList: true, subtree: true });
  document.addEventListener("toggle", mend, true);
  window.addEventListener("resize", mend);

  async function follow() {
    for (;;) {
      mend();
      if (whole) { ready(); } // printing cannot wait for it
      const pause = await ask();
      await new Promise((done) => {
        const timer = setTimeout(done, pause);
        document.addEventListener("visibilitychange", () => { clearTimeout(timer); done(); }, { once: true });
      });
    }
  }
  follow();

  // the page server moves the page into a frame of its own at the end of the document
  new MutationObserver((changes, observer) => {
    const frame = one("main");
    if (!frame) { return; }
    observer.disconnect();
    one("page").removeAttribute("role");
    frame.setAttribute("role", "main");
    frame.tabIndex = -1;
    document.querySelector(".skip").href = "#main";
    document.body.append(one("foot"));
  }).observe(document.body, { childList: true });

  // mathematics is set when it is unfolded, and all of it before the page is printed or taken along
  let setter = null;
  async function ready() { // what sets it comes with the page server's script
    const manager = window.jupyterapp && window.jupyterapp.widgetManager;
    setter = setter || (manager && await manager._rendermime.latexTypesetter.mathDocument());
  }
  function unset(within) {
    return [...within.querySelectorAll(".widget-html .mathjax_process")].filter((part) => !part.querySelector("mjx-container"));
  }
  function setNow(parts) {
    if (!setter || !parts.length) { return; }
    setter.options.elements = parts;
    setter.clear().render();
    delete setter.options.elements;
  }
  async function setSeen(within) {
    const seen = () => unset(within).filter((part) => !part.closest("details:not([open])"));
    if (seen().length) {
      await ready();
      setNow(seen());
    }
  }
  window.setAllMathematics = async () => { await ready(); setNow(unset(document)); };

  // a picture stays until the one in its place can be shown: dragged, it would blink
  function keepUntilLoaded(change) {
    const pictures = (nodes) => [...nodes].filter((node) => node.tagName === "IMG");
    const [fresh] = pictures(change.addedNodes), old = pictures(change.removedNodes).find((one) => one.complete && !one.isConnected);
    if (!fresh || !old || fresh.complete || !fresh.isConnected) { return; }
    fresh.before(old);
    fresh.hidden = true;
    const swap = () => { old.remove(); fresh.hidden = false; };
    fresh.addEventListener("load", swap, { once: true });
    fresh.addEventListener("error", swap, { once: true });
  }

  // folds: the same ones stay open when a result is written anew
  const open = new Set();
  document.addEventListener("toggle", (event) => {
    const key = event.target.dataset && event.target.dataset.key;
    if (key) { if (event.target.open) { open.add(key); } else { open.delete(key); } }
    if (event.target.open) { setSeen(event.target); }
  }, true);
  document.addEventListener("click", (event) => {
    const button = event.target.closest && event.target.closest("button.all");
    if (!button) { return; }
    const folds = [...button.closest(".steps").querySelectorAll("details")];
    const wanted = folds.some((fold) => !fold.open);
    folds.forEach((fold) => { fold.open = wanted; });
    button.textContent = wanted ? "Fold all" : "Show all";
  });
  new MutationObserver((changes) => {
    for (const change of changes) {
      keepUntilLoaded(change);
      for (const node of change.addedNodes) {
        if (!node.querySelectorAll) { continue; }
        node.querySelectorAll("details[data-key]").forEach((fold) => { if (open.has(fold.dataset.key)) { fold.open = true; } });
        if (node.querySelector(".mathjax_process")) { setSeen(node); }
      }
    }
  }).observe(document.body, { childList: true, subtree: true });
  // what is still on its way comes first, where it does not take too long; what does not says so on paper
  window.allThere = async () => {
    const until = Date.now() + 30000;
    while (document.querySelector("#main .cb-late") && Date.now() < until) {
      await new Promise((done) => later(done, 200));
    }
    await window.setAllMathematics();
  };
  one("paper").addEventListener("click", async () => {
    one("paper").disabled = true;
    try { await window.allThere(); } finally { one("paper").disabled = false; }
    window.print();
  });
  let unfolded = [];
  window.addEventListener("beforeprint", () => {
    unfolded = [...document.querySelectorAll("#main details:not([open])")];
    unfolded.forEach((fold) => { fold.open = true; });
    setNow(unset(document));
  });
  window.addEventListener("afterprint", () => { unfolded.forEach((fold) => { fold.open = false; }); });
})();
