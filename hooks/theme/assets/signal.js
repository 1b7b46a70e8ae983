/* Cues for the clock besides the words on the page, where the phone has them: sound, vibration, a screen that stays lit. */
var hbSignal = (function () {
  "use strict";
  var sound = null, lock = null;

  /* A browser lets sound begin at a tap only. */
  function ready() {
    var Made = window.AudioContext || window.webkitAudioContext;
    if (Made && !sound) { sound = new Made(); }
    if (sound && sound.state === "suspended") { sound.resume(); }
  }
  function tone(start, pitch, seconds) {
    var made = sound.createOscillator(), loud = sound.createGain();
    made.frequency.value = pitch;
    loud.gain.value = 0.2;
    made.connect(loud);
    loud.connect(sound.destination);
    made.start(start);
    made.stop(start + seconds);
  }
  /* Once and long: a line begins. Twice and short: one is about to. */
  function give(times) {
    if (navigator.vibrate) { navigator.vibrate(times === 1 ? [700] : [150, 120, 150]); }
    if (!sound) { return; }
    for (var i = 0; i < times; i += 1) {
      tone(sound.currentTime + i * 0.3, times === 1 ? 660 : 880, times === 1 ? 0.8 : 0.15);
    }
  }
  function awake() {
    if (!navigator.wakeLock || lock) { return; }
    var mine = lock = navigator.wakeLock.request("screen");
    /* A lock that ends after another was asked for does not take that one's place. */
    var over = function () { if (lock === mine) { lock = null; } };
    mine.then(function (got) { got.addEventListener("release", over); }, over);
  }
  function rest() {
    if (lock) { lock.then(function (got) { got.release(); }, function () { /* there is none */ }); }
    lock = null;
  }
  return { ready: ready, give: give, awake: awake, rest: rest };
})();
