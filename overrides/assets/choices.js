// What the reader chose, as attributes of <html>; the style sheet shows the versions that fit.
// It stands in the head, so that a page is never painted in the wrong units, or the wrong light, first.
(() => {
  "use strict";
  var VALUES = {
    units: ["metric", "us"],
    wheel: ["left", "right"],
    light: ["light", "dark", "sunlight"]
  };
  var chosen = document.documentElement.dataset;

  function choose(about, value) {
    if (VALUES[about].includes(value)) { chosen[about] = value; } else { delete chosen[about]; }
  }
  // A browser may refuse its storage: then the choice lasts as long as the page
  function kept(about) {
    try { return localStorage.getItem("sondebook-" + about); } catch (refused) { return ""; }
  }
  function keep(about, value) {
    try { localStorage.setItem("sondebook-" + about, value); } catch (refused) { /* as above */ }
  }

  function buttons() { return document.querySelectorAll("[data-choice]"); }
  function press() {
    buttons().forEach(button => {
      var value = chosen[button.dataset.choice] || "";
      button.setAttribute("aria-pressed", value === button.value);
    });
  }
  function read() {
    Object.keys(VALUES).forEach(about => { choose(about, kept(about)); });
    press();
  }

  read();
  // What only a script can serve has its room from the start, so that nothing moves when it comes
  chosen.scripted = "";

  document.addEventListener("DOMContentLoaded", () => {
    buttons().forEach(button => {
      button.addEventListener("click", () => {
        var about = button.dataset.choice;
        var value = chosen[about] === button.value ? "" : button.value;
        choose(about, value);
        keep(about, value);
        press();
      });
    });
    press();
    document.querySelectorAll(".choices").forEach(panel => { panel.hidden = false; });
  });

  // The same page may be open twice, and a page comes back from the history as it was left
  window.addEventListener("storage", read);
  window.addEventListener("pageshow", event => { if (event.persisted) { read(); } });
})();
