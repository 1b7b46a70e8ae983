/* The frame's menu and search are opened by labels, which no key reaches: they become buttons for keys. */
(function () {
  "use strict";
  var NAMES = { __drawer: "Menu", __search: "Search" };
  Object.keys(NAMES).forEach(function (id) {
    var label = document.querySelector("label.md-header__button[for=" + id + "]"), box = document.getElementById(id);
    if (!label || !box) { return; }
    var tell = function () { label.setAttribute("aria-expanded", String(box.checked)); };
    label.tabIndex = 0;
    label.setAttribute("role", "button");
    label.setAttribute("aria-label", NAMES[id]);
    label.addEventListener("keydown", function (event) {
      /* The frame itself knows the Enter key. */
      if (event.key === " ") { event.preventDefault(); label.click(); }
    });
    box.addEventListener("change", tell);
    tell();
  });
  var drawer = document.getElementById("__drawer");
  document.addEventListener("keydown", function (event) {
    if (event.key !== "Escape" || !drawer || !drawer.checked) { return; }
    drawer.click();
    document.querySelector("label.md-header__button[for=__drawer]").focus();
  });
})();
