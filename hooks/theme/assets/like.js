/* What was meant by a word that no title has: pages with a word like it, one letter wrong, or two in a long word. */
(function () {
  "use strict";
  var MOST = 3;
  var words = function (text) {
    var plain = text.toLowerCase().replace(/sulph/g, "sulf").replace(/color/g, "colour").replace(/ilizer/g, "iliser");
    return plain.split(/[^a-z0-9]+/).filter(function (word) { return word.length > 3; });
  };
  /* Letters to change, put in or take out from one word to the other; 9 where they are far apart. */
  var apart = function (one, other) {
    if (Math.abs(one.length - other.length) > 2) { return 9; }
    var row = [], i, j;
    for (j = 0; j <= other.length; j += 1) { row[j] = j; }
    for (i = 1; i <= one.length; i += 1) {
      var above = row[0];
      row[0] = i;
      for (j = 1; j <= other.length; j += 1) {
        var kept = row[j];
        row[j] = Math.min(row[j] + 1, row[j - 1] + 1, above + (one[i - 1] === other[j - 1] ? 0 : 1));
        above = kept;
      }
    }
    return row[other.length];
  };
  var titles = null;
  var known = function (word, title) { return title.some(function (one) { return one.indexOf(word) === 0; }); };
  var distance = function (word, title) {
    if (known(word, title)) { return 0; }
    var least = Math.min.apply(null, title.map(function (one) { return apart(word, one); }));
    return least <= (word.length > 6 ? 2 : 1) ? least : 9;
  };

  /* Numbers of pages, the likest first; none while each word typed begins a word of some title. */
  window.hbLike = function (typed, table) {
    titles = titles || table.pages.map(function (page) { return words(page[1]); });
    var asked = words(typed).filter(function (word) { return word.length > 4; });
    var right = function (word) { return titles.some(function (title) { return known(word, title); }); };
    var respelt = words(typed).join() !== typed.toLowerCase().split(/[^a-z0-9]+/).filter(function (word) {
      return word.length > 3;
    }).join();
    if (!asked.length || (!respelt && asked.every(right))) { return []; }
    return titles.map(function (title, number) {
      var far = asked.map(function (word) { return title.length ? distance(word, title) : 9; });
      return { number: number, far: far.reduce(function (sum, one) { return sum + one; }, 0), none: far.indexOf(9) >= 0 };
    }).filter(function (one) { return !one.none; }).sort(function (a, b) {
      return a.far - b.far || titles[a.number].length - titles[b.number].length || a.number - b.number;
    }).slice(0, MOST).map(function (one) { return one.number; });
  };
})();
