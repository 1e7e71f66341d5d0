// What the reader chose, as attributes of <html>; the style sheet shows the versions that fit.
// It stands in the head, so that a page is never painted in the wrong units, or the wrong light, first.
(function () {
  "use strict";
  var VALUES = {
    units: ["metric", "us"],
    wheel: ["left", "right"],
    light: ["light", "dark", "sunlight"]
  };
  var root = document.documentElement;

  function kept(about) {
    // A browser may refuse its storage: then the choice lasts as long as the page
    try { return window.localStorage.getItem("sondebook-" + about); } catch (refused) { return null; }
  }

  function keep(about, value) {
    try {
      if (value) {
        window.localStorage.setItem("sondebook-" + about, value);
      } else {
        window.localStorage.removeItem("sondebook-" + about);
      }
    } catch (refused) { /* as above */ }
  }

  function choose(about, value) {
    if (VALUES[about].indexOf(value) >= 0) {
      root.setAttribute("data-" + about, value);
    } else {
      root.removeAttribute("data-" + about);
    }
  }

  function press(buttons) {
    buttons.forEach(function (button) {
      var chosen = root.getAttribute("data-" + button.dataset.choice) || "";
      button.setAttribute("aria-pressed", String(chosen === button.value));
    });
  }

  Object.keys(VALUES).forEach(function (about) { choose(about, kept(about)); });
  // What only a script can serve has its room from the start, so that nothing moves when it comes
  root.setAttribute("data-scripted", "");

  document.addEventListener("DOMContentLoaded", function () {
    var buttons = Array.prototype.slice.call(document.querySelectorAll("[data-choice]"));
    buttons.forEach(function (button) {
      button.addEventListener("click", function () {
        var about = button.dataset.choice;
        var value = root.getAttribute("data-" + about) === button.value ? "" : button.value;
        choose(about, value);
        keep(about, value);
        press(buttons);
      });
    });
    press(buttons);
    document.querySelectorAll(".choices").forEach(function (panel) { panel.hidden = false; });
  });

  // The same page may be open twice, and a page comes back from the history as it was left
  function readAgain() {
    Object.keys(VALUES).forEach(function (about) { choose(about, kept(about)); });
    press(Array.prototype.slice.call(document.querySelectorAll("[data-choice]")));
  }
  window.addEventListener("storage", readAgain);
  window.addEventListener("pageshow", function (event) { if (event.persisted) { readAgain(); } });
}());
