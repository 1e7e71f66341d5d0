// The heater's range at the temperature typed in. It computes nothing: Python has written the
// range for every degree into the page, in °C and in °F, and this picks one.
(() => {
  "use strict";
  var range = document.getElementById("range");
  var fault = document.getElementById("air-fault");
  if (!range || !fault) { return; }

  // The bench sheet begins with it, as long as this tab is open
  function carry(unit, typed) {
    try { sessionStorage.setItem("sondebook air", unit + " " + typed); } catch (refused) { /* not carried */ }
  }

  function follow(box, list, other, unit) {
    if (!box || !list) { return; }
    var ranges = list.value.split(" ");
    var coldest = Number(list.dataset.coldest);
    // Without this script the box changes nothing, so it is written as one that takes nothing
    box.disabled = false;
    box.addEventListener("input", () => {
      var typed = box.value.trim().replace(",", ".").replace("\u2212", "-");
      var found = /^-?\d+(\.\d+)?$/.test(typed) && ranges[Math.round(Number(typed)) - coldest];
      range.textContent = found || "\u2013";
      carry(unit, found ? typed : "");
      fault.textContent = found ? "" : list.dataset.words || fault.dataset.words;
      // Nothing is converted here, so the other thermometer shows nothing
      if (other) { other.value = ""; }
    });
  }

  var air = document.getElementById("air");
  var airF = document.getElementById("air-f");
  follow(air, document.getElementById("by-degree"), airF, "degC");
  follow(airF, document.getElementById("by-degree-f"), air, "degF");
})();
