/* Counts film through a bottle on this phone, until shelf.yml holds it; bottle.js works it out. */
(function () {
  "use strict";
  var bottle = hb.data("hb-bottle"), place = document.getElementById("hb-counting");
  if (!bottle || !place || !hbBottle) { return; }
  var KEY = hb.filmKey(bottle.id);

  var read = function () { return hb.parsed(hb.kept(KEY)) || []; };
  var write = function (films) { return hb.keep(KEY, films.length ? JSON.stringify(films) : null); };
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
  var shelfLines = function (films) {
    return hbBottle.lines(films).map(function (line) {
      return "      - {day: " + line.day + ', format: "' + line.format + '", count: ' + line.count + "}";
    }).join("\n");
  };

  hb.add(place, "h3", "Count a film on this phone");
  var buttons = hb.add(place, "p", "", "hb-jump");
  var said = hb.add(place, "div");
  said.setAttribute("aria-live", "polite");

  /* The figures on top are the build's: they say so while there is film that it does not know of. */
  var since = document.querySelector(".hb-since");

  var expired = function () { return bottle.old || (bottle.until && bottle.until < hb.day()); };
  /* How far the bottle is, and what that means. */
  var standing = function (now) {
    if (expired()) { return "; " + bottle.expired; }
    if (!now.could) { return ""; }
    return " of " + now.could + "; " + (now.over ? "more film than it could have done"
      : now.spent ? "spent by the cautious figure: test it" : now.left + " left by the cautious figure");
  };

  var show = function (failed) {
    var films = pending(read());
    said.textContent = "";
    if (since) { since.hidden = !films.length; }
    if (failed) { hb.add(said, "p", "This phone keeps nothing for this page: write the film down."); }
    if (!films.length) { return; }
    hb.add(said, "p", "On this phone only, not yet in shelf.yml:");
    var list = hb.add(said, "ul");
    films.forEach(function (film) {
      hb.add(list, "li", film.day + ": " + (hbBottle.format(bottle, film.format) || { name: film.format }).name);
    });
    var now = hbBottle(bottle, films);
    hb.add(hb.add(said, "p", "", expired() || now.spent ? "hb-warn" : ""), "b", "With it " + now.rolls + standing(now) + ".");
    if (now.next && !expired()) {
      hb.add(hb.add(said, "p"), "b", "Next film: " + now.next + ".");
      hb.add(said, "p", "Counted: " + now.rolls + " in " + now.loads + " through " + bottle.volume + ", " + now.litre +
        " a litre; films of one load share one time.");
    }
    var below = hb.add(said, "p", "", "hb-jump");
    below.appendChild(hb.button("Undo the last", function () {
      var kept = read(), last = films[films.length - 1];
      for (var i = kept.length - 1; i >= 0; i -= 1) {
        if (kept[i].at === last.at) { kept.splice(i, 1); break; }
      }
      show(!write(kept));
    }));
    hb.add(said, "p", "For shelf.yml, below the last line of through: of this bottle, with the spaces in front:");
    var text = shelfLines(films);
    hb.add(hb.add(said, "pre"), "code", text);
    if (navigator.clipboard) {
      var copy = below.appendChild(hb.button("Copy the lines", function () {
        navigator.clipboard.writeText(text).then(function () { copy.textContent = "Copied"; });
      }));
    }
  };

  bottle.formats.forEach(function (format) {
    buttons.appendChild(hb.button("+ 1 " + format.name, function () {
      var films = read(), film = { day: hb.day(), format: format.id, at: Date.now() + Math.random() };
      var same = films.filter(function (kept) { return kept.day === film.day && kept.format === film.format; })[0];
      film.built = same ? same.built : built(film);
      films.push(film);
      show(!write(films));
    }));
  });
  write(pending(read()).length ? read() : []);
  show(false);
})();
