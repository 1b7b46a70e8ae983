/* A weighing list for any volume, by the rules of the build: the same instruments, rounding, warnings and sentences.
   ``data`` is what the page carries in data-list; the answer has a text for everything that the page shows. */
var hbRescale = (function () {
  "use strict";
  var D = hbDecimal;
  if (!D) { return null; }
  var THOUSAND = D.of("1000"), HUNDRED = D.of("100"), TEN = D.of("10");

  function fill(sentence, words) {
    return sentence.replace(/\{(\w+)\}/g, function (_, name) { return words[name]; });
  }

  function measure(exact, unit, data) {
    var tools = data.tools[unit], tool = null;
    tools.forEach(function (one) {
      if (!tool && D.compare(D.of(one.holds), exact) >= 0) { tool = one; }
    });
    if (!tool) {
      tool = tools.reduce(function (most, one) {
        return D.compare(D.of(one.holds), D.of(most.holds)) > 0 ? one : most;
      });
    }
    var step = D.of(tool.step);
    var lots = D.quantise(D.divide(exact, D.of(tool.holds)), 0, "ceiling");
    var portions = D.isZero(lots) ? "1" : D.short(lots);
    return {
      rounded: D.toStep(exact, step), unit: unit, step: step, name: tool.name, portions: portions,
      error: D.multiply(D.of(tool.error), D.of(portions))
    };
  }

  /* Parts of a dilution add up to the volume: the largest, of equal ones the last, is what the others leave of it. */
  function addUp(parts, volume) {
    var largest = parts.reduce(function (most, part) {
      return D.compare(part.exact, most.exact) >= 0 ? part : most;
    });
    var others = parts.reduce(function (sum, part) {
      return part === largest ? sum : D.add(sum, part.measured.rounded);
    }, D.of("0"));
    var left = D.compare(volume, others) > 0 ? D.subtract(volume, others) : D.of("0");
    var places = (D.short(left).split(".")[1] || "").length;
    var step = D.of(places ? "0." + "1".padStart(places, "0") : "1");
    largest.measured.rounded = left;
    if (D.compare(step, largest.measured.step) < 0) { largest.measured.step = step; }
  }

  function stock(exact, row, room, data) {
    var most = D.multiply(D.of(row.dissolves), D.of(data.stock.margin));
    var tolerance = D.of(row.tolerance), found = null;
    data.stock.strengths.map(D.of).forEach(function (percent) {
      if (found || D.compare(D.multiply(percent, TEN), most) > 0) { return; }
      var volume = D.divide(D.multiply(exact, HUNDRED), percent);
      var pour = measure(volume, "mL", data);
      if (D.compare(volume, room) > 0) { return; }
      data.stock.volumes.map(D.of).forEach(function (size) {
        if (found) { return; }
        var grams = D.divide(D.multiply(percent, size), HUNDRED);
        var weigh = measure(grams, "g", data);
        var error = D.add(D.divide(weigh.error, grams), D.divide(pour.error, volume));
        if (D.compare(error, tolerance) <= 0 && pour.portions === "1") {
          found = { percent: percent, weigh: weigh, size: size, pour: pour };
        }
      });
    });
    return found;
  }

  return function (data, millilitres) {
    var local = function (written) { return written.replace(".", data.sign); };
    var stepped = function (value, step, unit) { return local(D.like(value, step)) + data.space + unit; };
    var roughly = function (value, unit) { return local(D.short(D.toFigures(value, 3))) + data.space + unit; };
    var percent = function (fraction) {
      return local(D.short(D.toFigures(D.multiply(fraction, HUNDRED), 2))) + data.space + "%";
    };
    var volume = D.of(millilitres), litres = D.divide(volume, THOUSAND);
    var room = D.divide(D.multiply(D.of(data.water), volume), THOUSAND);

    function advice(judged) {
      var size = D.divide(D.multiply(THOUSAND, judged.measured.error),
        D.multiply(D.of(judged.row.tolerance), judged.perLitre));
      size = D.quantise(size, D.magnitude(size) - 1, "ceiling");
      var words = data.words, unit = judged.measured.unit;
      var from = fill(words.from[unit], { size: roughly(size, "mL") });
      if (unit !== "g") { return words.finer + ". " + from; }
      if (judged.row.noStock) { return judged.row.noStock + ". " + from; }
      var found = stock(judged.exact, judged.row, room, data);
      if (!found) { return words.noFit + ". " + from; }
      return fill(words.stock, {
        weigh: stepped(found.weigh.rounded, found.weigh.step, "g"),
        volume: roughly(found.size, "mL"),
        strength: local(D.short(found.percent)),
        pour: stepped(found.pour.rounded, found.pour.step, "mL"),
        tool: found.pour.name
      }) + " " + from;
    }

    function judge(exact, perLitre, row, part) {
      var measured = part || measure(exact, row.unit, data), error = D.divide(measured.error, exact);
      var figure = stepped(measured.rounded, measured.step, measured.unit), poor = "";
      if (D.compare(error, D.of(row.tolerance)) > 0) {
        var exactly = roughly(exact, row.unit);
        figure = D.isZero(measured.rounded) ? exactly : figure;
        poor = fill(data.words.exactly,
          { exactly: exactly, error: percent(error), wanted: row.wanted, reason: row.reason });
      }
      var tool = measured.name;
      if (measured.portions !== "1") {
        tool = fill(data.words.lots, { tool: tool, portions: measured.portions });
      }
      return { figure: figure, tool: tool, poor: poor, exact: exact, perLitre: perLitre, measured: measured, row: row };
    }

    function line(row, at) {
      var perLitre = D.of(row.perLitre), exact = parts[at].exact;
      var asked = judge(exact, perLitre, row.asked, parts[at].measured), jar = null;
      if (row.jar) {
        var factor = D.of(row.jar.factor);
        jar = judge(D.multiply(exact, factor), D.multiply(perLitre, factor), row.jar);
      }
      /* What lies on the balance is what the advice is about. */
      var weighed = jar || asked;
      return { asked: asked, jar: jar, advice: weighed.poor ? weighed.poor + ". " + advice(weighed) : "" };
    }

    function part(perLitre, unit) {
      var exact = D.multiply(D.of(perLitre), litres);
      return { exact: exact, measured: measure(exact, unit, data) };
    }

    var parts = data.rows.map(function (row) { return part(row.perLitre, row.asked.unit); });
    if (data.start !== null) { parts.push(part(data.start, "mL")); }
    if (data.parts) { addUp(parts, volume); }
    var start = data.start === null ? null : parts[parts.length - 1].measured;
    return {
      volume: local(D.short(volume)) + data.space + "mL",
      start: start && stepped(start.rounded, start.step, "mL"),
      rows: data.rows.map(line)
    };
  };
})();
