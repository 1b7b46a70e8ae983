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
  });

  function offer(worker) {
    var asked = new MessageChannel();
    asked.port1.onmessage = function (event) { show(worker, event.data); };
    worker.postMessage("day", [asked.port2]);
  }

  function show(worker, day) {
    var old = document.querySelector(".hb-newer");
    if (old) { old.remove(); }
    var box = document.createElement("div");
    box.className = "hb-newer";
    box.setAttribute("role", "status");
    var button = document.createElement("button");
    button.type = "button";
    button.textContent = "Handbook of " + day + ": take it";
    button.addEventListener("click", function () {
      button.disabled = true;
      worker.postMessage("take");
    });
    box.appendChild(button);
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
    workers.register(new URL("sw.js", root), { scope: root.pathname, updateViaCache: "none" }).then(watch, function () {
      /* Without https, or with storage refused, the site works as any other. */
    });
  });
})();
