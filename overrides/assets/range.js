// The heater's range at the temperature typed in. It computes nothing: Python has written the
// range for every degree into the page, and this picks one.
(function () {
  "use strict";
  var air = document.getElementById("air");
  var range = document.getElementById("range");
  var fault = document.getElementById("air-fault");
  var list = document.getElementById("by-degree");
  if (!air || !range || !fault || !list) { return; }
  var ranges = list.value.split(" ");
  var coldest = Number(list.dataset.coldest);
  air.addEventListener("input", function () {
    var typed = air.value.trim().replace(",", ".").replace("\u2212", "-");
    var found = /^-?\d+(\.\d+)?$/.test(typed) && ranges[Math.round(Number(typed)) - coldest];
    range.textContent = found || "\u2013";
    fault.textContent = found ? "" : fault.dataset.words;
  });
}());
