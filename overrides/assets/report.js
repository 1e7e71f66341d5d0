// Fills what a section says into the report of a wrong value, just before its link is followed.
// Without it the link leads to the page's own report, which names vehicle and page.
(function () {
  "use strict";
  var own = document.getElementById("report");
  if (!own) { return; }
  var words = own.dataset;
  var base = own.getAttribute("href");
  var end = base.indexOf("%0D%0A") >= 0 ? "\r\n" : "\n";
  // Servers take addresses of some 8,000 letters, and one of ours may become nine (common practice)
  var MOST_LETTERS = 600;
  var STATED = "tr, .facts > div, .wanted > p, .steps > li, .held > li, .missing, p > .source";

  function plain(text) {
    return text.replace(/[\u2060\u200b]/g, "").replace(/\s+/g, " ").trim();
  }
  function said(part) {
    var rows = Array.prototype.map.call(part.querySelectorAll(STATED), function (row) {
      return row.matches("tr, .facts > div")
        ? Array.prototype.map.call(row.children, function (cell) { return plain(cell.innerText); }).join(" | ")
        : plain(row.innerText);
    }).filter(Boolean);
    var told = rows.join(end);
    return told.length > MOST_LETTERS ? told.slice(0, MOST_LETTERS) + " …" : told;
  }
  function name(part) {
    var heading = part.querySelector("h2, h3, .caption");
    return (heading ? plain(heading.innerText) : "") + (part.id ? " (#" + part.id + ")" : "");
  }
  // A lone half of a pair, as a cut may leave, cannot be encoded
  function encoded(text) { return encodeURIComponent(text.replace(/[\ud800-\udbff](?![\udc00-\udfff])/g, "")); }
  function behind(href, word, text) {
    var at = encoded(word + end);
    return href.split(at).join(encoded(word + text + end));
  }
  function fill(event) {
    var link = event.target.closest && event.target.closest(".report a");
    if (!link) { return; }
    var part = link.closest("section, .wanted") || link.parentNode.previousElementSibling;
    if (!part) { return; }
    var told = said(part);
    var href = behind(base, words.section, " " + name(part));
    link.href = behind(href, words.says, (told.indexOf(end) >= 0 ? end : " ") + told);
  }
  ["pointerdown", "focusin", "click"].forEach(function (kind) {
    document.addEventListener(kind, fill);
  });
}());
