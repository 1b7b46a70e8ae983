/* The frame's menu and search are opened by labels, which no key reaches: with scripts they are buttons. Their for stays,
   as the frame's style goes by it. */
(function () {
  "use strict";
  var NAMES = { __drawer: "Menu", __search: "Search" };
  Object.keys(NAMES).forEach(function (id) {
    var label = document.querySelector("label.md-header__button[for=" + id + "]"), box = document.getElementById(id);
    if (!label || !box) { return; }
    var button = document.createElement("button");
    button.type = "button";
    button.className = label.className;
    button.setAttribute("for", id);
    button.setAttribute("aria-label", NAMES[id]);
    while (label.firstChild) { button.appendChild(label.firstChild); }
    var tell = function () { button.setAttribute("aria-expanded", String(box.checked)); };
    button.addEventListener("click", function () { box.click(); });
    box.addEventListener("change", tell);
    label.parentNode.replaceChild(button, label);
    tell();
  });
  var drawer = document.getElementById("__drawer");
  document.addEventListener("keydown", function (event) {
    if (event.key !== "Escape" || !drawer || !drawer.checked) { return; }
    drawer.click();
    document.querySelector("button[for=__drawer]").focus();
  });
})();
