// The bench sheet: keeps what is written on this phone, tells the verdict at once, and gives the
// sheet as text. Every word stands in the page; this script chooses among them.
(() => {
  "use strict";
  var form = document.getElementById("bench");
  if (!form || !window.sondebookVerdict) { return; }
  var MOST_WRITTEN = 500;
  var data = form.dataset;
  var FIELDS = "[data-key], select";

  function byId(id) { return document.getElementById(id); }
  function each(selector, act) { form.querySelectorAll(selector).forEach(act); }
  function isSelect(field) { return field.matches("select"); }
  function isBox(field) { return field.type === "checkbox"; }
  function say(element, words) { element.textContent = words; }

  // Kept on this phone. The key holds the site's own path: two sites on one host stay apart.
  var site = new URL(data.site || "./", location.href).pathname;
  var SHEET = "sondebook sheet " + site + " " + data.vehicle + ", " + data.sensor;
  var METER = "sondebook meter " + site;

  function load(key) {
    try { return Object(JSON.parse(localStorage.getItem(key))); } catch (error) { return {}; }
  }
  function keep(key, values) {
    try {
      localStorage.setItem(key, JSON.stringify(values));
      return true;
    } catch (error) { return false; }
  }

  function isOfMeter(field) {
    // The meter and the units one writes in go with the person, not with the sheet
    return isSelect(field) || Boolean(field.closest("#meter"));
  }
  function valueOf(field) { return isBox(field) ? field.checked : field.value; }
  function fill(field, value) {
    if (isBox(field)) { field.checked = value === true; return; }
    if (typeof value !== "string") { return; }
    if (isSelect(field)) {
      if (![...field.options].some(option => option.value === value)) { return; }
      field.dataset.picked = "";
    }
    field.value = value.slice(0, MOST_WRITTEN);
  }
  // Until somebody picks another one, a unit is as the reader has chosen for the whole site
  function usual(select) {
    var isUs = document.documentElement.dataset.units === "us";
    return isUs && select.dataset.us || select.options[0].value;
  }
  function follow() {
    each("select:not([data-picked])", select => { select.value = usual(select); });
  }
  function read(wantsMeter) {
    var values = {};
    each(FIELDS, field => {
      var isPicked = !isSelect(field) || "picked" in field.dataset;
      if (isOfMeter(field) === wantsMeter && isPicked) { values[field.id] = valueOf(field); }
    });
    return values;
  }
  function write(values, wantsMeter) {
    each(FIELDS, field => {
      if (isOfMeter(field) === wantsMeter && field.id in values) { fill(field, values[field.id]); }
    });
  }
  function save() {
    var kept = keep(SHEET, read(false)) && keep(METER, read(true));
    if (!kept) { say(byId("said"), data.unkept); }
  }

  // Numbers are typed with a point or a comma, and shown with the mark of the page's language
  var DECIMAL = data.decimal;
  var THOUSANDS = DECIMAL === "," ? /^[-+\u2212]?[1-9]\d{0,2}\.\d{3}$/ : /^[-+\u2212]?[1-9]\d{0,2},\d{3}$/;
  function marked(figure) { return String(figure).replace(/\./g, DECIMAL); }
  function plain(field) {
    return field.value.trim().replace(/\u2212/g, "-").replace(",", ".");
  }
  function numberIn(field) {
    var text = plain(field);
    return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : NaN;
  }
  function unitOf(field) {
    var unit = byId(field.id + "-unit") || field.parentElement.querySelector("[data-written]");
    return unit ? unit.value || unit.dataset.written || "" : "";
  }
  function inFirstUnit(field, value) {
    return unitOf(field) === "degF" ? (value - 32) / 1.8 : value;
  }
  function faultOf(field) {
    if (!field.value.trim()) { return ""; }
    if (THOUSANDS.test(field.value.trim())) { return data.comma; }
    var value = inFirstUnit(field, numberIn(field));
    var low = Number(field.dataset.lowest || -Infinity);
    var high = Number(field.dataset.highest || Infinity);
    if ("whole" in field.dataset && value % 1) { return field.dataset.fault; }
    // A degree Fahrenheit at a limit may miss it by the last bit
    return value >= low - 1e-9 && value <= high + 1e-9 ? "" : field.dataset.fault;
  }
  function check(field) {
    var fault = faultOf(field);
    say(byId(field.id + "-fault"), fault);
    field.setAttribute("aria-invalid", Boolean(fault));
  }
  // The number in a field in the first of its units, or null when there is none or it cannot be
  function number(id) {
    var field = byId(id);
    if (!field || !field.value.trim() || faultOf(field)) { return null; }
    return inFirstUnit(field, numberIn(field));
  }

  var heater = "reference" in data && {
    specified: data.low ? { low: Number(data.low), high: Number(data.high) } : null,
    reference: Number(data.reference),
    element: data.element
  };
  function meter() {
    var found = {
      percent: number("meter-percent"),
      counts: number("meter-counts"),
      resolution: number("meter-resolution")
    };
    return found.percent === null || found.counts === null || !found.resolution ? null : found;
  }
  function isOverRange() { return byId("over-range").checked; }

  // What has to be written before anything can be judged, by its fields
  function missing() {
    return ["air", "thermometer", "meter-zero", "reading"].filter(id => {
      var isNeeded = !(isOverRange() && (id === "meter-zero" || id === "reading"));
      return isNeeded && number(id) === null;
    });
  }
  function labelOf(id) {
    return form.querySelector('label[for="' + id + '"]').textContent;
  }
  function judged() {
    if (!heater || missing().length) { return null; }
    return window.sondebookVerdict.judge({
      shown: isOverRange() ? null : number("reading"),
      zero: isOverRange() ? 0 : number("meter-zero"),
      air: Math.min(50, Math.max(-20, number("air"))),
      tolerance: number("thermometer")
    }, meter(), heater);
  }

  // Figures as they are shown; the verdict never uses them
  function decimalsOf(id) {
    var part = /\.(\d+)$/.exec(plain(byId(id)));
    return part ? part[1].length : 0;
  }
  function figures(result) {
    var decimals = Math.max(decimalsOf("reading"), decimalsOf("meter-zero"));
    function fixed(value, places) { return value === null ? "" : value.toFixed(places); }
    return {
      corrected: fixed(result.corrected, decimals).replace("-", "\u2212"),
      uncertainty: fixed(result.uncertainty, decimals + 1),
      range: window.sondebookVerdict.shown(result.range, Number(data.stepOhm) || 0)
    };
  }
  function withUnit(figure, before) {
    return figure ? (before || "") + marked(figure) + "\u00a0\u03a9" : "\u2013";
  }

  function showVerdict() {
    if (!heater) { return; }
    byId("reading").disabled = isOverRange();
    var result = judged(), wanted = byId("wanted");
    var list = missing().map(labelOf);
    if (!list.length && !meter() && !isOverRange()) { list.push(wanted.dataset.meter); }
    var lies = result && !result.outcome ? wanted.dataset[result.beyond || "inside"] + " " : "";
    say(wanted, list.length ? lies + wanted.dataset.more + " " + list.join(", ") + "." : "");
    byId("verdict").classList.toggle("told", Boolean(result && result.outcome));
    each("[data-outcome]", box => {
      box.hidden = !result || box.dataset.outcome !== result.outcome;
      box.querySelectorAll("[data-step]").forEach(step => {
        step.hidden = Boolean(result) && result.pointless.indexOf(step.dataset.step) >= 0;
      });
    });
    byId("numbers").hidden = !result;
    if (!result) { return; }
    var shown = figures(result);
    say(byId("corrected"), withUnit(shown.corrected));
    say(byId("uncertainty"), withUnit(shown.uncertainty, "\u00b1 "));
    say(byId("expected"), withUnit(shown.range));
  }
  function showMeter() {
    var said = byId("meter-said"), known = meter();
    if (!said) { return; }
    say(said, known ? "\u00b1(" + marked(known.percent) + "\u00a0% + " + marked(known.counts) + "), "
      + marked(known.resolution) + "\u00a0\u03a9" : "");
  }
  // For paper: a sheet nobody has begun leaves the date to the pen
  function markFilled() {
    var isBegun = false;
    each("[data-key]", field => {
      var isFilled = isBox(field) ? field.checked : Boolean(field.value.trim());
      var isOwn = field.id !== "date" && field.value !== field.defaultValue && !isOfMeter(field);
      isBegun = isBegun || (isFilled && (isOwn || isBox(field)));
      field.parentElement.classList.toggle("filled", isFilled);
    });
    form.classList.toggle("begun", isBegun);
  }
  function show() {
    each("[data-number]", check);
    markFilled();
    showVerdict();
    showMeter();
  }

  // The sheet as text
  function oneLine(text) { return text.trim().replace(/\s+/g, " "); }
  function lineOf(field) {
    var key = field.dataset.key, text = oneLine(String(field.value));
    if (isBox(field)) {
      // Over range is told in the place of the reading
      return key === "over range" ? "" : key + ": " + (field.checked ? "yes" : "no");
    }
    if (key === "reading" && isOverRange()) { return key + ": over range"; }
    if (!text || ("number" in field.dataset && faultOf(field))) { return ""; }
    if ("number" in field.dataset) {
      text = String(numberIn(field)).indexOf("e") < 0 ? normal(plain(field)) : text;
    }
    return key + ": " + oneLine(text + (key === "distance" && /[a-z]/i.test(text)
      ? "" : " " + unitOf(field)));
  }
  // "2,50" and "+2.50" are 2.50, ".5" is 0.5, "2." is 2: decimals as written are kept
  function normal(text) {
    return text.replace(/^\+/, "").replace(/^(-?)\./, "$10.").replace(/\.$/, "");
  }
  function verdictLines() {
    var result = judged();
    if (!result) { return []; }
    var shown = figures(result);
    function line(name) { return shown[name] && name + ": " + shown[name] + " ohm"; }
    return [
      line("corrected").replace("\u2212", "-"), line("uncertainty"),
      line("range").replace("\u2013", " to "), result.outcome && "verdict: " + result.outcome
    ].filter(Boolean);
  }
  function asText() {
    var lines = [data.first];
    each("[data-key]", field => {
      var line = lineOf(field);
      if (line) { lines.push(line); }
      if (field.dataset.key === "reading") { lines.push(...verdictLines()); }
    });
    lines.push(data.last);
    return lines.join("\n") + "\n";
  }

  function copy() {
    var button = byId("copy"), text = asText();
    function byHand() {
      var box = byId("text");
      box.value = text;
      box.hidden = false;
      box.focus();
      box.select();
      // Where copying is forbidden it answers no
      say(byId("said"), document.execCommand("copy") ? button.dataset.done : button.dataset.byHand);
    }
    if (!navigator.clipboard || !window.isSecureContext) { byHand(); return; }
    navigator.clipboard.writeText(text).then(() => {
      byId("text").hidden = true;
      say(byId("said"), button.dataset.done);
    }, byHand);
  }

  var cleared = null;
  function clear() {
    cleared = read(false);
    each(FIELDS, field => {
      if (isOfMeter(field)) { return; }
      if (isBox(field)) { field.checked = false; } else { field.value = field.defaultValue; }
    });
    afterClearing(byId("clear").dataset.done, false);
  }
  function putBack() {
    write(cleared, false);
    afterClearing("", true);
  }
  function afterClearing(words, isBack) {
    byId("text").hidden = true;
    byId("put-back").hidden = isBack;
    say(byId("said"), words);
    save();
    show();
  }

  // The temperature that was typed beside the range, in this tab
  function takeAir() {
    var air = byId("air");
    if (!air || air.value) { return; }
    try {
      var carried = (sessionStorage.getItem("sondebook air") || "").split(" ");
      if (carried[0] === unitOf(air)) { air.value = carried[1]; }
    } catch (error) { /* Nothing was kept */ }
  }

  function today() {
    var now = new Date();
    return new Date(now.getTime() - now.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
  }

  follow();
  write(load(METER), true);
  var kept = load(SHEET);
  write(kept, false);
  if (!("date" in kept)) { byId("date").value = today(); }
  takeAir();
  if (byId("meter")) { byId("meter").open = !meter(); }
  byId("buttons").hidden = false;
  form.addEventListener("submit", event => { event.preventDefault(); });
  form.addEventListener("input", event => {
    if (event.target.id === "text") { return; }
    if (isSelect(event.target)) { event.target.dataset.picked = ""; }
    say(byId("said"), "");
    byId("put-back").hidden = true;
    save();
    show();
  });
  new MutationObserver(() => { follow(); show(); }).observe(document.documentElement, {
    attributes: true, attributeFilter: ["data-units"]
  });
  byId("copy").addEventListener("click", copy);
  byId("print").addEventListener("click", () => { window.print(); });
  byId("clear").addEventListener("click", clear);
  byId("put-back").addEventListener("click", putBack);
  show();
})();
