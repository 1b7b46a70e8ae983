/* Ages a page when it is read: what has passed since the build becomes a warning on top, and says so where it stands.
   Runs in the head and looks at each part as it is parsed, before it is painted, so that nothing on the screen moves. */
(function () {
  "use strict";
  if (window.hbAges) { return; }
  window.hbAges = true;
  var today = hb.day(), passed = 0, coming = [], done = new Set(), NEXT = 5;
  var GROUPS = [
    { title: "Expired since this page was built: discard.", holds: function (line) { return kind(line) === "bottle"; } },
    { title: "Out of date since this page was built: check before you rely on it.",
      holds: function (line) { return kind(line) !== "bottle"; } }
  ];

  function kind(line) { return line.getAttribute("data-kind"); }
  function over(part, name) { return part.getAttribute(name) < today; }
  /* The parser has left it: something stands behind it. */
  function whole(part) {
    for (var at = part; at; at = at.parentElement) { if (at.nextSibling) { return true; } }
    return document.readyState !== "loading";
  }

  /* The lines below the heading wait hidden; those that have passed become a warning. */
  function warning(list) {
    var lines = Array.from(list.querySelectorAll("li"));
    var old = lines.filter(function (line) { return over(line, "data-until"); });
    coming = lines.filter(function (line) { return !over(line, "data-until"); });
    passed = old.length;
    var box = hb.make("div", "", "hb-warn hb-aged");
    box.setAttribute("role", "note");
    GROUPS.forEach(function (group) {
      var those = old.filter(group.holds);
      if (!those.length) { return; }
      hb.add(hb.add(box, "p"), "strong", group.title);
      var inside = hb.add(box, "ul");
      those.forEach(function (line) { line.className = "hb-passed"; inside.appendChild(line); });
    });
    if (passed) { list.parentNode.insertBefore(box, list); }
    list.remove();
  }
  function next(list) {
    if (!passed) { return; }
    list.textContent = "";
    coming.slice(0, NEXT).forEach(function (line) { list.appendChild(line); });
    if (!coming.length) { hb.add(list, "li", "Nothing: all of it is out of date."); }
  }
  function nothing(words) {
    if (passed) { words.textContent = passed + " more have passed since this page was built: the list is on top."; }
  }
  /* Home: how many of each kind. */
  function count(words) {
    var more = 0, said = [];
    words.querySelectorAll("[data-untils]").forEach(function (part) {
      var those = 0;
      part.getAttribute("data-untils").split(" ").forEach(function (entry) {
        var day = entry.split("x");
        if (day[0] < today) { those += Number(day[1]); }
      });
      more += those;
      if (those) { said.push(those + " " + part.getAttribute(those === 1 ? "data-one" : "data-many")); }
    });
    if (!more) { return; }
    words.querySelector("span").textContent = String(more);
    words.querySelector("b").textContent = said.join(", ");
    words.hidden = false;
  }

  /* Bottles with film counted on this phone, that the build may not know of. */
  function counted(link) {
    var id = /bottles\/([^/]+?)(?:\/|\.html|$)/.exec(link.getAttribute("href"));
    if (!id || !hb.filmCounted(id[1])) { return; }
    var note = hb.make("b", " (film counted on this phone: see its page)");
    link.parentNode.insertBefore(note, link.nextSibling);
  }

  /* What is looked for, what is done with it, and whether all of it must be there first. */
  var PARTS = [
    ["[data-shown-to]", function (part) { part.hidden = over(part, "data-shown-to"); }, false],
    ["[data-shown-after]", function (part) { part.hidden = !over(part, "data-shown-after"); }, false],
    [".hb-since", function (words) { words.hidden = !hb.filmCounted(words.getAttribute("data-bottle")); }, false],
    [".hb-dates [data-until]", function (line) { if (over(line, "data-until")) { line.className = "hb-passed"; } }, false],
    [".hb-ages", warning, true],
    [".hb-next", next, true],
    [".hb-nothing", nothing, true],
    [".hb-count", count, true],
    ['main a[href*="bottles/"]', counted, true]
  ];
  function look() {
    PARTS.forEach(function (part) {
      document.querySelectorAll(part[0]).forEach(function (found) {
        if (done.has(found) || (part[2] && !whole(found))) { return; }
        done.add(found);
        part[1](found);
      });
    });
  }
  var watch = new MutationObserver(look);
  watch.observe(document.documentElement, { childList: true, subtree: true });
  document.addEventListener("DOMContentLoaded", function () { look(); watch.disconnect(); });
})();
