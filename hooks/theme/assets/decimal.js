/* Decimal arithmetic as the build's own: 28 significant digits, rounded half to even, for figures not below zero.
   A figure is {i, e}: i times ten to the power of e. */
var hbDecimal = (function () {
  "use strict";
  if (typeof BigInt === "undefined") { return null; }
  var DIGITS = 28, ZERO = BigInt(0), ONE = BigInt(1), TWO = BigInt(2), FIVE = BigInt(5);

  function ten(power) { return BigInt("1" + "0".repeat(power)); }
  function digits(whole) { return whole.toString().length; }

  function goesUp(whole, rest, unit, how) {
    if (rest === ZERO) { return false; }
    if (how === "ceiling" || how === "floor") { return how === "ceiling"; }
    if (rest * TWO !== unit) { return rest * TWO > unit; }
    return how === "half up" || whole % TWO === ONE;
  }
  function drop(whole, places, how) {
    var unit = ten(places), kept = whole / unit;
    return goesUp(kept, whole % unit, unit, how) ? kept + ONE : kept;
  }
  function fit(i, e) {
    var over = digits(i) - DIGITS;
    return over > 0 ? fit(drop(i, over, "half even"), e + over) : { i: i, e: e };
  }
  /* 28 digits and more, the last one odd where something is left over: so no false half arises. */
  function divide(a, b) {
    var shift = Math.max(0, DIGITS + 1 + digits(b.i) - digits(a.i));
    var top = a.i * ten(shift), found = top / b.i;
    if (top % b.i !== ZERO && found % FIVE === ZERO) { found += ONE; }
    return fit(found, a.e - b.e - shift);
  }
  function level(a, e) { return a.i * ten(a.e - e); }
  function add(a, b) {
    var e = Math.min(a.e, b.e);
    return fit(level(a, e) + level(b, e), e);
  }
  /* Of two figures the larger less the smaller. */
  function subtract(a, b) {
    var e = Math.min(a.e, b.e);
    return fit(level(a, e) - level(b, e), e);
  }
  function compare(a, b) {
    var e = Math.min(a.e, b.e), left = level(a, e), right = level(b, e);
    return left < right ? -1 : left > right ? 1 : 0;
  }
  function quantise(a, e, how) {
    return { i: a.e >= e ? level(a, e) : drop(a.i, e - a.e, how), e: e };
  }
  function magnitude(a) { return digits(a.i) + a.e - 1; }
  function text(a) {
    if (a.e >= 0) { return level(a, 0).toString(); }
    var all = a.i.toString().padStart(1 - a.e, "0"), point = all.length + a.e;
    return all.slice(0, point) + "." + all.slice(point);
  }
  function short(a) {
    var all = text(a);
    return all.indexOf(".") < 0 ? all : all.replace(/0+$/, "").replace(/\.$/, "");
  }
  return {
    of: function (written) {
      var parts = written.split(".");
      return { i: BigInt(parts[0] + (parts[1] || "")), e: -(parts[1] || "").length };
    },
    multiply: function (a, b) { return fit(a.i * b.i, a.e + b.e); },
    divide: divide,
    add: add,
    subtract: subtract,
    compare: compare,
    quantise: quantise,
    magnitude: magnitude,
    isZero: function (a) { return a.i === ZERO; },
    /* To a multiple of a step, halves up. */
    toStep: function (a, step) {
      return this.multiply(quantise(divide(a, step), 0, "half up"), step);
    },
    /* To significant figures, halves up; 9.995 gains a digit before the point and loses one behind it. */
    toFigures: function (a, figures) {
      if (a.i === ZERO) { return a; }
      var once = quantise(a, magnitude(a) - figures + 1, "half up");
      return quantise(once, magnitude(once) - figures + 1, "half up");
    },
    /* Plain, without zeros at the end. */
    short: short,
    /* With as many decimals as a step has. */
    like: function (a, step) {
      var places = (short(step).split(".")[1] || "").length;
      return text(quantise(a, -places, "half even"));
    }
  };
})();
