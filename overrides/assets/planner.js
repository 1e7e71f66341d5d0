// The job planner. It mirrors generator/trade/access.py (removal_order), access_plan.py and
// torque.py (wrenches_covering); the tests hold it to the same answers for every set of sensors.
// Every word and number it shows Python has written into the page; it only adds up and hides.
(function () {
  "use strict";
  var plan = document.getElementById("plan");
  if (!plan) { return; }

  function all(selector) { return Array.prototype.slice.call(plan.querySelectorAll(selector)); }
  function one(selector) { return plan.querySelector(selector); }
  function numbers(text) { return text ? text.split(" ").map(Number) : []; }
  function show(element, shown) { if (element) { element.hidden = !shown; } }

  var picks = one(".picks");
  var ticks = all(".picks input");
  var wrenches = all("[data-wrench]");
  var lists = { off: one("[data-order=off]"), on: one("[data-order=on]") };
  var lines = { off: linesByPart("off"), on: linesByPart("on") };
  var parts = lines.off.map(function (line) {
    var data = line.dataset;
    return {
      under: numbers(data.under), low: data.low, high: data.high,
      fasteners: numbers(data.fasteners), torques: numbers(data.torques)
    };
  });

  function linesByPart(order) {
    var found = [];
    all("[data-order=" + order + "] > li").forEach(function (line) {
      found[Number(line.dataset.part)] = line;
    });
    return found;
  }

  function removalOrder(wanted) {
    var off = [];
    var path = wanted.slice().reverse();
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

    function isStillOn(part) { return off.indexOf(part) < 0; }
  }

  // To the even neighbour from the middle, as Python rounds
  function rounded(number) {
    var nearest = Math.round(number);
    return nearest - number === 0.5 && nearest % 2 ? nearest - 1 : nearest;
  }

  function minutesOf(off) {
    var timed = off.filter(function (part) { return parts[part].low !== ""; });
    if (!timed.length) { return "\u2013"; }
    function sum(end) {
      return rounded(timed.reduce(function (total, part) {
        return total + Number(parts[part][end]);
      }, 0));
    }
    var low = sum("low");
    var high = sum("high");
    return low === high ? String(low) : low + "\u2013" + high;
  }

  // Of all sets of wrenches that cover every torque, the fewest, and of those the smallest
  function wrenchesCovering(torques) {
    var scales = wrenches.map(function (wrench) {
      return { low: Number(wrench.dataset.low), high: Number(wrench.dataset.high) };
    });
    function covers(scale, torque) { return scale.low <= torque && torque <= scale.high; }
    var coverable = torques.filter(function (torque) {
      return scales.some(function (scale) { return covers(scale, torque); });
    });
    var best = { chosen: [], count: Infinity, sum: Infinity };
    for (var set = 0; set < 1 << scales.length; set += 1) {
      var chosen = [];
      var sum = 0;
      for (var index = 0; index < scales.length; index += 1) {
        if (set >> index & 1) { chosen.push(index); sum += scales[index].high; }
      }
      var count = chosen.length;
      if (count > best.count || (count === best.count && sum >= best.sum)) { continue; }
      if (coverable.every(function (torque) {
        return chosen.some(function (each) { return covers(scales[each], torque); });
      })) { best = { chosen: chosen, count: count, sum: sum }; }
    }
    return best.chosen;
  }

  function showOrder(order, shown) {
    lines[order].forEach(function (line) { show(line, false); });
    shown.forEach(function (part) {
      lists[order].appendChild(lines[order][part]);
      show(lines[order][part], true);
    });
  }

  function showNeeded(off) {
    var groups = [];
    all("[data-needed]").forEach(function (line) {
      var needed = numbers(line.dataset.needed).some(function (part) {
        return off.indexOf(part) >= 0;
      });
      var group = line.dataset.group;
      show(line, needed && (!group || groups.indexOf(group) < 0));
      if (needed && group) { groups.push(group); }
    });
    all("[data-panel]").forEach(function (panel) {
      show(panel, panel.querySelector("[data-needed]:not([hidden])"));
    });
  }

  function showWrenches(off) {
    var torques = off.reduce(function (found, part) {
      return found.concat(parts[part].torques);
    }, []);
    var chosen = wrenchesCovering(torques);
    wrenches.forEach(function (wrench, index) { show(wrench, chosen.indexOf(index) >= 0); });
  }

  function showFasteners(off) {
    var clips = 0;
    all("[data-kind]").forEach(function (kind, index) {
      var count = off.reduce(function (total, part) {
        return total + (parts[part].fasteners[index] || 0);
      }, 0);
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

  function update() {
    var wanted = ticks.filter(function (tick) { return tick.checked; }).map(function (tick) {
      return Number(tick.dataset.part);
    });
    var off = removalOrder(wanted);
    showOrder("off", off);
    showOrder("on", off.slice().reverse());
    showNeeded(off);
    showWrenches(off);
    showFasteners(off);
    one("[data-sum=minutes]").textContent = minutesOf(off);
    showCount("untimed", off.filter(function (part) { return parts[part].low === ""; }).length);
    show(one(".planned"), wanted.length);
    show(one(".plan-for-all"), wanted.length === ticks.length);
  }

  function keepInAddress() {
    var keys = ticks.filter(function (tick) { return tick.checked; }).map(function (tick) {
      return tick.value;
    });
    window.history.replaceState(null, "", "#plan=" + keys.join(","));
  }

  function readAddress() {
    var kept = /^#plan=([\d,-]*)$/.exec(window.location.hash);
    if (!kept) { return; }
    var keys = kept[1].split(",");
    ticks.forEach(function (tick) { tick.checked = keys.indexOf(tick.value) >= 0; });
    update();
    plan.scrollIntoView();
  }

  picks.hidden = false;
  picks.addEventListener("change", function () { update(); keepInAddress(); });
  window.addEventListener("hashchange", readAddress);
  update();
  readAddress();
}());
