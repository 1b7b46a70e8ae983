/* The day on which a page is read, as 2026-11-25: the phone's, or the one that a demonstration states. The one place where
   today enters the scripts. What this phone did itself (ticks, a clock that runs) goes by its own clock. */
(function () {
  "use strict";
  var stated = document.querySelector("meta[name=handbook-day]");
  var two = function (n) { return (n < 10 ? "0" : "") + n; };
  window.hbDay = function () {
    var now = new Date();
    return stated ? stated.content : now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  };
})();
