// The job planner. It mirrors generator/trade/access.py (removal_order), access_plan.py and
// torque.py (wrenches_covering); the tests hold it to the same answers for every set of sensors.
// Every word and number it shows Python has written into the page; it only adds up and hides.
(() => {
  "use strict";
  var plan = document.getElementById("plan");
  if (!plan) { return; }

  function all(selector) { return [...plan.querySelectorAll(selector)]; }
  function sumOf(list, value) { return list.reduce((total, each) => total + value(each), 0); }
  function one(selector) { return plan.querySelector(selector); }
  function numbers(text) { return text ? text.split(" ").map(Number) : []; }
  function show(element, shown) { if (element) { element.hidden = !shown; } }

  var picks = one(".picks");
  var ticks = all(".picks input");
  var wrenches = all("[data-wrench]");
  var lists = { off: one("[data-order=off]"), on: one("[data-order=on]") };
  var lines = { off: linesByPart("off"), on: linesByPart("on") };
  var parts = lines.off.map(line => {
    var data = line.dataset;
    return {
      under: numbers(data.under), low: data.low, high: data.high,
      fasteners: numbers(data.fasteners), torques: numbers(data.torques)
    };
  });

  function linesByPart(order) {
    var found = [];
    all("[data-order=" + order + "] > li").forEach(line => {
      found[Number(line.dataset.part)] = line;
    });
    return found;
  }

  function removalOrder(wanted) {
    var off = [];
    var path = [...wanted].reverse();
    while (path.length) {
      var onTop = parts[path[path.length - 1]].under.filter(isStillOn);
      if (onTop.length) {
        path = path.concat(onTop.reverse());
      } else {
        var part = path.pop();
        if (isStillOn(part)) { off.push(part); }
      }
    }
    return off;

    function isStillOn(part) { return !off.includes(part); }
  }

  // To the even neighbour from the middle, as Python rounds
  function rounded(number) {
    var nearest = Math.round(number);
    return nearest - number === 0.5 && nearest % 2 ? nearest - 1 : nearest;
  }

  function minutesOf(off) {
    var timed = off.filter(part => parts[part].low !== "");
    if (!timed.length) { return "\u2013"; }
    var low = rounded(sumOf(timed, part => Number(parts[part].low)));
    var high = rounded(sumOf(timed, part => Number(parts[part].high)));
    return low === high ? low : low + "\u2013" + high;
  }

  // Of all sets of wrenches that cover every torque, the fewest, and of those the smallest
  function wrenchesCovering(torques) {
    function covers(wrench, torque) {
      return Number(wrench.dataset.low) <= torque && torque <= Number(wrench.dataset.high);
    }
    function covered(chosen) {
      return torques.filter(torque => chosen.some(wrench => covers(wrench, torque))).length;
    }
    var best = [], most = covered(wrenches), least = Infinity;
    for (var set = 0; set < 1 << wrenches.length; set += 1) {
      var chosen = wrenches.filter((wrench, index) => set >> index & 1);
      var sum = sumOf(chosen, wrench => Number(wrench.dataset.high));
      var isBetter = chosen.length < best.length
        || (chosen.length === best.length && sum < least);
      if ((least === Infinity || isBetter) && covered(chosen) === most) {
        best = chosen;
        least = sum;
      }
    }
    return best;
  }

  function showOrder(order, shown) {
    lines[order].forEach(line => { show(line, false); });
    shown.forEach(part => {
      lists[order].appendChild(lines[order][part]);
      show(lines[order][part], true);
    });
  }

  function showNeeded(off) {
    var groups = [];
    all("[data-needed]").forEach(line => {
      var needed = numbers(line.dataset.needed).some(part => off.includes(part));
      var group = line.dataset.group;
      show(line, needed && (!group || !groups.includes(group)));
      if (needed && group) { groups.push(group); }
    });
    all("[data-panel]").forEach(panel => {
      show(panel, panel.querySelector("[data-needed]:not([hidden])"));
    });
  }

  function showWrenches(off) {
    var chosen = wrenchesCovering(off.flatMap(part => parts[part].torques));
    wrenches.forEach(wrench => { show(wrench, chosen.includes(wrench)); });
  }

  function showFasteners(off) {
    var clips = 0;
    all("[data-kind]").forEach((kind, index) => {
      var count = sumOf(off, part => parts[part].fasteners[index] || 0);
      show(kind, count);
      kind.querySelector("b").textContent = count;
      if (kind.dataset.clip !== undefined) { clips += count; }
    });
    show(one("[data-sum=fasteners]"), one("[data-kind]:not([hidden])"));
    showCount("clips", clips);
  }

  function showCount(name, count) {
    var line = one("[data-sum=" + name + "]");
    line.querySelector("b").textContent = count;
    show(line, count);
  }

  // Without a tick the style sheet shows no plan, so a page that opens has none to put in order
  function update() {
    var wanted = ticks.filter(tick => tick.checked).map(tick => Number(tick.dataset.part));
    var off = removalOrder(wanted);
    showOrder("off", off);
    showOrder("on", [...off].reverse());
    showNeeded(off);
    showWrenches(off);
    showFasteners(off);
    one("[data-sum=minutes]").textContent = minutesOf(off);
    showCount("untimed", off.filter(part => parts[part].low === "").length);
    show(one(".plan-for-all"), wanted.length === ticks.length);
  }

  function keepInAddress() {
    var keys = ticks.filter(tick => tick.checked).map(tick => tick.value);
    window.history.replaceState(null, "", "#plan=" + keys.join(","));
  }

  function readAddress() {
    var kept = /^#plan=([\d,-]*)$/.exec(window.location.hash);
    if (!kept) { return; }
    var keys = kept[1].split(",");
    ticks.forEach(tick => { tick.checked = keys.includes(tick.value); });
    update();
    plan.scrollIntoView();
  }

  picks.addEventListener("change", () => { update(); keepInAddress(); });
  window.addEventListener("hashchange", readAddress);
  readAddress();
})();
