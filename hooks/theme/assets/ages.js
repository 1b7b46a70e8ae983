/* Ages a page when it is read: dates in its list that have passed since the build become a warning on top. */
(function () {
  "use strict";
  var today = hbDay();

  var passed = Array.prototype.filter.call(document.querySelectorAll(".hb-dates [data-until]"), function (line) {
    return line.getAttribute("data-until") < today;
  });
  passed.forEach(function (line) { line.classList.add("hb-passed"); line.hidden = false; });
  var nothing = document.querySelector(".hb-nothing");
  if (passed.length && nothing) {
    nothing.textContent = passed.length + " more have passed their limits since this page was built: the list is on top.";
  }
  var top = document.querySelector("h1");
  if (passed.length && top) {
    var box = document.createElement("div");
    box.className = "hb-warn hb-aged";
    box.setAttribute("role", "note");
    var words = document.createElement("p");
    var strong = document.createElement("strong");
    strong.textContent = "Out of date since this page was built: check before you rely on it.";
    words.appendChild(strong);
    box.appendChild(words);
    var list = document.createElement("ul");
    passed.forEach(function (line) {
      var item = document.createElement("li");
      Array.prototype.forEach.call(line.childNodes, function (part) { item.appendChild(part.cloneNode(true)); });
      list.appendChild(item);
    });
    box.appendChild(list);
    top.parentNode.insertBefore(box, top.nextSibling);
  }

  /* Bottles with film counted on this phone, that the build may not know of: count.js keeps it. */
  Array.prototype.forEach.call(document.querySelectorAll('main a[href*="bottles/"]'), function (link) {
    var id = /bottles\/([^/]+?)(?:\/|\.html|$)/.exec(link.getAttribute("href")), kept = null;
    try { kept = id && localStorage.getItem("handbook.film." + id[1]); } catch (refused) { return; }
    if (!kept || kept === "[]") { return; }
    var note = document.createElement("b");
    note.textContent = " (film counted on this phone: see its page)";
    link.parentNode.insertBefore(note, link.nextSibling);
  });

  var count = document.querySelector(".hb-count");
  if (count) {
    var more = 0;
    count.getAttribute("data-untils").split(" ").forEach(function (entry) {
      var parts = entry.split("x");
      if (parts[0] && parts[0] < today) { more += Number(parts[1]); }
    });
    if (more) {
      count.querySelector("span").textContent = String(more);
      count.hidden = false;
    }
  }
})();
