/* The frame's menu and search are opened by labels, which no key reaches: with scripts they are buttons. Their for stays,
   as the frame's style goes by it. */
(function () {
  "use strict";
  var field = document.querySelector(".md-search__input"), list = document.querySelector(".md-search-result__list");
  /* The frame gives the field the focus when a label is tapped, not always when its box is ticked by a script. */
  var focus = function () { if (field) { field.focus(); } };
  /* What leads by name to a page comes when the field is first used, so that no first visit waits for it. */
  var own = document.currentScript.src, asked = false;
  var load = function () {
    if (asked) { return; }
    asked = true;
    ["names", "like", "find"].forEach(function (name) {
      var script = document.createElement("script");
      script.src = own.replace(/keys(?=\.js[^/]*$)/, name);
      script.async = false;
      document.head.appendChild(script);
    });
  };
  if (field && list) {
    ["focus", "input"].forEach(function (what) { field.addEventListener(what, load); });
    new MutationObserver(load).observe(list, { childList: true });
  }
  var NAMES = { __drawer: "Menu", __search: "Search" };
  Object.keys(NAMES).forEach(function (id) {
    var label = document.querySelector("label.md-header__button[for=" + id + "]"), box = document.getElementById(id);
    if (!label || !box) { return; }
    var button = hb.button("", function () {
      box.click();
      if (id === "__search") { focus(); }
    }, label.className);
    button.setAttribute("for", id);
    button.setAttribute("aria-label", NAMES[id]);
    while (label.firstChild) { button.appendChild(label.firstChild); }
    var tell = function () { button.setAttribute("aria-expanded", String(box.checked)); };
    box.addEventListener("change", tell);
    label.parentNode.replaceChild(button, label);
    tell();
  });
  /* The drawer's label of this page's own contents: the frame answers Enter on it, but gives it no place for the focus. */
  document.querySelectorAll("label.md-nav__link[for=__toc]").forEach(function (label) {
    label.tabIndex = 0;
  });
  var drawer = document.getElementById("__drawer");
  document.addEventListener("keydown", function (event) {
    if (event.key !== "Escape" || !drawer || !drawer.checked) { return; }
    drawer.click();
    document.querySelector("button[for=__drawer]").focus();
  });
})();
