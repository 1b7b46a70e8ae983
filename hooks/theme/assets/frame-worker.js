/* Search in a folder: a browser starts no worker from a file, so its script runs in a hidden frame, which answers as a
   worker does. The search script looks for the name below to find its languages. */
(function () {
  "use strict";
  if (location.protocol !== "file:") { return; }

  class FrameWorker extends EventTarget {
    constructor(url) {
      super();
      var frame = document.createElement("iframe");
      frame.hidden = true;
      this.inside = new Promise((resolve, reject) => {
        frame.addEventListener("load", () => {
          var inside = frame.contentWindow;
          inside.postMessage = (data) => this.tell(data);
          inside.importScripts = (...urls) => urls.reduce((before, one) => before.then(() => load(inside, one)), Promise.resolve());
          load(inside, url).then(() => resolve(inside), reject);
        }, { once: true });
      });
      document.body.appendChild(frame);
      this.frame = frame;
    }

    tell(data) {
      var event = new MessageEvent("message", { data: structuredClone(data) });
      this.dispatchEvent(event);
      if (this.onmessage) { this.onmessage(event); }
    }

    postMessage(data) {
      this.inside.then((inside) => inside.dispatchEvent(new inside.MessageEvent("message", { data: structuredClone(data) })));
    }

    terminate() { this.frame.remove(); }
  }

  function load(inside, url) {
    return new Promise(function (resolve, reject) {
      var script = inside.document.createElement("script");
      script.src = url;
      script.onload = resolve;
      script.onerror = reject;
      inside.document.body.appendChild(script);
    });
  }

  window.IFrameWorker = FrameWorker;
  window.Worker = FrameWorker;
})();
