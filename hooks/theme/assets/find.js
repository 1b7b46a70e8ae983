/* What is typed exactly as a page is called leads there first: the table of names stands in names.js. keys.js brings this
   when the search is first used. */
(function () {
  "use strict";
  var list = document.querySelector(".md-search-result__list");
  var field = document.querySelector(".md-search__input");
  var own = document.querySelector('script[src*="assets/find.js"]');
  if (!list || !field || !own) { return; }
  var base = own.src.replace(/assets\/find\.js.*$/, "");

  /* The same rule as exact_names.plain. */
  var plain = function (name) {
    return name.toLowerCase().replace(/[^a-z0-9]/g, "").replace(/sulph/g, "sulf").replace(/color/g, "colour");
  };

  /* The search's own line for a page that stands above goes. */
  var once = function (leads) {
    Array.from(list.children).forEach(function (item) {
      var link = item.querySelector("a");
      var again = link && !item.classList.contains("hb-exact") && leads.indexOf(link.href.split(/[?#]/)[0]) >= 0;
      item.hidden = Boolean(again);
      /* The frame calls each result's tags a navigation. */
      item.querySelectorAll("nav").forEach(function (tags) {
        tags.setAttribute("role", "presentation");
      });
    });
  };

  var show = function () {
    var table = window.handbookNames;
    var typed = field.value;
    var exact = table && (table.names[plain(typed)] || table.names[plain(typed.replace(/^\s*cas\b/i, ""))]);
    var found = exact || (table && window.hbLike ? window.hbLike(typed, table) : []);
    var key = found.join(",");
    once(found.map(function (number) { return new URL(table.pages[number][0], base).href; }));
    var shown = list.querySelectorAll(".hb-exact");
    if ((shown.length ? list.getAttribute("data-exact") : "") === key) { return; }
    shown.forEach(function (item) { item.remove(); });
    list.setAttribute("data-exact", key);
    found.slice().reverse().forEach(function (number) {
      var item = hb.make("li", "", "md-search-result__item hb-exact");
      var link = hb.add(item, "a", "", "md-search-result__link");
      link.href = base + table.pages[number][0];
      var words = hb.add(link, "article", "", "md-search-result__article md-typeset");
      var page = table.pages[number];
      hb.add(words, "h1", (exact ? "" : "Did you mean: ") + page[1] + (page[2] ? ": " + page[2] : ""));
      list.insertBefore(item, list.firstChild);
    });
  };

  field.addEventListener("input", show);
  field.addEventListener("keyup", show);
  new MutationObserver(show).observe(list, { childList: true });
  show();
})();
