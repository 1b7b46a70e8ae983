/* Has the handbook kept on this device once the page is there, and offers a newer build, which is taken on a tap. */
(function () {
  "use strict";
  var workers = navigator.serviceWorker;
  if (!workers || !("DecompressionStream" in window)) { return; }
  var root = new URL("../", document.currentScript.src);
  /* The first worker of all takes a page over without a reload. */
  var known = Boolean(workers.controller);
  var leaving = false;
  workers.addEventListener("controllerchange", function () {
    if (known && !leaving) { leaving = true; location.reload(); }
    known = true;
    say();
  });

  function ask(worker, then) {
    var asked = new MessageChannel();
    asked.port1.onmessage = function (event) { then(event.data); };
    worker.postMessage("day", [asked.port2]);
  }
  function offer(worker) { ask(worker, function (day) { show(worker, day); }); }

  /* Home says so once the whole handbook is here. */
  function say() {
    var place = document.querySelector(".hb-kept");
    if (!place || !workers.controller) { return; }
    ask(workers.controller, function (day) {
      place.textContent = "This device keeps the handbook of " + day + ": it opens without a network.";
      place.hidden = false;
    });
  }

  function show(worker, day) {
    var old = document.querySelector(".hb-newer");
    if (old) { old.remove(); }
    var box = hb.make("div", "", "hb-newer");
    box.setAttribute("role", "status");
    var button = box.appendChild(hb.button("Handbook of " + day + ": take it", function () {
      button.disabled = true;
      worker.postMessage("take");
    }));
    var article = document.querySelector("article") || document.body;
    article.insertBefore(box, article.firstChild);
  }

  function watch(registration) {
    if (registration.waiting && workers.controller) { offer(registration.waiting); }
    registration.addEventListener("updatefound", function () {
      var coming = registration.installing;
      coming.addEventListener("statechange", function () {
        if (coming.state === "installed" && workers.controller) { offer(coming); }
      });
    });
  }

  window.addEventListener("load", function () {
    say();
    workers.register(new URL("sw.js", root), { scope: root.pathname, updateViaCache: "none" }).then(watch, function () {
      /* Without https, or with storage refused, the site works as any other. */
    });
  });
})();
