/* Counts film through a bottle on this phone, until shelf.yml holds it. Figures are whole numbers of 10^-12, so that
   they round as the build's do. */
(function () {
  "use strict";
  var block = document.getElementById("hb-bottle");
  var place = document.getElementById("hb-counting");
  if (!block || !place) { return; }
  var bottle = JSON.parse(block.textContent);
  var KEY = "handbook.film." + bottle.id;
  var ONE = BigInt(10) ** BigInt(12);

  /* A decimal string as a whole number of 10^-12. */
  var whole = function (text) {
    var parts = String(text).split(".");
    return BigInt(parts[0] + ((parts[1] || "") + "000000000000").slice(0, 12));
  };
  var halfUp = function (top, bottom) { return (top * BigInt(2) + bottom) / (bottom * BigInt(2)); };
  /* To three significant figures, without trailing noughts. */
  var shown = function (value) {
    var digits = String(value), drop = Math.max(0, digits.length - 3);
    var text = String(halfUp(value, BigInt(10) ** BigInt(drop))) + "0".repeat(drop);
    text = text.padStart(13, "0");
    var rest = text.slice(-12).replace(/0+$/, "");
    return text.slice(0, -12) + (rest ? bottle.sign + rest : "");
  };
  var clock = function (seconds) {
    var all = Number(seconds), rest = all % 60;
    return Math.floor(all / 60) + ":" + (rest < 10 ? "0" : "") + rest;
  };
  var span = function (low, high) { return low === high ? low : low + "–" + high; };

  var read = function () {
    try { return JSON.parse(localStorage.getItem(KEY)) || []; } catch (error) { return []; }
  };
  var write = function (films) {
    try {
      if (films.length) { localStorage.setItem(KEY, JSON.stringify(films)); } else { localStorage.removeItem(KEY); }
      return true;
    } catch (error) { return false; }
  };
  var built = function (film) { return bottle.through[film.day + " " + film.format] || 0; };

  /* Films of a day and format that the build has taken up since the first of them was counted here. */
  var pending = function (films) {
    var taken = {};
    return films.filter(function (film) {
      var at = film.day + " " + film.format;
      if (!(at in taken)) { taken[at] = Math.max(0, built(film) - film.built); }
      if (taken[at] > 0) { taken[at] -= 1; return false; }
      return true;
    });
  };
  var of = function (id) {
    return bottle.formats.filter(function (format) { return format.id === id; })[0];
  };
  var lines = function (films) {
    var counts = {};
    films.forEach(function (film) {
      var at = film.day + " " + film.format;
      counts[at] = (counts[at] || 0) + 1;
    });
    return Object.keys(counts).sort().map(function (at) {
      var parts = at.split(" ");
      return "      - {day: " + parts[0] + ', format: "' + parts[1] + '", count: ' + counts[at] + "}";
    });
  };

  /* The figures that the next time rests on. Films of a day and format that one tank holds are one load; where no tank
     is known, a day's films are. */
  var counted = function (films, rolls) {
    var days = {}, loads = bottle.loads || 0, litres = whole(bottle.litres);
    films.forEach(function (film) {
      var at = film.day + " " + film.format;
      days[at] = days[at] || { count: 0, held: (of(film.format) || {}).at_once };
      days[at].count += 1;
    });
    Object.keys(days).forEach(function (at) { loads += days[at].held ? Math.ceil(days[at].count / days[at].held) : 1; });
    var each = halfUp(rolls * ONE, litres);
    var many = function (value) { return shown(value) + (value === ONE ? " roll" : " rolls"); };
    return "Counted: " + many(rolls) + " in " + loads + (loads === 1 ? " load" : " loads") + " through " + bottle.volume +
      ", " + many(each) + " a litre; films of one load share one time.";
  };

  /* The time for the next film by the formula's own rule: as calc/film/times.py. */
  var next = function (rolls) {
    var rule = bottle.reuse, litres = whole(bottle.litres);
    if (!rule) { return ""; }
    if (rolls >= BigInt(rule.most) * litres) { return "none: a litre has done its " + rule.most + " rolls"; }
    if (rule.steps.length) {
      var step = rule.steps.filter(function (one) { return BigInt(one.from - 1) * litres <= rolls; }).pop();
      return span(clock(step.low), clock(step.high));
    }
    var bottom = BigInt(100) * litres * ONE, top = bottom + whole(rule.add) * rolls;
    if (!rule.low) { return shown(halfUp(top * ONE, bottom)) + " times the film’s own time"; }
    var at = function (seconds) { return clock(halfUp(whole(seconds) * top, bottom * ONE)); };
    return span(at(rule.low), at(rule.high));
  };

  var add = function (parent, tag, text, name) {
    var made = document.createElement(tag);
    if (text) { made.textContent = text; }
    if (name) { made.className = name; }
    parent.appendChild(made);
    return made;
  };
  add(place, "h3", "Count a film on this phone");
  var buttons = add(place, "p", "", "hb-jump");
  var said = add(place, "div");
  said.setAttribute("aria-live", "polite");

  /* The figures on top are the build's: they say so while there is film that it does not know of. */
  var since = document.querySelector(".hb-since");

  var show = function (failed) {
    var films = pending(read());
    var rolls = films.reduce(function (sum, film) {
      var format = of(film.format);
      return format ? sum + whole(format.rolls) : sum;
    }, whole(bottle.rolls));
    said.textContent = "";
    if (since) { since.hidden = !films.length; }
    if (failed) { add(said, "p", "This phone keeps nothing for this page: write the film down."); }
    if (!films.length) { return; }
    add(said, "p", "On this phone only, not yet in shelf.yml:");
    var list = add(said, "ul");
    films.forEach(function (film) { add(list, "li", film.day + ": " + ((of(film.format) || {}).name || film.format)); });
    var words = "With it " + shown(rolls) + " rolls";
    var expired = bottle.old || (bottle.until && bottle.until < hbDay());
    if (expired) {
      words += "; " + bottle.expired;
    } else if (bottle.cautious) {
      var left = whole(bottle.cautious) - rolls;
      words += " of " + span(shown(whole(bottle.cautious)), shown(whole(bottle.generous))) + "; ";
      if (left > BigInt(0)) {
        words += shown(left) + " left by the cautious figure";
      } else {
        words += rolls > whole(bottle.generous) ? "more film than it could have done" : "spent by the cautious figure: test it";
      }
    }
    add(add(said, "p", "", expired || left <= BigInt(0) ? "hb-warn" : ""), "b", words + ".");
    var then = expired ? "" : next(rolls);
    if (then) {
      add(add(said, "p"), "b", "Next film: " + then + ".");
      add(said, "p", counted(films, rolls));
    }
    var undo = add(add(said, "p", "", "hb-jump"), "button", "Undo the last");
    undo.type = "button";
    undo.addEventListener("click", function () {
      var kept = read(), last = films[films.length - 1];
      for (var i = kept.length - 1; i >= 0; i -= 1) {
        if (kept[i].at === last.at) { kept.splice(i, 1); break; }
      }
      show(!write(kept));
    });
    add(said, "p", "For shelf.yml, below the last line of through: of this bottle, with the spaces in front:");
    var text = lines(films).join("\n");
    add(add(said, "pre"), "code", text);
    if (navigator.clipboard) {
      var copy = add(undo.parentNode, "button", "Copy the lines");
      copy.type = "button";
      copy.addEventListener("click", function () {
        navigator.clipboard.writeText(text).then(function () { copy.textContent = "Copied"; });
      });
    }
  };

  bottle.formats.forEach(function (format) {
    var button = add(buttons, "button", "+ 1 " + format.name);
    button.type = "button";
    button.addEventListener("click", function () {
      var films = read(), film = { day: hbDay(), format: format.id, at: Date.now() + Math.random() };
      var same = films.filter(function (one) { return one.day === film.day && one.format === film.format; })[0];
      film.built = same ? same.built : built(film);
      films.push(film);
      show(!write(films));
    });
  });
  write(pending(read()).length ? read() : []);
  show(false);
})();
