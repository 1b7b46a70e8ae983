/* Bench sheet: ticks that stay until they are cleared on purpose, any other volume, and a screen that stays awake. */
(function () {
  "use strict";
  var sheet = document.querySelector(".bs");
  var data = JSON.parse(sheet.getAttribute("data-list"));
  var KEY = "handbook.bench." + data.formula + ".";
  var MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
  var kept = {}, cleared = {}, storing = true;

  function stored(name) {
    if (name in kept) { return kept[name]; }
    kept[name] = hb.kept(KEY + name);
    storing = storing && kept[name] !== undefined;
    return kept[name];
  }
  function store(name, value) {
    kept[name] = value;
    storing = hb.keep(KEY + name, value) && storing;
  }
  function each(where, what, run) { Array.prototype.forEach.call(where.querySelectorAll(what), run); }

  /* Ticks: a row is known by its own words, so a figure that has changed since is not ticked any more. */
  function words(row) { return row.textContent.replace(/\s+/g, " ").trim(); }
  function volumeOf(section) { return section.getAttribute("data-volume"); }
  function ticks(section) {
    return hb.parsed(stored(volumeOf(section))) || { at: 0, rows: [] };
  }
  function day(at) { return at.getDate() + " " + MONTHS[at.getMonth()] + " " + at.getFullYear(); }
  function paint() {
    each(sheet, ".bs-batch", function (section) {
      var ticked = ticks(section), done = [];
      each(section, ".bs-row", function (row) {
        var on = ticked.rows.indexOf(words(row)) >= 0;
        row.setAttribute("aria-checked", String(on));
        /* What may be weighed instead of the row above is no row more to tick. */
        if (row.hasAttribute("data-or") && done.length) { on = done.pop() || on; }
        done.push(on);
      });
      var all = done.length, count = done.filter(Boolean).length;
      var said = section.querySelector(".bs-said"), at = new Date(ticked.at), today = day(new Date());
      said.textContent = count + " of " + all + " ticked" + (count ? ", last on " + day(at) : "") +
        (count && day(at) !== today ? ". Ticks of another day: clear them before a new batch" : "") +
        (storing ? "" : ". This browser keeps nothing: they are lost when the page is left");
      section.querySelector(".bs-stale").hidden = !(count && day(at) !== today);
      section.querySelector(".bs-clear").disabled = !ticked.rows.length;
      section.querySelector(".bs-back").hidden = Boolean(ticked.rows.length) || !cleared[volumeOf(section)];
    });
  }
  function turn(row) {
    var section = row.closest(".bs-batch"), ticked = ticks(section), word = words(row);
    var shown = Array.prototype.map.call(section.querySelectorAll(".bs-row"), words);
    var rows = ticked.rows.filter(function (one) { return one !== word && shown.indexOf(one) >= 0; });
    if (ticked.rows.indexOf(word) < 0) { rows.push(word); }
    store(volumeOf(section), JSON.stringify({ at: Date.now(), rows: rows }));
    cleared[volumeOf(section)] = null;
    paint();
  }
  function clearing(section) {
    var button = hb.asking("Clear the ticks", "Tap again to clear", function () {
      cleared[volumeOf(section)] = stored(volumeOf(section));
      store(volumeOf(section), null);
      paint();
    }, function () { return true; }, "bs-clear");
    button.addEventListener("blur", button.calm);
    return button;
  }
  /* Until the next tick or until the page is left. */
  function bringingBack(section) {
    return hb.button("Bring the ticks back", function () {
      store(volumeOf(section), cleared[volumeOf(section)]);
      paint();
    }, "bs-back");
  }
  function printing(section) {
    return hb.button("Print this size", function () {
      sheet.setAttribute("data-print", "");
      section.classList.add("bs-printed");
      window.print();
    }, "bs-print");
  }
  window.addEventListener("afterprint", function () {
    sheet.removeAttribute("data-print");
    each(sheet, ".bs-printed", function (section) { section.classList.remove("bs-printed"); });
  });
  function ready(section) {
    each(section, ".bs-row", function (row) {
      row.setAttribute("role", "checkbox");
      row.tabIndex = 0;
    });
    var stale = hb.make("p", "The ticks are of another day: clear them below before a new batch.", "bs-care bs-stale");
    section.insertBefore(stale, section.querySelector("h2").nextSibling);
    var foot = hb.make("div", "", "bs-foot");
    hb.add(foot, "p", "", "bs-said").setAttribute("role", "status");
    [clearing(section), bringingBack(section), printing(section)].forEach(function (one) { foot.appendChild(one); });
    section.appendChild(foot);
  }
  sheet.addEventListener("click", function (event) {
    var row = event.target.closest(".bs-row");
    if (row) { turn(row); }
  });
  sheet.addEventListener("keydown", function (event) {
    if ((event.key === " " || event.key === "Enter") && event.target.classList.contains("bs-row")) {
      event.preventDefault();
      turn(event.target);
    }
  });

  /* Another volume: a copy of the first list, its figures put in anew. */
  var D = window.hbDecimal, LEAST = "10", MOST = "50000", ONE = D && D.of("1");
  /* From such a volume on, steps of so much, in mL. */
  var STEPS = [["0", "10"], ["1000", "50"], ["5000", "250"]];
  function within(value) { return D.compare(D.of(value), D.of(LEAST)) >= 0 && D.compare(D.of(value), D.of(MOST)) <= 0; }
  function asked(written) {
    var found = /^(\d{1,5})(?:[.,](\d{1,3}))?\s*(ml|l)?$/i.exec(written.trim());
    if (!found) { return null; }
    var whole = found[1], part = found[2] || "";
    /* Litres: the point goes three places to the right. */
    if (/^l$/i.test(found[3] || "")) { whole += part.padEnd(3, "0"); part = ""; }
    var value = D.short(D.of(whole + "." + part));
    return within(value) ? value : null;
  }
  /* The next multiple of a step above a volume, or the next below it. */
  function stepped(volume, way) {
    var up = way === "up", value = D.of(volume);
    var step = D.of(STEPS.filter(function (pair) { return D.compare(value, D.of(pair[0])) >= (up ? 0 : 1); }).pop()[1]);
    var steps = D.quantise(D.divide(value, step), 0, up ? "floor" : "ceiling");
    var next = D.short(D.multiply(up ? D.add(steps, ONE) : D.subtract(steps, ONE), step));
    return within(next) ? next : up ? MOST : LEAST;
  }
  function amount(where, it) {
    where.querySelector("strong").textContent = it.figure;
    where.querySelector("small").textContent = it.tool;
  }
  function show(section, volume, title) {
    var list = hbRescale(data, volume);
    section.setAttribute("data-volume", volume);
    section.querySelector("[data-says=volume]").textContent = list.volume;
    each(section, "[data-says=start]", function (where) { where.textContent = list.start; });
    each(section, "[data-says=make-up]", function (where) { where.textContent = title.replace("{}", list.volume); });
    list.rows.forEach(function (it, number) {
      var row = section.querySelector("[data-row='" + number + "']");
      amount(row.querySelector("[data-which=asked]"), it.asked);
      if (it.jar) { amount(row.querySelector("[data-which=jar]"), it.jar); }
      var advice = section.querySelector("[data-advice='" + number + "']");
      if (!advice) {
        advice = hb.make("p", "", "bs-care bs-advice");
        advice.setAttribute("data-advice", number);
        row.parentNode.insertBefore(advice, row.nextSibling);
      }
      advice.textContent = it.advice;
      advice.hidden = !it.advice;
    });
  }
  function another(first) {
    var section = first.cloneNode(true), was = first.querySelector("[data-says=volume]").textContent;
    var makeUp = section.querySelector("[data-says=make-up]");
    var title = makeUp ? makeUp.textContent.replace(was, "{}") : "";
    section.id = "another";
    var box = hb.make("div", "", "bs-other"), label = hb.make("label", "Another volume, mL");
    var less = key("−", "down"), field = hb.make("input", "", "bs-volume"), more = key("+", "up");
    var wrong = hb.make("p", "Write a volume from 10 mL to 50 L: 730, or 1.5 L.", "bs-care bs-wrong");
    wrong.setAttribute("role", "alert");
    less.setAttribute("aria-label", "Less");
    more.setAttribute("aria-label", "More");
    field.type = "text";
    field.id = "bs-volume";
    field.inputMode = "decimal";
    field.autocomplete = "off";
    field.maxLength = 12;
    label.htmlFor = field.id;
    [label, less, field, more].forEach(function (one) { box.appendChild(one); });
    section.insertBefore(box, section.firstChild);
    section.insertBefore(wrong, box.nextSibling);

    function read(keep) {
      var volume = asked(field.value);
      section.classList.toggle("bs-no-list", !volume);
      wrong.hidden = !!volume;
      if (!volume) { return; }
      show(section, volume, title);
      if (keep) { store("volume", volume); }
      paint();
    }
    field.value = asked(stored("volume") || "") || "750";
    field.addEventListener("input", function () { read(true); });
    function key(words, way) {
      return hb.button(words, function () {
        field.value = stepped(asked(field.value) || "500", way);
        read(true);
      }, "bs-key");
    }
    var jump = hb.make("a", "Another");
    jump.href = "#another";
    return { section: section, jump: jump, read: read };
  }

  var batches = sheet.querySelectorAll(".bs-batch");
  var other = window.hbRescale ? another(batches[0]) : null;
  if (other) {
    batches[batches.length - 1].insertAdjacentElement("afterend", other.section);
    sheet.querySelector(".bs-jump").appendChild(other.jump);
  }
  each(sheet, ".bs-batch", ready);
  if (other) { other.read(false); }
  paint();

  /* Awake: needs a tap, and asks again when the page comes back to the front. */
  function awake() {
    var button = hb.button("Keep awake", turned), lock = null, wanted = false;
    function say() {
      button.textContent = lock ? "Stays awake" : "Keep awake";
      button.setAttribute("aria-pressed", String(!!lock));
    }
    function ask() {
      navigator.wakeLock.request("screen").then(function (got) {
        if (!wanted) { got.release(); return; }
        lock = got;
        lock.addEventListener("release", function () { lock = null; say(); });
        say();
      }, function () {
        wanted = false;
        say();
        button.textContent = "Refused";
      });
    }
    function turned() {
      wanted = !wanted;
      if (wanted) { ask(); } else if (lock) { lock.release(); }
    }
    document.addEventListener("visibilitychange", function () {
      if (wanted && !lock && document.visibilityState === "visible") { ask(); }
    });
    if (!navigator.wakeLock) {
      button.textContent = "No keep-awake here";
      button.disabled = true;
    } else { say(); }
    return button;
  }
  document.addEventListener("DOMContentLoaded", function () {
    var bar = document.querySelector(".hb-screen-bar");
    if (!bar) { return; }
    bar.appendChild(awake());
    /* However far down: what to do after an accident. */
    var help = sheet.querySelector(".bs-ways a[href*=accident]").cloneNode(true);
    help.className = "hb-screen-go";
    bar.appendChild(help);
  });
})();
