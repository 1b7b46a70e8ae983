/* A bottle with film that was counted on this phone, by the rules of the build: as bottles.py and times.py of calc/film,
   in the words of bottle_view.py. ``bottle`` is what its page carries; each film has a day and the id of its format. */
var hbBottle = (function () {
  "use strict";
  var D = hbDecimal;
  if (!D) { return null; }
  var ONE = D.of("1"), HUNDRED = D.of("100");

  /* Films of one day and format are one line of shelf.yml, as ``{day, format, count}``. */
  function lines(films) {
    var counts = {};
    films.forEach(function (film) {
      var at = film.day + " " + film.format;
      counts[at] = (counts[at] || 0) + 1;
    });
    return Object.keys(counts).sort().map(function (at) {
      var parts = at.split(" ");
      return { day: parts[0], format: parts[1], count: counts[at] };
    });
  }

  /* By the formula's own rule; divided last, so that a half second is one. */
  function next(rule, rolls, litres, shown) {
    function past(roll) { return D.compare(rolls, D.multiply(D.of(String(roll)), litres)) >= 0; }
    function span(ends) {
      var times = ends.map(function (seconds) { return hb.clock(Number(D.short(seconds))); });
      return times[0] === times[1] ? times[0] : times.join("–");
    }
    if (past(rule.most)) { return "none: a litre has done its " + rule.most + " rolls"; }
    if (rule.steps.length) {
      var step = rule.steps.filter(function (each) { return past(each.from - 1); }).pop();
      return span([D.of(step.low), D.of(step.high)]);
    }
    var bottom = D.multiply(HUNDRED, litres), top = D.add(bottom, D.multiply(D.of(rule.add), rolls));
    if (!rule.low) { return shown(D.divide(top, bottom)) + " times the film's own time"; }
    return span([rule.low, rule.high].map(function (end) {
      return D.toStep(D.divide(D.multiply(D.of(end), top), bottom), ONE);
    }));
  }

  function counted(bottle, films) {
    var shown = function (value) { return D.short(D.toFigures(value, 3)).replace(".", bottle.sign); };
    var many = function (value) { return shown(value) + (D.compare(value, ONE) ? " rolls" : " roll"); };
    var rolls = D.of(bottle.rolls), loads = bottle.loads, litres = D.of(bottle.litres);
    lines(films).forEach(function (line) {
      var format = counted.format(bottle, line.format);
      if (format) { rolls = D.add(rolls, D.multiply(D.of(format.rolls), D.of(String(line.count)))); }
      /* What one tank holds is one load; where no tank is known, a day's films are. */
      loads += format && format.at_once ? Math.ceil(line.count / format.at_once) : 1;
    });
    var said = {
      rolls: many(rolls),
      loads: loads + (loads === 1 ? " load" : " loads"),
      litre: many(D.divide(rolls, litres)),
      next: bottle.reuse ? next(bottle.reuse, rolls, litres, shown) : "",
      could: "", left: "", spent: false, over: false
    };
    if (bottle.cautious) {
      var cautious = D.of(bottle.cautious), generous = D.of(bottle.generous);
      said.spent = D.compare(rolls, cautious) >= 0;
      said.over = D.compare(rolls, generous) > 0;
      said.left = said.spent ? "0" : shown(D.subtract(cautious, rolls));
      said.could = shown(cautious) + (D.compare(cautious, generous) ? "–" + shown(generous) : "");
    }
    return said;
  }
  counted.format = function (bottle, id) {
    return bottle.formats.filter(function (format) { return format.id === id; })[0];
  };
  counted.lines = lines;
  return counted;
})();
