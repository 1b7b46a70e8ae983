/* What is typed exactly as a page is called leads there first: the table of names stands in names.js. */
(function () {
  "use strict";
  var list = document.querySelector(".md-search-result__list");
  var field = document.querySelector(".md-search__input");
  var own = document.querySelector('script[src*="assets/find.js"]');
  if (!list || !field || !own) { return; }
  var assets = own.getAttribute("src").replace(/find\.js.*$/, "");
  var base = assets.replace(/assets\/$/, "");
  var asked = false;

  /* The same rule as exact_names.plain. */
  var plain = function (name) {
    return name.toLowerCase().replace(/[^a-z0-9]/g, "").replace(/sulph/g, "sulf").replace(/color/g, "colour");
  };

  /* The search's own line for a page that stands above goes. */
  var once = function (leads) {
    Array.prototype.forEach.call(list.children, function (item) {
      var link = item.querySelector("a");
      var again = link && !item.classList.contains("hb-exact") && leads.indexOf(link.href.split(/[?#]/)[0]) >= 0;
      item.hidden = Boolean(again);
      /* The frame calls each result's tags a navigation. */
      Array.prototype.forEach.call(item.querySelectorAll("nav"), function (tags) {
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
    once(found.map(function (number) { return new URL(base + table.pages[number][0], location.href).href; }));
    var shown = list.querySelectorAll(".hb-exact");
    if ((shown.length ? list.getAttribute("data-exact") : "") === key) { return; }
    Array.prototype.forEach.call(shown, function (item) { item.remove(); });
    list.setAttribute("data-exact", key);
    found.slice().reverse().forEach(function (number) {
      var item = document.createElement("li");
      item.className = "md-search-result__item hb-exact";
      var link = document.createElement("a");
      link.className = "md-search-result__link";
      link.href = base + table.pages[number][0];
      var words = document.createElement("article");
      words.className = "md-search-result__article md-typeset";
      var title = document.createElement("h1");
      title.textContent = (exact ? "" : "Did you mean: ") + table.pages[number][1];
      words.appendChild(title);
      link.appendChild(words);
      item.appendChild(link);
      list.insertBefore(item, list.firstChild);
    });
  };

  var load = function () {
    if (asked) { return; }
    asked = true;
    ["names.js", "like.js"].forEach(function (name) {
      var script = document.createElement("script");
      script.src = assets + name;
      script.onload = show;
      document.head.appendChild(script);
    });
  };

  field.addEventListener("focus", load);
  field.addEventListener("input", function () { load(); show(); });
  field.addEventListener("keyup", show);
  new MutationObserver(show).observe(list, { childList: true });
})();
