/* Runs a process's printed schedule: marks the line that is due, with the time left in it, and announces the next.
   Time is told by the clock, from the moment a line began, so that it stays true through sleep and reload. */
(function () {
  "use strict";
  var block = document.getElementById("hb-schedule");
  if (!block) { return; }
  var process = JSON.parse(block.textContent);
  var lines = process.steps.map(function (step) {
    return { step: step, item: document.getElementById("step-" + step.number) };
  }).filter(function (line) { return line.item; });
  if (!lines.length) { return; }
  var KEY = "handbook.run." + process.id;
  var AHEAD = 15, STEP = 15;

  /* chosen: for a line its choice by the label, and more or less by the buttons; out: lines left out. Both are for one
     run and for the day on which they were made. */
  var today = function () { return new Date().toDateString(); };
  var fresh = function () { return { at: -1, since: 0, held: null, chosen: {}, more: {}, out: {}, day: today() }; };
  var state;
  try { state = JSON.parse(localStorage.getItem(KEY)) || fresh(); } catch (error) { state = fresh(); }
  if (!state.chosen || (state.at < 0 && state.day !== today())) { state = fresh(); }
  var keep = function () {
    state.day = today();
    try { localStorage.setItem(KEY, JSON.stringify(state)); } catch (error) { /* not kept */ }
  };

  var clock = function (seconds) {
    var all = Math.max(0, Math.round(seconds)), rest = all % 60;
    return Math.floor(all / 60) + ":" + (rest < 10 ? "0" : "") + rest;
  };
  var add = function (parent, tag, text, name) {
    var made = document.createElement(tag);
    if (text) { made.textContent = text; }
    if (name) { made.className = name; }
    parent.appendChild(made);
    return made;
  };
  var button = function (parent, text, does) {
    var made = add(parent, "button", text);
    made.type = "button";
    made.addEventListener("click", does);
    return made;
  };

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
  var running = function () { return state.at >= 0 && state.at < lines.length; };
  var gone = function () { return (state.held !== null ? state.held : Date.now() - state.since) / 1000; };

  /* Sound and vibration; the words beside them are the cue that always works. */
  var sound = null;
  var wake = function () {
    var Made = window.AudioContext || window.webkitAudioContext;
    if (Made && !sound) { sound = new Made(); }
    if (sound && sound.state === "suspended") { sound.resume(); }
  };
  var signal = function (times) {
    if (navigator.vibrate) { navigator.vibrate(times === 1 ? [700] : [150, 120, 150]); }
    if (!sound) { return; }
    for (var i = 0; i < times; i += 1) {
      var tone = sound.createOscillator(), loud = sound.createGain(), start = sound.currentTime + i * 0.3;
      tone.frequency.value = times === 1 ? 660 : 880;
      loud.gain.value = 0.2;
      tone.connect(loud);
      loud.connect(sound.destination);
      tone.start(start);
      tone.stop(start + (times === 1 ? 0.8 : 0.15));
    }
  };
  var lock = null;
  var stayAwake = function () {
    if (!navigator.wakeLock || !running() || state.held !== null) { return; }
    navigator.wakeLock.request("screen").then(function (got) { lock = got; }, function () { lock = null; });
  };
  document.addEventListener("visibilitychange", function () {
    if (document.visibilityState === "visible") { stayAwake(); show(); }
  });

  /* The bar under the thumb. */
  var bar = add(document.body, "div", "", "hb-run");
  bar.setAttribute("role", "region");
  bar.setAttribute("aria-label", "Schedule clock");
  var said = add(bar, "p");
  said.setAttribute("aria-live", "polite");
  var rest = add(bar, "p", "", "hb-run-left");
  var row = add(bar, "p", "", "hb-run-buttons");
  var start = button(row, "Start", function () {
    wake();
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
  /* What would be lost is given up by two taps: the first one only asks. */
  var asking = function (label, loses, act) {
    var sure = 0;
    var calm = function () { window.clearTimeout(sure); sure = 0; made.textContent = label; };
    var made = button(row, label, function () {
      if (loses() && !sure) {
        made.textContent = "Tap again";
        sure = window.setTimeout(calm, 5000);
        return;
      }
      calm();
      act();
    });
    return made;
  };
  var back = asking("Back", function () { return gone() > 10; }, function () {
    if (gone() < 3) { state.at = before(state.at); }
    begin(state.at);
  });
  var on = button(row, "Next line", function () { begin(after(state.at)); });
  var stop = asking("End", function () { return true; }, function () {
    state = fresh();
    if (lock) { lock.release(); lock = null; }
    keep();
    show();
  });
  document.body.classList.add("hb-has-run");

  var begin = function (index) {
    state.at = index;
    state.since = Date.now();
    if (state.held !== null) { state.held = 0; }
    told = "";
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

  /* Choices on the lines: the ends of a printed span, the time of a bottle; lines that may be left out. */
  lines.forEach(function (line, index) {
    var step = line.step;
    line.left = add(line.item, "p", "", "hb-left");
    line.item.insertBefore(line.left, line.item.children[1] || null);
    if (step.choices.length || step.may_leave_out) {
      line.choose = add(line.item, "p", "", "hb-jump hb-choose-time");
      step.choices.forEach(function (one) {
        if (step.choices.length < 2) { return; }
        var made = button(line.choose, one.label, function () {
          state.chosen[step.number] = one.label;
          delete state.more[step.number];
          keep();
          show();
        });
        made.setAttribute("data-label", one.label);
      });
      /* The film's own time, as its maker or a test gives it. */
      if (step.choices.length) {
        [["Shorter", -STEP], ["Longer", STEP]].forEach(function (way) {
          var made = button(line.choose, (way[1] < 0 ? "−" : "+") + clock(STEP), function () {
            state.more[step.number] = Math.max(STEP, takes(index) + way[1]) - choice(index).seconds;
            keep();
            show();
          });
          made.setAttribute("aria-label", way[0] + ": " + step.name);
        });
        line.takes = add(line.choose, "b", "");
      }
      if (step.may_leave_out) {
        line.leave = button(line.choose, "", function () {
          if (state.out[step.number]) { delete state.out[step.number]; } else { state.out[step.number] = true; }
          keep();
          show();
        });
      }
    }
  });

  var told = "";
  var announce = function (key, words, times) {
    if (told === key) { return; }
    told = key;
    said.textContent = words;
    if (times) { signal(times); }
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

  var show = function () {
    var was = state.at;
    while (running() && state.held === null && takes(state.at) && gone() >= takes(state.at)) {
      state.since += takes(state.at) * 1000;
      state.at = after(state.at);
      if (!running()) { state.chosen = {}; state.more = {}; state.out = {}; }
      keep();
    }
    lines.forEach(function (line, index) {
      var now = running() && index === state.at;
      line.item.classList.toggle("hb-now", now);
      line.item.classList.toggle("hb-out", !!state.out[line.step.number]);
      if (now) { line.item.setAttribute("aria-current", "step"); } else { line.item.removeAttribute("aria-current"); }
      line.left.textContent = "";
      if (now) {
        line.left.textContent = takes(index) ? clock(takes(index) - gone()) + " left"
          : clock(gone()) + " gone; tap Next line when it is done";
      }
      if (line.leave) { line.leave.textContent = state.out[line.step.number] ? "Take this line in" : "Leave this line out"; }
      if (line.choose) {
        Array.prototype.forEach.call(line.choose.querySelectorAll("[data-label]"), function (made) {
          made.setAttribute("aria-pressed", String(made.getAttribute("data-label") === choice(index).label));
        });
        if (line.takes) { line.takes.textContent = "Runs for " + clock(takes(index)) + "."; }
      }
    });
    rest.textContent = running() ? lines[state.at].left.textContent : "";
    rest.hidden = !rest.textContent;
    start.textContent = !running() ? "Start" : state.held !== null ? "Resume" : "Pause";
    back.hidden = on.hidden = stop.hidden = !running();
    if (!running()) {
      if (state.at >= lines.length) { announce("done", "Done. All lines of the schedule have run.", 1); }
      else { announce("idle" + omitted(), "Room light, tank shut: the clock runs from the first line." + omitted(), 0); }
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

  show();
  reveal();
  window.setInterval(show, 250);
})();
