// The address of a page or of a section of it, to hand on: through the phone's own sheet, else copied.
// It is the address online, from a file too; where that is not known, nothing is offered.
(function () {
  "use strict";
  var panel = document.getElementById("share");
  var canonical = document.querySelector("link[rel=canonical]");
  var online = /^https?:$/.test(location.protocol);
  var page = canonical ? canonical.href : online && location.href.split("#")[0];
  if (!panel || !page) { return; }
  var output = panel.querySelector("output");

  async function handOn(address, button) {
    function say(sentence) {
      button.after(output);
      output.textContent = sentence + " " + address;
    }
    try {
      if (navigator.share && matchMedia("(pointer: coarse)").matches) {
        await navigator.share({ title: document.title, url: address });
      } else {
        await navigator.clipboard.writeText(address);
        say(panel.dataset.copied);
      }
    } catch (refused) {
      // Who closes the phone's sheet wants nothing; a browser that may not copy shows the address
      if (refused.name !== "AbortError") { say(panel.dataset.byHand); }
    }
  }
  function offer(button, part) {
    button.addEventListener("click", function () { handOn(page + part, button); });
  }

  panel.hidden = false;
  offer(panel.querySelector("button"), "");
  document.querySelectorAll("main section[id] > h2").forEach(function (heading) {
    var section = heading.parentElement, button = document.createElement("button");
    if (section.matches(".keeping")) { return; }
    button.type = "button";
    button.className = "here";
    button.textContent = panel.dataset.link;
    button.setAttribute("aria-label", panel.dataset.link + ": " + heading.textContent);
    heading.after(button);
    offer(button, "#" + section.id);
  });
}());
