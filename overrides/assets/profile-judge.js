// What a pattern cannot judge: quantities, years that run backwards, names that are nowhere declared,
// a heater without wires. The same answers as Python's `read_quantity`, held to them by vectors.
window.sondebookJudge = (function () {
  "use strict";
  var given = window.sondebookForm;
  var NUMBER = "\\s*(" + given.quantity.number + ")";
  var BETWEEN = "\\s*(" + given.quantity.between + ")";
  var ONCE = new RegExp("^" + NUMBER + "(?:" + BETWEEN + NUMBER + ")?(?![0-9.,/])\\s*([^0-9]*?)\\s*$");
  var TWICE = new RegExp("^" + NUMBER + "\\s*([^0-9]+?)" + BETWEEN + NUMBER + "\\s*([^0-9]+?)\\s*$");

  function folded(unit) {
    return unit.replace(/\u2126/g, "\u03a9").replace(/[\u00ba\u02da]/g, "\u00b0")
      .replace(/[\s\u00b7\u22c5\u2022*.\-\u2010-\u2013]+/g, "").toLowerCase();
  }

  // 7/8 and 1 7/8 too
  function number(text) {
    var pieces = text.replace("\u2212", "-").split(/\s+/);
    var fraction = pieces.pop().split("/");
    return Number(pieces[0] || 0) + (fraction.length > 1 ? fraction[0] / fraction[1] : Number(fraction[0]));
  }

  // Nothing where a text states a quantity, else "backwards" or "pattern"
  function quantity(text, name) {
    var kind = given.quantity.kinds[name];
    text = text.replace(/mm\s?\^?2\b/g, "mm\u00b2");
    var twice = TWICE.exec(text);
    if (twice && folded(twice[2]) === folded(twice[5])) {
      text = [twice[1], twice[3], twice[4], twice[2]].join(" ");
    }
    var found = ONCE.exec(text);
    var isKnown = found && (found[4] ? kind.units.indexOf(folded(found[4])) >= 0 : kind.isUnitKnown);
    if (!isKnown) { return "pattern"; }
    var low = number(found[1]), high = found[3] ? number(found[3]) : low;
    if (found[2] === "\u00b1" || found[2] === "+/-") {
      var spread = high;
      high = low + spread;
      low -= spread;
    }
    if (low > high) { return "backwards"; }
    var canBe = isFinite(high) && (!kind.positive || low > 0) && (!kind.single || low === high);
    return canBe ? "" : "pattern";
  }

  function areBackwards(years) {
    var found = /^\s*([0-9]{4})\D+([0-9]{4})\s*$/.exec(years);
    return !!found && found[2] < found[1];
  }

  // The names that a form's value declares under a key
  function names(value, key) {
    return (value[key] || []).map(function (item) { return (item._name || "").trim(); }).filter(Boolean);
  }

  // Names in a text that are not declared, each as a sentence
  function strangers(schema, text, value) {
    var there = names(value, schema["x-of"]);
    var list = given.schema.properties[schema["x-of"]].title;
    return text.split(",").map(function (name) { return name.trim(); }).filter(function (name) {
      return name && there.indexOf(name) < 0;
    }).map(function (name) {
      var gaps = { name: name, list: list, names: there.join(", ") };
      return given.say.judged[there.length ? "unknown" : "empty"].replace(/\{(\w+)\}/g, function (gap, key) { return gaps[key]; });
    });
  }

  // As the form library takes rules of one's own; `whole` gives the form's value,
  // `beside` that of the group which a field stands in
  function constraints(whole, beside) {
    function rule(keyword, judge) {
      return function (field) {
        var text = field.value;
        var isTold = typeof text !== "string" || !text.trim() ||
          field.schema.pattern && !new RegExp(field.schema.pattern).test(text);
        return (isTold ? [] : judge(field.schema, text, field.path)).map(function (message) {
          return { type: "error", path: field.path, constraint: keyword, messages: [message] };
        });
      };
    }
    function judged(schema, text, path) {
      if (schema["x-judged"] === "years") { return areBackwards(text) ? [given.say.judged.years] : []; }
      var sensor = beside(path);
      return text <= 2 && (sensor.heater || sensor.fuse) ? [given.say.judged.wires] : [];
    }
    return {
      "x-quantity": rule("x-quantity", function (schema, text) {
        var fault = quantity(text, schema["x-quantity"]);
        return fault ? [given.say.judged[fault] || schema["x-messages"].pattern] : [];
      }),
      "x-of": rule("x-of", function (schema, text) { return strangers(schema, text, whole()); }),
      "x-judged": rule("x-judged", judged)
    };
  }

  return { constraints: constraints, names: names, quantity: quantity };
})();
