/* Runs a process's printed schedule: marks the line that is due, with the time left in it, and announces the next.
   Time is told by the clock, from the moment a line began, so that it stays true through sleep and reload. */
(function () {
  "use strict";
  var process = hb.data("hb-schedule");
  if (!process) { return; }
  var lines = process.steps.map(function (step) {
    return { step: step, item: document.getElementById("step-" + step.number) };
  }).filter(function (line) { return line.item; });
  if (!lines.length) { return; }
  /* A bottle's time is of the day of the build: it is not offered when its day is over, or when film has been counted
     through it on this phone since. */
  var stale = function (one) {
    if (!one.bottle) { return ""; }
    if (one.old || (one.until && one.until < hb.day())) { return one.expired; }
    return hb.filmCounted(one.bottle) ? "film was counted through it on this phone: its time is on its page" : "";
  };
  lines.forEach(function (line) {
    var said = {}, rests = {};
    line.step.choices = line.step.choices.filter(function (one) {
      var why = stale(one);
      if (why || one.doubt) { said["Bottle " + one.bottle + ": " + (why || one.doubt) + "."] = true; }
      if (!why && one.counted) { rests["Bottle " + one.bottle + ": " + one.counted + "."] = true; }
      return !why;
    });
    line.rests = Object.keys(rests);
    line.doubts = Object.keys(said);
  });
  var KEY = "handbook.run." + process.id, signal = hbSignal;
  var AHEAD = 15, STEP = 15;

  /* chosen: for a line its choice by the label, and more or less by the buttons; out: lines left out. Both are for one
     run and for the day on which they were made. */
  var today = function () { return new Date().toDateString(); };
  var fresh = function () { return { at: -1, since: 0, held: null, chosen: {}, more: {}, out: {}, day: today() }; };
  var state = hb.parsed(hb.kept(KEY)) || fresh();
  var running = function () { return state.at >= 0 && state.at < lines.length; };
  if (!state.chosen || (!running() && state.day !== today())) { state = fresh(); }
  var keep = function () {
    state.day = today();
    hb.keep(KEY, JSON.stringify(state));
  };

  var clock = function (seconds) { return hb.clock(Math.max(0, Math.round(seconds))); };
  var button = function (parent, text, does) { return parent.appendChild(hb.button(text, does)); };

  /* The choice that counts for a line: as tapped, else the last one, the longer end of what is printed. */
  var choice = function (index) {
    var step = lines[index].step;
    var tapped = step.choices.filter(function (one) { return one.label === state.chosen[step.number]; })[0];
    return tapped || step.choices[step.choices.length - 1];
  };
  /* Seconds that a line takes; 0 where it ends by looking, not by time. */
  var takes = function (index) {
    var found = choice(index);
    return found ? found.seconds + (state.more[lines[index].step.number] || 0) : 0;
  };
  var after = function (index) {
    for (var next = index + 1; next < lines.length; next += 1) {
      if (!state.out[lines[next].step.number]) { return next; }
    }
    return lines.length;
  };
  var before = function (index) {
    for (var last = index - 1; last >= 0; last -= 1) {
      if (!state.out[lines[last].step.number]) { return last; }
    }
    return index;
  };
  var gone = function () { return (state.held !== null ? state.held : Date.now() - state.since) / 1000; };

  var stayAwake = function () { if (running() && state.held === null) { signal.awake(); } else { signal.rest(); } };
  document.addEventListener("visibilitychange", function () {
    if (document.visibilityState === "visible") { stayAwake(); show(); }
  });

  /* The bar under the thumb. */
  var bar = hb.add(document.body, "div", "", "hb-run");
  bar.hidden = true;
  bar.setAttribute("role", "region");
  bar.setAttribute("aria-label", "Schedule clock");
  if (process.beware) { hb.add(bar, "p", process.beware, "hb-run-beware"); }
  var said = hb.add(bar, "p");
  said.setAttribute("aria-live", "polite");
  var rest = hb.add(bar, "p", "", "hb-run-left");
  var row = hb.add(bar, "p", "", "hb-run-buttons");
  var start = button(row, "Start", function () {
    signal.ready();
    if (!running()) {
      state.at = after(-1);
      state.since = Date.now();
      state.held = null;
    } else if (state.held !== null) {
      state.since = Date.now() - state.held;
      state.held = null;
    } else {
      state.held = Date.now() - state.since;
    }
    told = "";
    keep();
    stayAwake();
    show();
    reveal();
  });
  var back = row.appendChild(hb.asking("Back", "Tap again", function () {
    if (gone() < 3) { state.at = before(state.at); }
    begin(state.at);
  }, function () { return gone() > 10; }));
  var on = button(row, "Next line", function () { begin(after(state.at)); });
  var stop = row.appendChild(hb.asking("End", "Tap again", function () {
    state = fresh();
    keep();
    stayAwake();
    show();
  }, function () { return true; }));
  /* Room for the bar. Not by a class of the root, and no :has(): either styles every element of the page anew. */
  hb.add(document.body, "div", "", "hb-run-room");
  document.documentElement.style.scrollPaddingBottom = "14.5rem";
  var upward = document.querySelector(".md-top");
  if (upward) { upward.remove(); }

  /* What was chosen is over with its run. */
  var ended = function () {
    if (!running()) { state.chosen = {}; state.more = {}; state.out = {}; stayAwake(); }
  };
  var begin = function (index) {
    state.at = index;
    state.since = Date.now();
    if (state.held !== null) { state.held = 0; }
    told = "";
    ended();
    keep();
    show();
    reveal();
  };
  var reveal = function () {
    if (running()) {
      var quiet = window.matchMedia && window.matchMedia("(prefers-reduced-motion: reduce)").matches;
      lines[state.at].item.scrollIntoView({ block: "start", behavior: quiet ? "auto" : "smooth" });
    }
  };

  /* What a line gets: the time left, choices among the ends of a printed span or the time of a bottle, the film's own
     time as its maker or a test gives it, and whether it may be left out. */
  var choose = function (line, one) {
    var made = button(line.choose, one.label, function () {
      state.chosen[line.step.number] = one.label;
      delete state.more[line.step.number];
      keep();
      show();
    });
    line.ends.push({ label: one.label, made: made });
  };
  var lengthen = function (line, index, word, seconds) {
    var made = button(line.choose, (seconds < 0 ? "−" : "+") + clock(STEP), function () {
      state.more[line.step.number] = Math.max(STEP, takes(index) + seconds) - choice(index).seconds;
      keep();
      show();
    });
    made.setAttribute("aria-label", word + ": " + line.step.name);
  };
  var leaveOut = function (line) {
    line.leave = button(line.choose, "", function () {
      var number = line.step.number;
      if (state.out[number]) { delete state.out[number]; } else { state.out[number] = true; }
      keep();
      show();
    });
  };
  var furnish = function (line, index) {
    var step = line.step;
    line.ends = [];
    line.left = hb.add(line.item, "p", "", "hb-left");
    line.item.insertBefore(line.left, line.item.children[1] || null);
    line.doubts.forEach(function (words) { hb.add(line.item, "p", words, "hb-warn"); });
    line.rests.forEach(function (words) { hb.add(line.item, "p", words, "hb-small"); });
    if (!step.choices.length && !step.may_leave_out) { return; }
    line.choose = hb.add(line.item, "p", "", "hb-jump hb-choose-time");
    if (step.choices.length > 1) { step.choices.forEach(function (one) { choose(line, one); }); }
    if (step.choices.length) {
      lengthen(line, index, "Shorter", -STEP);
      lengthen(line, index, "Longer", STEP);
      line.takes = hb.add(line.choose, "b", "");
    }
    if (step.may_leave_out) { leaveOut(line); }
  };

  var told = "";
  var announce = function (key, words, times) {
    if (told === key) { return; }
    told = key;
    said.textContent = words;
    if (times) { signal.give(times); }
  };
  var nextWords = function (index) {
    var next = after(index);
    if (next >= lines.length) { return "then the schedule is done"; }
    var step = lines[next].step;
    return "next: " + step.name + (step.temperature ? ", " + step.temperature : "");
  };

  var omitted = function () {
    var names = lines.filter(function (line) { return state.out[line.step.number]; }).map(function (line) {
      return line.step.name;
    });
    return names.length ? " Left out: " + names.join(", ") + "." : "";
  };

  var say = function (element, words) { if (element.textContent !== words) { element.textContent = words; } };
  var hide = function (element, whether) { if (element.hidden !== whether) { element.hidden = whether; } };
  var mark = function (line, index) {
    var now = running() && index === state.at, out = !!state.out[line.step.number], found = choice(index);
    line.item.classList.toggle("hb-now", now);
    line.item.classList.toggle("hb-out", out);
    if (now) { line.item.setAttribute("aria-current", "step"); } else { line.item.removeAttribute("aria-current"); }
    say(line.left, !now ? "" : takes(index) ? clock(takes(index) - gone()) + " left"
      : clock(gone()) + " gone; tap Next line when it is done");
    line.ends.forEach(function (end) { end.made.setAttribute("aria-pressed", String(end.label === found.label)); });
    if (line.takes) { say(line.takes, "Runs for " + clock(takes(index)) + "."); }
    if (line.leave) { say(line.leave, out ? "Take this line in" : "Leave this line out"); }
  };

  var show = function () {
    var was = state.at;
    while (running() && state.held === null && takes(state.at) && gone() >= takes(state.at)) {
      state.since += takes(state.at) * 1000;
      state.at = after(state.at);
      ended();
      keep();
    }
    lines.forEach(mark);
    say(rest, running() ? lines[state.at].left.textContent : "");
    say(start, !running() ? "Start" : state.held !== null ? "Resume" : "Pause");
    hide(rest, !rest.textContent);
    [back, on, stop].forEach(function (made) { hide(made, !running()); });
    if (!running()) {
      if (state.at >= lines.length) { announce("done", "Done. All lines of the schedule have run.", 1); }
      else { announce("idle" + omitted(), process.idle + omitted(), 0); }
      return;
    }
    if (state.at !== was) { reveal(); }
    var name = lines[state.at].step.name;
    var left = takes(state.at) - gone();
    if (state.held !== null) { announce("held" + state.at, "Paused in " + name + ".", 0); }
    else if (takes(state.at) && left <= AHEAD && takes(state.at) > AHEAD) {
      announce("ahead" + state.at, "Soon, " + nextWords(state.at) + ".", 2);
    } else if (told !== "ahead" + state.at) {
      announce("now" + state.at, "Now: " + name + "; " + nextWords(state.at) + ".", told && told.indexOf("idle") !== 0 ? 1 : 0);
    }
  };

  var open = function () {
    bar.hidden = false;
    show();
    reveal();
    window.setInterval(show, 250);
  };
  /* Where a bath does not work no bar stands over the page: it comes when it is asked for, and says so itself. */
  var ready = function () {
    if (!process.beware || running()) { open(); return; }
    var list = lines[0].item.parentNode, offer = hb.make("div", "", "hb-warn");
    hb.add(offer, "p", process.beware);
    button(hb.add(offer, "p", "", "hb-jump"), "Show the clock all the same", function () { offer.remove(); open(); });
    list.parentNode.insertBefore(offer, list);
  };
  /* A line at a time, that the page answers in between: not by a timer, which a phone may hold back. */
  var turn = new MessageChannel(), bare = lines.slice();
  turn.port1.onmessage = function () {
    var line = bare.shift();
    if (!line) { turn.port1.close(); ready(); return; }
    furnish(line, lines.indexOf(line));
    turn.port2.postMessage(0);
  };
  turn.port2.postMessage(0);
})();
