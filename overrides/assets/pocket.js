// The pocket copy: shows one section at a time, puts what is shared back into its places, and makes
// steps tickable. Without it everything stands in one long page.
(() => {
  "use strict";
  var main = document.getElementById("top");
  var parts = all(".part");
  var contents = document.querySelector(".contents");
  var KEY = "sondebook ticks " + main.dataset.vehicle;
  document.documentElement.classList.add("js");

  function all(selector, within) {
    return [...(within || document).querySelectorAll(selector)];
  }

  // What several sensors share stands once; a link holds its place elsewhere
  function original(id) {
    var found = document.getElementById(id);
    all("template").forEach(each => { found = found || each.content.getElementById(id); });
    return found;
  }
  function fillIn(within, keepsIds) {
    all("a.same", within).forEach(link => {
      var copy = original(link.getAttribute("href").slice(1)).cloneNode(true);
      copy.removeAttribute("id");
      // Two elements of one name must not be; what is named by the first one still is
      if (!keepsIds) { all("[id]", copy).forEach(each => { each.removeAttribute("id"); }); }
      link.replaceWith(copy);
    });
  }

  // Ticks stay on this phone
  function kept() {
    try { return Object(JSON.parse(localStorage.getItem(KEY))); } catch (refused) { return {}; }
  }
  function makeTickable(part) {
    var ticked = kept();
    all(".steps > li", part).forEach((step, number) => {
      var box = document.createElement("input");
      box.type = "checkbox";
      box.autocomplete = "off";
      box.dataset.tick = part.id + " " + number;
      box.checked = ticked[box.dataset.tick] === true;
      box.setAttribute("aria-label", step.querySelector("p:not(.signal p)").textContent.trim());
      step.prepend(box);
    });
  }
  function keepTicks() {
    var ticked = {};
    all("[data-tick]:checked").forEach(box => { ticked[box.dataset.tick] = true; });
    try { localStorage.setItem(KEY, JSON.stringify(ticked)); } catch (refused) { /* till closed */ }
  }

  // Python has written the range for every degree: "2.1-2.9*3" stands for three degrees
  function unrolled(text) {
    var ranges = [];
    text.split(" ").forEach(run => {
      var range = run.split("*");
      for (var times = Number(range[1] || 1); times; times -= 1) { ranges.push(range[0]); }
    });
    return ranges;
  }
  function followRange(card) {
    var box = card.querySelector("input"), unit = card.querySelector("select");
    function show() {
      var chosen = unit.selectedOptions[0];
      var typed = box.value.trim().replace(",", ".").replace("\u2212", "-");
      var found = /^-?\d+(\.\d+)?$/.test(typed)
        && unrolled(chosen.value)[Math.round(Number(typed)) - chosen.dataset.coldest];
      card.querySelector("[data-is=range]").textContent = found || "\u2013";
      card.querySelector("output").textContent = found ? "" : chosen.dataset.words;
    }
    box.addEventListener("input", show);
    unit.addEventListener("change", show);
    card.querySelector(".input").hidden = false;
  }

  // One sheet at a time: its script knows its fields by name
  function openSheet(part) {
    all("#bench").forEach(old => { old.remove(); });
    if (!part || !part.querySelector("template")) { return; }
    var sheet = part.querySelector("template").content.cloneNode(true);
    fillIn(sheet, true);
    part.append(sheet);
    window.sondebookBench();
  }

  function show() {
    var target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    var part = target && target.closest(".part");
    parts.forEach(each => { each.hidden = each !== part; });
    contents.hidden = Boolean(part);
    openSheet(part);
    if (part) { target.scrollIntoView(); } else { window.scrollTo(0, 0); }
  }

  function findCode(box) {
    var said = document.getElementById("codes-found");
    var typed = box.value.toUpperCase().replace(/O/g, "0").replace(/[^0-9A-F]/g, "");
    var found = typed.length < 3 ? [] : all("[id^=P]").filter(each => {
      return each.id.indexOf(typed) > 0;
    });
    said.textContent = typed.length < 3 || found.length ? "" : box.dataset.none;
    found.slice(0, 12).forEach(each => {
      var link = document.createElement("a");
      link.href = "#" + each.id;
      link.textContent = each.id;
      said.append(link, " ");
    });
  }

  fillIn(document, false);
  parts.forEach(makeTickable);
  all("[data-range]").forEach(followRange);
  main.addEventListener("change", event => {
    if (event.target.dataset.tick) { keepTicks(); }
  });
  var untick = document.getElementById("untick");
  untick.hidden = false;
  untick.addEventListener("click", () => {
    all("[data-tick]").forEach(box => { box.checked = false; });
    keepTicks();
  });
  var code = document.getElementById("code");
  code.closest("p").hidden = false;
  code.addEventListener("input", () => { findCode(code); });
  window.addEventListener("hashchange", show);
  show();
})();
