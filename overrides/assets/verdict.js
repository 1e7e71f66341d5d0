// The verdict on a cold heater's reading. Python owns every formula here (generator/trade/heater.py
// and verdict.py, where the sources stand); shared test vectors hold both to the same answers.
(() => {
  "use strict";

  var PLATINUM_A = 3.9083e-3, PLATINUM_B = -5.775e-7, PLATINUM_C_BELOW_0 = -4.183e-12;
  var PLATINUM_LOWEST_C = -200, PLATINUM_HIGHEST_C = 850;
  var TUNGSTEN_PER_K = [0.004403, 0.0045], TUNGSTEN_REFERENCE_C = 20;
  var AMBIENT_LOWEST_C = -20, AMBIENT_HIGHEST_C = 50;
  var RULE_OF_THUMB = { low: 2, high: 4 }, RULE_OF_THUMB_REFERENCE_C = 20;
  var COVERAGE_FACTOR = 2;
  var OPEN_CIRCUIT_OHM = 1000, OPEN_CIRCUIT_FACTOR = 10;
  var SHORT_CIRCUIT_FRACTION = 0.5, LOWEST_COMMON_SPECIFICATION_OHM = 1.5;

  function platinum(t) {
    if (!(t >= PLATINUM_LOWEST_C && t <= PLATINUM_HIGHEST_C)) { return NaN; }
    var below0 = t < 0 ? PLATINUM_C_BELOW_0 * (t - 100) * Math.pow(t, 3) : 0;
    return 1 + PLATINUM_A * t + PLATINUM_B * t * t + below0;
  }

  function tungsten(t, perK) {
    return 1 + perK * (t - TUNGSTEN_REFERENCE_C);
  }

  // Every factor that may carry a resistance from one temperature to another
  function factors(t, reference, element) {
    var found = [];
    if (element !== "tungsten") { found.push(platinum(t) / platinum(reference)); }
    if (element !== "platinum") {
      TUNGSTEN_PER_K.forEach(perK => {
        found.push(tungsten(t, perK) / tungsten(reference, perK));
      });
    }
    return found;
  }

  function isCold(t) {
    return t >= AMBIENT_LOWEST_C && t <= AMBIENT_HIGHEST_C;
  }

  function expectedRange(stated, reference, air, element, tolerance) {
    if (!isCold(air) || !isCold(reference) || !(tolerance >= 0 && tolerance < Infinity)) {
      return null;
    }
    var low = stated.low * Math.min(...factors(air - tolerance, reference, element));
    var high = stated.high * Math.max(...factors(air + tolerance, reference, element));
    return low >= 0 && high >= low && high < Infinity ? { low: low, high: high } : null;
  }

  function limitOf(meter, shown) {
    return Math.abs(shown) * meter.percent / 100 + meter.counts * meter.resolution;
  }

  function circuitFault(corrected, spread, allowed) {
    var high = allowed ? allowed.high : 0;
    var low = allowed ? allowed.low : LOWEST_COMMON_SPECIFICATION_OHM;
    if (corrected - spread > Math.max(OPEN_CIRCUIT_OHM, OPEN_CIRCUIT_FACTOR * high)) {
      return "open-circuit";
    }
    if (corrected + spread < SHORT_CIRCUIT_FRACTION * low) {
      return corrected >= -spread ? "short-circuit" : "cannot-tell-yet";
    }
    return null;
  }

  function guarded(corrected, spread, accepting, condemning) {
    if (accepting.low + spread <= corrected && corrected <= accepting.high - spread) {
      return "in-range";
    }
    var isOut = corrected + spread < condemning.low || corrected - spread > condemning.high;
    return isOut ? "out-of-range" : "cannot-tell-yet";
  }

  // reading: shown (null when over range), zero, air, tolerance
  // meter: percent, counts, resolution; null gives everything but the outcome
  // heater: specified (low and high, or null), reference, element
  // Gives outcome, corrected, uncertainty, range, beyond and pointless (the next steps that cannot
  // help), or null where nothing can be computed.
  function judge(reading, meter, heater) {
    var stated = heater.specified || RULE_OF_THUMB;
    var statedAt = heater.specified ? heater.reference : RULE_OF_THUMB_REFERENCE_C;
    var allowed = expectedRange(stated, statedAt, reading.air, heater.element, reading.tolerance);
    if (!allowed) { return null; }
    var result = {
      outcome: null, corrected: null, uncertainty: null, range: allowed, beyond: null, pointless: []
    };
    if (reading.shown === null) {
      result.outcome = "open-circuit";
      return result;
    }
    var corrected = result.corrected = reading.shown - reading.zero;
    var beyond = result.beyond =
      corrected < allowed.low ? "below" : corrected > allowed.high ? "above" : null;
    if (!meter) { return result; }
    var spread = COVERAGE_FACTOR * Math.hypot(
      limitOf(meter, reading.shown) / Math.sqrt(3), limitOf(meter, reading.zero) / Math.sqrt(3)
    );
    result.uncertainty = spread;
    result.outcome = circuitFault(corrected, spread, heater.specified ? allowed : null);
    if (!result.outcome && heater.specified) {
      result.outcome = guarded(corrected, spread, allowed, {
        low: Math.min(stated.low, allowed.low), high: Math.max(stated.high, allowed.high)
      });
    } else if (!result.outcome) {
      result.outcome = beyond ? "outside-rule-of-thumb" : "within-rule-of-thumb";
    }
    if (beyond !== "above") { result.pointless.push("let-it-cool"); }
    if (beyond !== "below") { result.pointless.push("check-fuse"); }
    if (2 * spread < allowed.high - allowed.low) { result.pointless.push("finer-meter"); }
    if (Math.abs(reading.air - statedAt) <= reading.tolerance) {
      result.pointless.push("measure-near-reference");
    }
    return result;
  }

  // A number in whole steps; one just between two goes to the even one
  function inSteps(value, step) {
    var steps = value / step, below = Math.floor(steps), rest = steps - below;
    return (rest > 0.5 || (rest === 0.5 && below % 2) ? below + 1 : below) * step;
  }

  // The range in steps of 0.1 below 20 ohm and 1 from there, finer where the specification is
  function shown(range, statedStep) {
    var step = range.high < 20 ? 0.1 : 1;
    if (statedStep) { step = Math.min(step, statedStep); }
    var decimals = Math.max(0, -Math.round(Math.log10(step)));
    var low = inSteps(range.low, step).toFixed(decimals);
    var high = inSteps(range.high, step).toFixed(decimals);
    return low === high ? low : low + "\u2013" + high;
  }

  window.sondebookVerdict = { judge: judge, shown: shown };
})();
