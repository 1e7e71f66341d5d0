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
  function fillIn() {
    all("a[href^='#k'], a[href^='#photo-']").forEach(link => {
      var copy = document.getElementById(link.getAttribute("href").slice(1)).cloneNode(true);
      copy.removeAttribute("id");
      // Two elements of one name must not be; what is named by the first one still is
      all("[id]", copy).forEach(each => { each.removeAttribute("id"); });
      link.replaceWith(copy);
    });
  }

  // Ways that spare the reader the one over the contents
  function addWays(part) {
    var here = contents.querySelector(".sensor a[href='#" + part.id + "']");
    if (!here) { return; }
    all("a", here.closest("ul")).filter(each => each !== here).reverse().forEach(each => {
      part.querySelector(".ways").prepend(each.cloneNode(true), " ");
    });
  }
  function linkTo(code) {
    var link = document.createElement("a");
    link.href = "#" + code;
    link.textContent = code;
    return link;
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
      box.setAttribute("aria-label", step.querySelector("p:not([role=note] p)").textContent.trim());
      step.prepend(box);
    });
  }
  function keepTicks() {
    var ticked = {};
    all("[data-tick]:checked").forEach(box => { ticked[box.dataset.tick] = true; });
    try { localStorage.setItem(KEY, JSON.stringify(ticked)); } catch (refused) { /* till closed */ }
  }

  // The range at today's temperature, as the bench sheet computes it
  function rangeAt(degrees, stated) {
    var found = window.sondebookVerdict.judge(
      { shown: null, zero: 0, air: degrees, tolerance: Number(stated[5]) }, null,
      {
        specified: { low: Number(stated[0]), high: Number(stated[1]) },
        reference: Number(stated[2]), element: stated[3]
      }
    );
    return found && window.sondebookVerdict.shown(found.range, Number(stated[4]));
  }
  function followRange(card) {
    var stated = card.dataset.range.split(" "), asked = document.getElementById("air");
    card.querySelector(".number").after(asked.content.cloneNode(true));
    var box = card.querySelector("input"), unit = card.querySelector("select");
    // The bench sheet begins with it, as long as this tab is open
    function carry(typed) {
      var air = (unit.value === "F" ? "degF " : "degC ") + typed;
      try { sessionStorage.setItem("sondebook air", air); } catch (refused) { /* not carried */ }
    }
    function show() {
      var typed = box.value.trim().replace(",", ".").replace("\u2212", "-");
      var degrees = /^-?\d+(\.\d+)?$/.test(typed) ? Number(typed) : NaN;
      var found = rangeAt(unit.value === "F" ? (degrees - 32) * 5 / 9 : degrees, stated);
      carry(found ? typed : "");
      card.querySelector("b").textContent = found
        ? found.replace(/\./g, asked.dataset.decimal) : "\u2013";
      card.querySelector("output").textContent = found
        ? "" : unit.selectedOptions[0].dataset.words;
    }
    box.addEventListener("input", show);
    unit.addEventListener("change", show);
  }

  // The words of all sheets stand once; a section says which are its own: "0-57 900 59-80"
  function sheetOf(place) {
    var words = document.getElementById("sheets").dataset.sheets.split(" ");
    return place.dataset.sheet.split(" ").map(run => {
      var ends = run.split("-").map(Number);
      return words.slice(ends[0], ends.pop() + 1).join(" ");
    }).join(" ");
  }
  // One sheet at a time: its script knows its fields by name
  function openSheet(part) {
    var places = all("[data-sheet]");
    places.forEach(each => { each.textContent = ""; });
    var place = places.find(each => each.parentElement === part);
    if (!place) { return; }
    place.innerHTML = sheetOf(place);
    window.sondebookBench();
  }

  function show() {
    var target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    var part = target && target.closest(".part");
    parts.forEach(each => { each.hidden = each !== part; });
    contents.hidden = Boolean(part);
    openSheet(part);
    var group = target && target.closest("details");
    if (group) { group.open = true; }
    if (part) { target.scrollIntoView(); } else { window.scrollTo(0, 0); }
  }

  function findCode(box) {
    var said = document.getElementById("codes-found");
    var typed = box.value.toUpperCase().replace(/O/g, "0").replace(/[^0-9A-F]/g, "");
    var found = typed.length < 3 ? [] : all("[id^=P]").filter(each => {
      return each.id.indexOf(typed) > 0;
    });
    said.textContent = typed.length < 3 || found.length ? "" : box.dataset.none;
    found.slice(0, 12).forEach(each => { said.append(linkTo(each.id), " "); });
  }

  fillIn();
  parts.forEach(addWays);
  all(".codes td:not(:empty)").forEach(cell => { cell.replaceChildren(linkTo(cell.textContent)); });
  parts.forEach(makeTickable);
  all("[data-range]").forEach(followRange);
  main.addEventListener("change", event => {
    if (event.target.dataset.tick) { keepTicks(); }
  });
  var untick = document.getElementById("untick"), again = document.getElementById("tick-again");
  var cleared = [];
  function tick(boxes, isDone) {
    boxes.forEach(box => { box.checked = isDone; });
    again.hidden = isDone || !boxes.length;
    keepTicks();
  }
  untick.hidden = false;
  untick.addEventListener("click", () => {
    cleared = all("[data-tick]:checked");
    tick(cleared, false);
  });
  again.addEventListener("click", () => { tick(cleared, true); });
  var code = document.getElementById("code");
  code.closest("p").hidden = false;
  code.addEventListener("input", () => { findCode(code); });
  code.addEventListener("keydown", event => {
    var found = all("#codes-found a");
    if (event.key === "Enter" && found.length === 1) { location.hash = found[0].hash; }
  });
  window.addEventListener("hashchange", show);
  show();
})();
