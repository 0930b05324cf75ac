// A headless Chromium driven over its debugging protocol, with node's own
// WebSocket: node 22 has it, node 20 with --experimental-websocket.
import { spawn } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";

export async function browser(...flags) {
  const dir = fs.mkdtempSync(path.join(os.tmpdir(), "chromium-"));
  const program = spawn("chromium", ["--headless=new", "--no-sandbox", "--remote-debugging-port=0", "--hide-scrollbars", `--user-data-dir=${dir}`, ...flags, "about:blank"],
    { stdio: ["ignore", "ignore", "pipe"] });
  const address = await new Promise((found, failed) => {
    let said = "";
    program.stderr.on("data", (d) => {
      said += d;
      const m = said.match(/ws:\/\/\S+/);
      if (m) found(m[0]);
    });
    program.on("exit", () => failed(new Error("chromium does not start: " + said)));
  });
  const socket = new WebSocket(address);
  await new Promise((open) => (socket.onopen = open));
  let last = 0;
  const waiting = new Map();
  const listeners = [];
  socket.onmessage = (m) => {
    const d = JSON.parse(m.data);
    if (waiting.has(d.id)) waiting.get(d.id)(d);
    waiting.delete(d.id);
    for (const l of listeners) if (d.method) l(d);
  };
  const call = (method, params = {}, sessionId) => new Promise((done, failed) => {
    const id = ++last;
    waiting.set(id, (d) => (d.error ? failed(new Error(`${method}: ${d.error.message}`)) : done(d.result)));
    socket.send(JSON.stringify({ id, method, params, sessionId }));
  });

  return {
    // page opens a tab.
    async page() {
      const { targetId } = await call("Target.createTarget", { url: "about:blank" });
      const { sessionId } = await call("Target.attachToTarget", { targetId, flatten: true });
      const send = (method, params) => call(method, params, sessionId);
      await Promise.all([send("Page.enable"), send("Runtime.enable"), send("Network.enable"), send("DOM.enable")]);
      const page = {
        send, requests: [], bytes: 0, problems: [],
        async size(width, height, dark = false) {
          await send("Emulation.setDeviceMetricsOverride", { width, height, deviceScaleFactor: 1, mobile: width < 600 });
          await send("Emulation.setEmulatedMedia", { features: [{ name: "prefers-color-scheme", value: dark ? "dark" : "light" }] });
        },
        // loaded waits for the load that do_ sets off.
        async loaded(do_) {
          const done = new Promise((ok) => (page.onload = ok));
          await do_();
          await Promise.race([done, new Promise((_, no) => setTimeout(() => no(new Error("no page after 15 s")), 15000))]);
        },
        async open(url) {
          page.requests = [];
          page.bytes = 0;
          await page.loaded(() => send("Page.navigate", { url }));
        },
        // run evaluates an expression in the page, past its content policy.
        async run(expression) {
          const r = await send("Runtime.evaluate", { expression, returnByValue: true, awaitPromise: true });
          if (r.exceptionDetails) throw new Error(r.exceptionDetails.exception?.description ?? r.exceptionDetails.text);
          return r.result.value;
        },
        text: () => page.run("document.body.innerText.replace(/\\s+/g, ' ')"),
        // tap presses a thing as a finger does.
        async tap(selector) {
          const at = await page.run(`(() => { const e = document.querySelector(${JSON.stringify(selector)}); e.scrollIntoView({ block: "center" }); const r = e.getBoundingClientRect(); return { x: r.x + r.width / 2, y: r.y + r.height / 2 }; })()`);
          for (const type of ["mousePressed", "mouseReleased"]) await send("Input.dispatchMouseEvent", { type, ...at, button: "left", clickCount: 1 });
        },
        async file(selector, file) {
          const { root } = await send("DOM.getDocument");
          const { nodeId } = await send("DOM.querySelector", { nodeId: root.nodeId, selector });
          await send("DOM.setFileInputFiles", { nodeId, files: [file] });
        },
      };
      listeners.push((d) => {
        if (d.sessionId !== sessionId) return;
        if (d.method === "Page.loadEventFired") page.onload?.();
        if (d.method === "Network.requestWillBeSent") page.requests.push(d.params.request.url);
        if (d.method === "Network.loadingFinished") page.bytes += d.params.encodedDataLength;
        if (d.method === "Log.entryAdded") page.problems.push(d.params.entry.text);
        if (d.method === "Runtime.exceptionThrown") page.problems.push(d.params.exceptionDetails.text);
      });
      await send("Log.enable");
      return page;
    },
    async close() {
      const gone = new Promise((ok) => program.on("exit", ok));
      await Promise.race([call("Browser.close"), gone]).catch(() => {});
      await Promise.race([gone, new Promise((ok) => setTimeout(ok, 5000))]);
      program.kill();
      // Its helpers end a moment later than it does.
      await fs.promises.rm(dir, { recursive: true, force: true, maxRetries: 20, retryDelay: 200 }).catch(() => {});
    },
  };
}
