// Taking a page along: one HTML file of what is on it now, without code and without anything it must ask for.
(function () {
  "use strict";
  const button = document.getElementById("take");

  async function asData(address) {
    const blob = await (await fetch(address)).blob();
    return new Promise((done) => {
      const reader = new FileReader();
      reader.onload = () => done(reader.result);
      reader.readAsDataURL(blob);
    });
  }

  // the fonts that the page uses: those of the mathematics among them
  function used() {
    const names = new Set();
    document.querySelectorAll("#main mjx-container *, #main mjx-container").forEach((part) => {
      for (const when of [null, "::before"]) {
        getComputedStyle(part, when).fontFamily.split(",").forEach((name) => names.add(name.replace(/["']/g, "").trim()));
      }
    });
    return names;
  }

  async function fontFace(rule, base, names) {
    const name = rule.style.getPropertyValue("font-family").replace(/["']/g, "").trim();
    const found = /url\(["']?([^"')]+)["']?\)/.exec(rule.style.getPropertyValue("src") || rule.cssText);
    if (!names.has(name) || !found) { return ""; }
    const data = found[1].startsWith("data:") ? found[1] : await asData(new URL(found[1], base));
    return "@font-face { font-family: " + name + "; src: url(" + data + "); }\n";
  }

  async function styles() {
    const names = used();
    let text = "";
    for (const sheet of document.styleSheets) {
      const own = sheet.href && /\/(look|pages)\.css$/.test(sheet.href);
      const mathematics = !sheet.href && sheet.ownerNode.id.startsWith("MJX");
      for (const rule of sheet.cssRules) {
        if (rule.type === CSSRule.FONT_FACE_RULE) {
          text += await fontFace(rule, sheet.href || document.baseURI, names);
        } else if (own || mathematics) {
          text += rule.cssText + "\n";
        }
      }
    }
    return text;
  }

  // fields become what stands in them; what only works on a live page goes
  function still(main) {
    const live = document.getElementById("main").querySelectorAll("input, select, textarea");
    main.querySelectorAll("input, select, textarea").forEach((field, n) => {
      const now = live[n];
      const text = document.createElement("b");
      text.textContent = now.type === "checkbox" ? (now.checked ? "yes: " : "no: ")
        : now.tagName === "SELECT" ? now.selectedOptions[0] ? now.selectedOptions[0].textContent : "" : now.value || "not given";
      field.replaceWith(text);
    });
    main.querySelectorAll("script, button, .cb-slide, .cb-ask, .cb-do, .widget-slider, mjx-assistive-mml, .anchor-link, .jp-InputPrompt, .jp-OutputPrompt, .jp-Collapser, .jp-mod-outputsHidden").forEach((part) => part.remove());
    main.querySelectorAll('a[href^="/"], a[href$=".ipynb"]').forEach((a) => a.replaceWith(...a.childNodes));
    main.querySelectorAll("*").forEach((part) => {
      for (const a of [...part.attributes]) {
        if (a.name.startsWith("on") || a.name.startsWith("data-") && a.name !== "data-key") { part.removeAttribute(a.name); }
      }
    });
  }

  function head() {
    const one = (id) => document.getElementById(id).textContent;
    const day = new Date().toLocaleDateString("en-US", { year: "numeric", month: "long", day: "numeric" });
    const unsaved = one("unsaved") ? ", " + one("unsaved") : "";
    const words = [one("job"), one("place"), one("checks") + unsaved, "as of " + day];
    const line = document.createElement("p");
    line.className = "taken";
    line.textContent = words.filter(Boolean).join(" · ");
    return line;
  }

  async function take() {
    button.disabled = true;
    try {
      await window.allThere();
      const main = document.getElementById("main").cloneNode(true);
      still(main);
      main.removeAttribute("style");
      const page = document.implementation.createHTMLDocument(document.title);
      page.documentElement.lang = "en";
      page.head.innerHTML = '<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">';
      page.title = document.title;
      const style = page.createElement("style");
      style.textContent = await styles();
      page.head.append(style);
      page.body.className = "jp-Notebook taken-along";
      page.body.append(page.adoptNode(head()), page.adoptNode(main));
      const caution = document.querySelector("#foot .caution");
      page.body.append(page.importNode(caution, true));
      const blob = new Blob(["<!DOCTYPE html>\n" + page.documentElement.outerHTML], { type: "text/html" });
      const link = document.createElement("a");
      link.href = URL.createObjectURL(blob);
      link.download = document.title.replace(/[^\w -]+/g, "").replace(/\s+/g, " ").trim() + ".html";
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    } finally {
      button.disabled = false;
    }
  }
  button.addEventListener("click", take);
})();
