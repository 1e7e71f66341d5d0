// Where banks, cylinders and sensors are, and whether they fit together: the same answers as
// Python's layout, bay_layout, exhaust_line and standpoint, held to them by vectors.
// An engine has cylinders, arrangement, mounting and bay; a bank has number, cylinders and side.
window.sondebookLayout = (function () {
  "use strict";
  var OUTWARD = { front: [1, 0], rear: [-1, 0], left: [0, 1], right: [0, -1] };
  var OPPOSITE = { front: "rear", rear: "front", left: "right", right: "left" };
  var OFFSET = { inline: 0, vee: 20, flat: 30 };
  // Which way of the vehicle points to the right of the page, and which up the page
  var TURNS = {
    "drivers-seat": { right: [0, -1], up: [1, 0] },
    "front-bumper": { right: [0, 1], up: [-1, 0] },
    "rear-bumper": { right: [0, -1], up: [1, 0] },
    "under-head-rearward": { right: [0, -1], up: [-1, 0] },
    "under-head-forward": { right: [0, 1], up: [1, 0] }
  };
  var HIGHEST_BANK = 4;

  function standpoints(bay) {
    return bay === "front"
      ? ["drivers-seat", "front-bumper", "under-head-rearward"]
      : ["drivers-seat", "rear-bumper", "under-head-forward"];
  }

  function landmark(side, bay) {
    if (bay === "front") { return side === "front" ? "radiator" : "bulkhead"; }
    return side === "front" ? "bulkhead" : "rear-bumper";
  }

  // A place in the vehicle, [x forward, y left], as [right, down] on the page
  function turned(point, standpoint) {
    var turn = TURNS[standpoint];
    return [
      point[0] * turn.right[0] + point[1] * turn.right[1],
      -(point[0] * turn.up[0] + point[1] * turn.up[1])
    ];
  }

  function allowedSides(engine, bankCount) {
    var alongCrank = engine.arrangement === "inline" && bankCount > 1;
    var liesAcross = engine.mounting === "transverse";
    return alongCrank === liesAcross ? ["left", "right"] : ["front", "rear"];
  }

  function isSplitInLine(engine, banks) {
    return engine.arrangement === "inline" && banks.length > 1;
  }

  function isMerged(engine, banks) {
    return engine.arrangement !== "inline" && banks.length === 1;
  }

  function firstEnd(engine, banks) {
    if (isSplitInLine(engine, banks)) {
      var first = banks.filter(function (bank) { return bank.number === 1 && bank.side; })[0];
      return first ? first.side : "front";
    }
    if (engine.mounting === "transverse") { return "right"; }
    return engine.bay === "rear" ? "rear" : "front";
  }

  function byNumber(banks) {
    return banks.slice().sort(function (a, b) { return a.number - b.number; });
  }

  function members(banks) {
    return [].concat.apply([], banks.map(function (bank) {
      return bank.cylinders.map(function (number) { return [number, bank.number]; });
    }));
  }

  // Each row's side, and its cylinders with their banks in the order of the count
  function rows(engine, banks, end) {
    var sides = allowedSides(engine, 1);
    if (engine.arrangement === "inline") {
      var inOrder = byNumber(banks).sort(function (a, b) {
        return (a.side !== end) - (b.side !== end);
      });
      return [[sides[0], members(inOrder)]];
    }
    if (isMerged(engine, banks)) {
      return sides.map(function (side, row) {
        var count = Math.floor((engine.cylinders + 1 - row) / 2);
        return [side, Array.from({ length: count }, function () { return [null, banks[0].number]; })];
      });
    }
    return sides.map(function (side) {
      return [side, members(byNumber(banks).filter(function (bank) { return bank.side === side; }))];
    });
  }

  function sign(side) { return OUTWARD[side][0] + OUTWARD[side][1]; }

  // Every cylinder with its bank and its place in the vehicle
  function cylinders(engine, banks) {
    var end = firstEnd(engine, banks);
    var crosses = engine.mounting === "transverse";
    return [].concat.apply([], rows(engine, banks, end).map(function (row) {
      var pitch = crosses && row[1].length > 6 ? 26 : 30;
      return row[1].map(function (member, index) {
        var along = sign(end) * ((row[1].length - 1) / 2 - index) * pitch;
        var aside = sign(row[0]) * OFFSET[engine.arrangement];
        return { number: member[0], bank: member[1], at: crosses ? [aside, along] : [along, aside] };
      });
    }));
  }

  // The sensors and catalysts of one exhaust in the order in which the gas passes them
  function pieces(positions, catalysts) {
    var found = [];
    for (var step = 1; step <= Math.max.apply(null, positions.concat(catalysts)); step += 1) {
      if (positions.indexOf(step) >= 0) { found.push(["sensor", step]); }
      if (step <= catalysts) { found.push(["catalyst", step]); }
    }
    return found;
  }

  // ---- whether the banks fit the engine, in the words of the check

  // A sentence in the language of the site; its gaps are in braces
  function said(sentence, gaps) {
    var given = window.sondebookForm;
    var words = given && given.say.layout[sentence] || sentence;
    return words.replace(/\{(\w+)\}/g, function (gap, name) { return gaps[name]; });
  }

  function faults(engine, banks) {
    var none = said("There is no bank 1: call the bank that holds cylinder 1 bank 1.");
    if (!banks.length) { return [none]; }
    return numberFaults(banks, none).concat(cylinderFaults(engine, banks), sideFaults(engine, banks));
  }

  function numberFaults(banks, none) {
    var numbers = banks.map(function (bank) { return bank.number; });
    var told = numbers.indexOf(1) < 0 ? [none] : [];
    numbers.filter(isFirst).forEach(function (number) {
      if (numbers.indexOf(number) !== numbers.lastIndexOf(number)) {
        told.push(said("Bank {bank} is listed twice: give each bank its own number.", { bank: number }));
      }
      if (number < 1 || number > HIGHEST_BANK) {
        told.push(said("There is no bank {bank}: banks are numbered 1 to {highest}.", { bank: number, highest: HIGHEST_BANK }));
      }
    });
    return told;
  }

  function isFirst(each, at, all) { return all.indexOf(each) === at; }

  function cylinderFaults(engine, banks) {
    var told = [], homes = new Map();
    banks.forEach(function (bank) {
      if (!bank.cylinders.length) {
        told.push(said("Bank {bank} has no cylinder: list its cylinders or leave it out.", { bank: bank.number }));
      }
      bank.cylinders.forEach(function (cylinder) {
        homes.set(cylinder, (homes.get(cylinder) || []).concat(bank.number));
      });
    });
    // Nothing is listed yet: a sentence for each cylinder would bury the one that helps
    if (!homes.size) { return told; }
    homes.forEach(function (numbers, cylinder) {
      if (cylinder < 1 || cylinder > engine.cylinders) {
        told.push(said("Bank {bank} lists cylinder {cylinder}, but the engine has cylinders 1 to {count}: mend the list or the number of cylinders.",
          { bank: numbers[0], cylinder: cylinder, count: engine.cylinders }));
      } else if (numbers.length > 1) {
        told.push(crowded(cylinder, numbers.filter(isFirst)));
      }
    });
    var holders = homes.get(1) || [];
    var hasBank1 = banks.some(function (bank) { return bank.number === 1; });
    if (hasBank1 && holders.indexOf(1) < 0) {
      told.push(holders.length
        ? said("Bank 1 is the bank that holds cylinder 1, but it is in bank {bank}: swap the bank numbers or mend the cylinders.", { bank: holders[0] })
        : said("Bank 1 is the bank that holds cylinder 1, but it is in no bank: add it to bank 1."));
    }
    for (var cylinder = 2; cylinder <= engine.cylinders; cylinder += 1) {
      if (!homes.has(cylinder)) {
        told.push(said("Cylinder {cylinder} is in no bank: add it to the bank it exhausts into.", { cylinder: cylinder }));
      }
    }
    return told;
  }

  function crowded(cylinder, numbers) {
    if (numbers.length === 1) {
      return said("Cylinder {cylinder} is twice in bank {bank}: a cylinder belongs in one bank, once.", { cylinder: cylinder, bank: numbers[0] });
    }
    var banks = numbers.map(function (number) { return said("bank {bank}", { bank: number }); });
    return said("Cylinder {cylinder} is in {banks}: a cylinder belongs in one bank, once.", { cylinder: cylinder, banks: banks.join(said(" and ")) });
  }

  function sideFaults(engine, banks) {
    var axis = allowedSides(engine, banks.length);
    var mayBeSideless = isMerged(engine, banks);
    var told = [];
    banks.forEach(function (bank, index) {
      var other = banks.length === 2 ? banks[1 - index].side : null;
      var allowed = axis.filter(function (side) { return side !== other; }).join(said(" or "));
      if (!bank.side) {
        if (!mayBeSideless) { told.push(said("Bank {bank} has no side: say {sides}.", { bank: bank.number, sides: allowed })); }
      } else if (axis.indexOf(bank.side) < 0) {
        told.push(said("Bank {bank} of a {mounting} {arrangement} engine cannot be on the {side} side: say {sides}, or mend the mounting.", {
          bank: bank.number, mounting: engine.mounting, side: bank.side, sides: allowed,
          arrangement: engine.arrangement === "inline" ? "in-line" : engine.arrangement
        }));
      } else if (bank.side === other && index === 1) {
        told.push(said("Banks {first} and {second} are both on the {side} side: one of them is {opposite}.", {
          first: banks[0].number, second: bank.number, side: bank.side, opposite: OPPOSITE[bank.side]
        }));
      }
    });
    return told;
  }

  return {
    allowedSides: allowedSides, cylinders: cylinders, faults: faults, landmark: landmark,
    outward: OUTWARD, pieces: pieces, standpoints: standpoints, turned: turned
  };
})();
