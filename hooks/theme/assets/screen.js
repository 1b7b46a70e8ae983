/* Colour of the screen: light, dark, darkroom red or amber. Runs in the head, before anything is drawn; the choice is
   kept, a dimming is not. */
(function () {
  "use strict";
  var SCREENS = ["light", "dark", "red", "amber"];
  var MATERIAL = { light: "default", dark: "slate", red: "darkroom", amber: "darkroom" };
  var BARS = { light: "#27343b", dark: "#151d21", red: "#000000", amber: "#000000" };
  var DIMMEST = 3, KEY = "handbook.screen";
  var root = document.documentElement, about = document.currentScript.getAttribute("data-about");
  var system = matchMedia("(prefers-color-scheme: dark)"), chosen = null, dim = 0;
  try { chosen = localStorage.getItem(KEY); } catch (refused) { chosen = null; }
  if (SCREENS.indexOf(chosen) < 0) { chosen = null; }

  function screen() { return chosen || (system.matches ? "dark" : "light"); }
  function dark() { return screen() === "red" || screen() === "amber"; }
  function apply() {
    root.setAttribute("data-hb-screen", screen());
    root.setAttribute("data-hb-dim", dark() ? String(dim) : "0");
    if (document.body) { document.body.setAttribute("data-md-color-scheme", MATERIAL[screen()]); }
    var colour = document.querySelector("meta[name=theme-color]");
    if (colour) { colour.content = BARS[screen()]; }
  }
  /* Material's own marks, set before there is a page: a class of the root that changes later styles every element anew. */
  root.classList.remove("no-js");
  root.classList.add("js", "js-focus-visible");
  apply();
  if (!document.body) {
    /* As soon as the body is there, and so before its first picture. */
    var watch = new MutationObserver(function () {
      if (document.body) { watch.disconnect(); apply(); }
    });
    watch.observe(root, { childList: true });
  }
  window.addEventListener("storage", function (event) {
    if (event.key === KEY) { chosen = SCREENS.indexOf(event.newValue) < 0 ? null : event.newValue; apply(); tell(); }
  });
  if (system.addEventListener) { system.addEventListener("change", function () { apply(); tell(); }); }

  var tell = function () {};
  function button(words, press) {
    var made = document.createElement("button");
    made.type = "button";
    made.textContent = words;
    made.addEventListener("click", press);
    return made;
  }
  function build() {
    var bar = document.createElement("div"), panel = document.createElement("div"), row = document.createElement("div");
    bar.className = "hb-screen-bar";
    bar.setAttribute("role", "region");
    bar.setAttribute("aria-label", "Screen");
    panel.className = "hb-screen-panel";
    row.className = "hb-screen-row";
    panel.id = "hb-screen-panel";
    panel.hidden = true;
    row.setAttribute("role", "group");
    row.setAttribute("aria-label", "Colour of the screen");
    var open = button("Screen", function () { panel.hidden = !panel.hidden; tell(); });
    open.setAttribute("aria-controls", panel.id);
    var choices = SCREENS.map(function (name) {
      var one = button(name.charAt(0).toUpperCase() + name.slice(1), function () {
        chosen = name;
        dim = 0;
        try { localStorage.setItem(KEY, name); } catch (refused) { /* It holds for this page then. */ }
        apply();
        tell();
      });
      row.appendChild(one);
      return one;
    });
    var dimmer = button("", function () { dim = (dim + 1) % (DIMMEST + 1); apply(); tell(); });
    var note = document.createElement("p"), link = document.createElement("a");
    note.textContent = "No screen is safe for film or paper. The keyboard and the browser's own bars stay lit. ";
    link.href = about;
    link.textContent = "About these screens";
    note.appendChild(link);
    panel.appendChild(note);
    panel.appendChild(dimmer);
    panel.appendChild(row);
    bar.appendChild(panel);
    bar.appendChild(open);
    tell = function () {
      open.setAttribute("aria-expanded", String(!panel.hidden));
      choices.forEach(function (one, at) { one.setAttribute("aria-pressed", String(SCREENS[at] === screen())); });
      dimmer.hidden = !dark();
      dimmer.textContent = dim ? "Dimmed " + dim + " of " + DIMMEST : "Dim";
    };
    tell();
    document.body.appendChild(bar);
  }
  document.addEventListener("DOMContentLoaded", build);
})();
