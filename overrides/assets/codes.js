// A code's anchor stands in the heading of a group that may be closed: open it for who comes there.
(() => {
  "use strict";
  function open() {
    var target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    var group = target && target.closest("details");
    if (group && !group.open) {
      group.open = true;
      target.scrollIntoView({ behavior: "instant" });
    }
  }
  window.addEventListener("hashchange", open);
  open();
})();
