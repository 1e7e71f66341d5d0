// The address of the section in view, to hand on: through the phone's own sheet, else copied.
// It is the address online, from a file too; where that is not known, nothing is offered.
(function () {
  "use strict";
  var panel = document.getElementById("share");
  var canonical = document.querySelector("link[rel=canonical]");
  var online = /^https?:$/.test(location.protocol);
  var page = canonical ? canonical.href : online && location.href.split("#")[0];

  function inView() {
    var found = "";
    document.querySelectorAll("main section[id]:not(.keeping)").forEach(function (section) {
      var box = section.getBoundingClientRect();
      if (section.querySelector("h2") && box.height && box.top < innerHeight / 4) {
        found = "#" + section.id;
      }
    });
    return found;
  }
  function say(sentence) { panel.querySelector("output").textContent = sentence; }
  async function handOn() {
    // At the top of a page nothing but the page is meant
    var address = page + (scrollY > 40 ? inView() : "");
    try {
      if (navigator.share && matchMedia("(pointer: coarse)").matches) {
        await navigator.share({ title: document.title, url: address });
      } else {
        await navigator.clipboard.writeText(address);
        say(panel.dataset.copied + " " + address);
      }
    } catch (refused) {
      // Who closes the phone's sheet wants nothing; a browser that may not copy shows the address
      if (refused.name !== "AbortError") { say(panel.dataset.byHand + " " + address); }
    }
  }
  if (panel && page) {
    panel.hidden = false;
    panel.querySelector("button").addEventListener("click", handOn);
  }
}());
