// The layout as a drawing: what was said of engine, banks and sensors, turned as a reader sees it.
// Words come from Python, places from sondebookLayout. Order and sides, not to scale.
window.sondebookSketch = (function () {
  "use strict";
  var layout = window.sondebookLayout;
  var SVG = "http://www.w3.org/2000/svg";
  var EDGE = 18, RADIUS = 12, LANE = 34, LANES_APART = 92, STEP = 34, LINE = 18, LETTER = 8.5;
  var HEXAGON = [[0, -10], [8.7, -5], [8.7, 5], [0, 10], [-8.7, 5], [-8.7, -5]];

  function filled(sentence, gaps) {
    return sentence.replace(/\{(\w+)\}/g, function (gap, name) { return gaps[name]; });
  }

  // What a profile says of its layout, or null as long as the engine is not told whole
  function told(data) {
    var engine = data.engine || {};
    var whole = engine.cylinders >= 1 && engine.arrangement && engine.mounting && engine.bay;
    if (!whole) { return null; }
    var banks = Object.keys(data.banks || {}).filter(function (key) { return /^[0-9]+$/.test(key); });
    return {
      engine: engine,
      banks: banks.map(function (key) {
        var bank = data.banks[key];
        return {
          number: Number(key), side: bank.side || null,
          cylinders: (bank.cylinders || []).filter(Number.isInteger),
          catalysts: Number.isInteger(bank.catalysts) ? bank.catalysts : 1
        };
      }),
      sensors: (data.sensors || []).filter(function (each) {
        return Number.isInteger(each.bank) && Number.isInteger(each.position);
      }),
      steering: data.steering || []
    };
  }

  // Where the bank's label and its pieces stand, in the vehicle's own axes
  function lines(told, spots) {
    var seen = {};
    var half = reach(spots);
    return told.banks.map(function (bank) {
      var own = spots.filter(function (spot) { return spot.bank === bank.number; });
      var side = bank.side || "rear";
      var lane = seen[side] = (seen[side] || 0) + 1;
      var out = layout.outward[side];
      var isBeside = out[0] === 0;
      var rearmost = Math.min.apply(null, own.map(function (spot) { return spot.at[0]; }));
      var middle = own.reduce(function (sum, spot) { return sum + spot.at[1]; }, 0) / own.length;
      var off = LANE + (lane - 1) * LANES_APART;
      var start = isBeside
        ? [rearmost, out[1] * (half[1] + off)] : [out[0] * (half[0] + LANE), middle + (lane - 1) * LANES_APART];
      var run = isBeside ? [-1, 0] : [out[0], 0];
      var positions = told.sensors.filter(function (each) { return each.bank === bank.number; })
        .map(function (each) { return each.position; });
      var pieces = layout.pieces(positions, bank.catalysts).map(function (piece, at) {
        return { kind: piece[0], number: piece[1], at: [start[0] + run[0] * STEP * (at + 1), start[1]] };
      });
      return {
        bank: bank, start: start, pieces: pieces,
        from: isBeside ? [rearmost, out[1] * half[1]] : [out[0] * half[0], start[1]],
        beside: isBeside ? out : [0, -1]
      };
    });
  }

  function reach(spots) {
    return [0, 1].map(function (axis) {
      return Math.max.apply(null, spots.map(function (spot) { return Math.abs(spot.at[axis]); })) + EDGE;
    });
  }

  function part(parent, name, attributes, text) {
    var made = document.createElementNS(SVG, name);
    Object.keys(attributes).forEach(function (key) { made.setAttribute(key, attributes[key]); });
    if (text !== undefined) { made.textContent = text; }
    return parent.appendChild(made);
  }

  function pen(standpoint) {
    var svg = document.createElementNS(SVG, "svg");
    var box = [Infinity, Infinity, -Infinity, -Infinity];
    function place(at) { return layout.turned(at, standpoint).map(function (each) { return each + 0; }); }
    function grow(x, y, margin) {
      box = [Math.min(box[0], x - margin), Math.min(box[1], y - margin),
        Math.max(box[2], x + margin), Math.max(box[3], y + margin)];
    }
    return {
      svg: svg, box: function () { return box; },
      line: function (points, name) {
        var on = points.map(place);
        on.forEach(function (at) { grow(at[0], at[1], 4); });
        part(svg, "polyline", { points: on.join(" "), "class": name });
      },
      circle: function (at, radius, label) {
        var on = place(at);
        grow(on[0], on[1], radius);
        part(svg, "circle", { cx: on[0], cy: on[1], r: radius });
        if (label) { part(svg, "text", { x: on[0], y: on[1] + 5, "text-anchor": "middle" }, label); }
      },
      hexagon: function (at) {
        var on = place(at);
        grow(on[0], on[1], 10);
        var corners = HEXAGON.map(function (by) { return [on[0] + by[0], on[1] + by[1]]; });
        part(svg, "polygon", { points: corners.join(" "), "class": "probe" });
      },
      can: function (at) {
        var on = place(at);
        grow(on[0], on[1], 12);
        part(svg, "rect", { x: on[0] - 9, y: on[1] - 12, width: 18, height: 24, rx: 4 });
      },
      // A label beside a place: on its right where the page's right is outward, else on its left
      label: function (at, outward, text, gap) {
        var on = place(at), way = place(outward);
        var toRight = way[0] > 0;
        var x = on[0] + (toRight ? gap : -gap), width = text.length * LETTER;
        grow(toRight ? x + width : x - width, on[1], 8);
        part(svg, "text", { x: x, y: on[1] + 5, "text-anchor": toRight ? "start" : "end" }, text);
      },
      centred: function (at, text) {
        var on = place(at), half = text.length * LETTER / 2;
        grow(on[0] - half, on[1], 8);
        grow(on[0] + half, on[1], 8);
        part(svg, "text", { x: on[0], y: on[1] + 5, "text-anchor": "middle" }, text);
      }
    };
  }

  function block(ink, spots) {
    var half = reach(spots);
    ink.line([[half[0], half[1]], [half[0], -half[1]], [-half[0], -half[1]], [-half[0], half[1]], [half[0], half[1]]], "block");
    spots.forEach(function (spot) { ink.circle(spot.at, RADIUS, spot.number ? String(spot.number) : ""); });
  }

  function exhaust(ink, line, say) {
    var last = line.pieces[line.pieces.length - 1];
    ink.line([line.from, line.start].concat(last ? [last.at] : []), "pipe");
    ink.label(line.start, line.beside, filled(say.bank, { number: line.bank.number }), 12);
    line.pieces.forEach(function (piece) {
      if (piece.kind === "sensor") {
        ink.hexagon(piece.at);
        ink.label(piece.at, line.beside, filled(say.sensor, { bank: line.bank.number, position: piece.number }), 15);
      } else {
        ink.can(piece.at);
        ink.label(piece.at, line.beside, say.catalyst, 15);
      }
    });
  }

  // What lies ahead and behind, where the reader is, and the steering wheel
  function surroundings(ink, told, ends, standpoint, say) {
    var cabin = told.engine.bay === "front" ? "rear" : "front";
    ["front", "rear"].forEach(function (side) {
      var way = side === "front" ? 1 : -1;
      var x = (side === "front" ? ends[1] : ends[0]) + way * 26;
      ink.line([[x - way * 10, 90], [x - way * 10, -90]], "bar");
      ink.centred([x, 0], say.landmarks[layout.landmark(side, told.engine.bay)]);
      if (side === cabin) {
        x += way * 26;
        told.steering.forEach(function (wheel) {
          ink.circle([x, (wheel === "left" ? 1 : -1) * 70], 11, "");
        });
        ink.centred([x, 0], say.cabin[standpoint][0]);
        say.cabin[standpoint].slice(1).forEach(function (word) { ink.centred([x += way * LINE, 0], word); });
      }
      say.notes[standpoint][side].forEach(function (note) { ink.centred([x += way * LINE, 0], note); });
    });
  }

  function inWords(told, say) {
    return told.banks.map(function (bank) {
      return filled(say.bankWords, {
        bank: bank.number, cylinders: bank.cylinders.join(", "), side: bank.side || say.merged
      });
    }).join(" ");
  }

  // { svg } of a layout that fits together, or { faults }
  function draw(told, standpoint, say) {
    var faults = layout.faults(told.engine, told.banks);
    if (faults.length) { return { faults: faults }; }
    var spots = layout.cylinders(told.engine, told.banks);
    var ink = pen(standpoint);
    var titled = { id: "sketch-title" }, worded = { id: "sketch-words" };
    part(ink.svg, "title", titled, say.standpoints[standpoint]);
    part(ink.svg, "desc", worded, inWords(told, say));
    var drawn = lines(told, spots);
    block(ink, spots);
    drawn.forEach(function (line) { exhaust(ink, line, say); });
    var xs = [].concat.apply([reach(spots)[0], -reach(spots)[0]], drawn.map(function (line) {
      return line.pieces.map(function (piece) { return piece.at[0]; }).concat(line.start[0]);
    }));
    surroundings(ink, told, [Math.min.apply(null, xs), Math.max.apply(null, xs)], standpoint, say);
    var box = ink.box();
    ink.svg.setAttribute("viewBox", [box[0], box[1], box[2] - box[0], box[3] - box[1]].join(" "));
    ink.svg.setAttribute("width", Math.ceil(box[2] - box[0]));
    ink.svg.setAttribute("role", "img");
    ink.svg.setAttribute("aria-labelledby", "sketch-title sketch-words");
    return { svg: ink.svg };
  }

  return { draw: draw, told: told };
})();
