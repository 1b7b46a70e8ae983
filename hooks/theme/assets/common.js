/* What several scripts share: the day, times, what this phone keeps, parts of a page. Runs in the head, before them all.
   screen.js does without it: no other file shall keep a darkroom's page from its red. */
var hb = (function () {
  "use strict";
  function two(number) { return (number < 10 ? "0" : "") + number; }

  return {
    /* The day on which a page is read, as 2026-11-25: the phone's, or the one that a demonstration states. The one place
       where today enters the scripts. What this phone did itself (ticks, a clock that runs) goes by its own clock. */
    day: function () {
      var stated = document.querySelector("meta[name=handbook-day]"), now = new Date();
      return stated ? stated.content : now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
    },
    /* Whole seconds as minutes and seconds: 3:05. */
    clock: function (seconds) { return Math.floor(seconds / 60) + ":" + two(seconds % 60); },

    /* The text kept on this phone: null where there is none, undefined where the phone refuses. */
    kept: function (key) {
      try { return localStorage.getItem(key); } catch (refused) { return undefined; }
    },
    /* Keeps a text, or with null takes it away; false where the phone refuses. */
    keep: function (key, text) {
      try {
        if (text === null) { localStorage.removeItem(key); } else { localStorage.setItem(key, text); }
        return true;
      } catch (refused) { return false; }
    },
    /* The value of a JSON text; null of none and of a broken one. */
    parsed: function (text) {
      try { return JSON.parse(text); } catch (broken) { return null; }
    },
    /* Where count.js keeps the film that it counts through a bottle, and whether there is any. */
    filmKey: function (bottle) { return "handbook.film." + bottle; },
    filmCounted: function (bottle) {
      var films = this.kept(this.filmKey(bottle));
      return Boolean(films) && films !== "[]";
    },

    /* What a page carries for its script; null where it is another page. */
    data: function (id) {
      var block = document.getElementById(id);
      return block && JSON.parse(block.textContent);
    },
    make: function (tag, words, name) {
      var made = document.createElement(tag);
      if (words) { made.textContent = words; }
      if (name) { made.className = name; }
      return made;
    },
    add: function (parent, tag, words, name) { return parent.appendChild(this.make(tag, words, name)); },
    button: function (words, press, name) {
      var made = this.make("button", words, name);
      made.type = "button";
      made.addEventListener("click", press);
      return made;
    },
    /* A button that acts at the second of two taps within five seconds: the first only asks, where something is lost. */
    asking: function (words, again, act, loses, name) {
      var timer = 0;
      function calm() {
        clearTimeout(timer);
        timer = 0;
        made.textContent = words;
        made.removeAttribute("data-sure");
      }
      var made = this.button(words, function () {
        if (!timer && loses()) {
          made.textContent = again;
          made.setAttribute("data-sure", "");
          timer = setTimeout(calm, 5000);
          return;
        }
        calm();
        act();
      }, name);
      made.calm = calm;
      return made;
    }
  };
})();
