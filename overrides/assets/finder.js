// The finder: a vehicle and a code, either may be left out, to the page wanted. Its data is a
// plain script, so it works from a folder; a linear scan is fast enough for thousands of vehicles.
(() => {
  "use strict";
  var data = window.sondebookFinder;
  var form = document.getElementById("finder");
  if (!data) { form.remove(); return; }
  var SHOWN = 8;
  var MAKER = /^(?:P1|P3[0-3]|[CBU][12])/;
  var WRITTEN = /^([PCBU])?[\s-]*(?:([0-3][0-9A-F]{3})(?:[-:][0-9A-F]{2})?|([0-9A-F]{3}))$/;

  // The code as a letter and four characters, or null: the same answers as Python's `normalised`.
  function normalised(text) {
    var tidy = text.normalize("NFKC").trim().toUpperCase()
      .replace(/[\u2010-\u2014\u2212]/g, "-").replace(/O/g, "0");
    var match = WRITTEN.exec(tidy);
    return match && (match[1] || "P") + (match[2] || "0" + match[3]);
  }

  // Small letters without accents, for comparing what is typed with what is written.
  function folded(text) {
    return text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  }

  // A sentence of Python's with its gaps filled
  function say(name, gaps) {
    return data.say[name].replace(/\{(\w+)\}/g, (gap, key) => gaps[key]);
  }

  function name(at) { return data.makes[data.make[at]] + " " + data.model[at]; }
  var named = data.slug.map((slug, at) => folded(name(at) + " " + slug));

  function years(at) {
    var first = data.first[at], last = data.last[at];
    if (last === 9999) { return say("on", { first: first }); }
    return first === last ? String(first) : first + "\u2013" + last;
  }

  // Every word must be in the name; a year may be one of the model years instead.
  function isMeant(at, words) {
    return words.every(word => {
      if (named[at].includes(word)) { return true; }
      var year = /^\d{4}$/.test(word) ? Number(word) : 0;
      return data.first[at] <= year && year <= data.last[at];
    });
  }

  function matching(text) {
    var words = folded(text).split(/\s+/).filter(Boolean);
    var found = [];
    for (var at = 0; words.length && at < named.length; at += 1) {
      if (isMeant(at, words)) { found.push(at); }
    }
    return found;
  }

  function has(at, code) {
    var digits = data.fits[data.fit[at]];
    return parseInt(digits[code >> 2], 16) >> (3 - (code & 3)) & 1;
  }

  function about(code) {
    return data.says[data.said[code]] + ", " + data.wheres[data.where[code]];
  }

  function vehicleRow(at, code) {
    var row = {
      title: name(at),
      detail: years(at),
      href: "guides/" + encodeURIComponent(data.slug[at]) + "/index.html"
    };
    if (code < 0) { return row; }
    if (!has(at, code)) {
      row.detail += ". " + say("lacks", { code: data.codes[code], about: about(code) });
      return row;
    }
    row.title += ": " + data.codes[code];
    row.detail += ". " + about(code);
    row.href = "guides/" + encodeURIComponent(data.slug[at]) + "/codes.html#" + data.codes[code];
    return row;
  }

  function codeRow(code) {
    return {
      title: say("code", { code: data.codes[code] }),
      detail: about(code),
      href: "codes/" + data.codes[code] + ".html"
    };
  }

  function sentenceOn(text, code) {
    if (!code) { return say("unreadable", { text: text.trim() }); }
    return say(MAKER.test(code) ? "maker" : "unknown", { code: code });
  }

  // What is found: a list of sentences, and the rows that lead on.
  function find(vehicleText, codeText) {
    var said = [], rows = [];
    var wanted = codeText.trim() ? normalised(codeText) : null;
    var code = wanted ? data.codes.indexOf(wanted) : -1;
    if (codeText.trim() && code < 0) { said.push(sentenceOn(codeText, wanted)); }
    var vehicles = matching(vehicleText);
    if (code >= 0) {
      // Those that have the sensor first; the order is otherwise that of the names
      vehicles.sort((one, other) => has(other, code) - has(one, code));
    }
    rows = vehicles.slice(0, SHOWN).map(at => vehicleRow(at, code));
    if (code >= 0) { rows.push(codeRow(code)); }
    if (vehicleText.trim() && !vehicles.length) {
      said.push(say("none", { text: vehicleText.trim() }));
    }
    if (rows.length) {
      said.push(say(rows.length === 1 ? "one" : "many", { count: rows.length }));
    }
    if (vehicles.length > SHOWN) {
      said.push(say("more", { count: vehicles.length - SHOWN }));
    }
    return { said: said, rows: rows };
  }

  window.sondebookFinder.normalised = normalised;
  window.sondebookFinder.find = find;
  if (!form) { return; }

  var vehicle = document.getElementById("finder-vehicle");
  var code = document.getElementById("finder-code");
  var output = document.getElementById("finder-said");
  var list = document.getElementById("finder-found");
  var add = document.getElementById("finder-add");

  function element(name, text) {
    var made = document.createElement(name);
    made.textContent = text;
    return made;
  }

  function item(row) {
    var link = document.createElement("a");
    link.href = form.dataset.root + row.href;
    var words = document.createElement("span");
    words.append(element("strong", row.title), element("span", row.detail));
    link.append(words);
    var made = document.createElement("li");
    made.append(link);
    return made;
  }

  function show() {
    var found = find(vehicle.value, code.value);
    output.textContent = found.said.join(" ");
    if (add) { add.hidden = !vehicle.value.trim() || matching(vehicle.value).length > 0; }
    list.replaceChildren(...found.rows.map(item));
  }

  form.addEventListener("input", show);
  // Two boxes and no button: the enter key sends nothing by itself
  form.addEventListener("keydown", event => {
    var first = list.querySelector("a");
    if (event.key === "Enter" && event.target.tagName === "INPUT" && first) {
      event.preventDefault();
      first.focus();
    }
  });
  form.hidden = false;
  show(); // A reader who comes back finds what was typed still there
})();
