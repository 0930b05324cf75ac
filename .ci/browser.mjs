// The pages in a real browser, as anglers and the maker use them.
//
//   node --experimental-websocket .ci/browser.mjs FLOATMARK FOLDER PEER
//
// FLOATMARK is the program, FOLDER an empty folder to work in, PEER where
// node_modules with axe-core lies. It fails when a page says the wrong thing, is
// cut or scrolls sideways, asks for anything from elsewhere, weighs too much, or
// has a serious finding of axe-core.
import { execFileSync, spawn } from "node:child_process";
import fs from "node:fs";
import http from "node:http";
import os from "node:os";
import path from "node:path";
import { browser } from "./chromium.mjs";

const [program, folder, peer] = process.argv.slice(2);
const axe = fs.readFileSync(path.join(peer, "node_modules/axe-core/axe.min.js"), "utf8");
const languages = ["en", "de", "fr", "it", "pl"];
const sizes = [[320, 640], [390, 844], [1280, 900]];
const most = 30000; // bytes of a page
const word = "sluice gate at dusk";
const broken = [];
let looked = 0;
const hold = (is, what) => { if (!is) broken.push(what); };

// The workshop is the demo's. The address is this computer's own in its network,
// as phones in the LAN use it: plain http, which a browser trusts less than
// loopback. Without a network the second address of loopback has to do.
const lan = Object.values(os.networkInterfaces()).flat().find((a) => a.family === "IPv4" && !a.internal)?.address ?? "127.0.0.2";
const run = (args, input) => execFileSync(program, args, { input, stdio: ["pipe", "pipe", "pipe"] }).toString();
run(["demo", "--coarse", "--out", folder]);
const workshop = path.join(folder, "workshop");
const at = ["--workshop", workshop];
run(["unlock", ...at], word + "\n");
const ids = new Map(); // one float of each pattern
for (const f of JSON.parse(run(["record", "list", "--json", ...at]))) if (!ids.has(f.pattern)) ids.set(f.pattern, f.id);

async function serve(address) {
  const server = spawn(program, ["serve", "--addr", address, ...at], { stdio: ["ignore", "pipe", "pipe"] });
  let log = "";
  server.stderr.on("data", (d) => (log += d));
  const url = await new Promise((ok, no) => {
    server.stdout.on("data", (d) => { const m = String(d).match(/http:\/\/\S+/); if (m) ok(m[0].replace(/\/$/, "")); });
    server.on("exit", () => no(new Error("the server does not start: " + log)));
  });
  return { url, log: () => log, async stop(signal = "SIGTERM") { const gone = new Promise((ok) => server.on("exit", ok)); server.kill(signal); await gone; } };
}

// look holds what must hold of every page.
async function look(page, name) {
  looked++;
  const at = await page.run(`(() => { const w = document.documentElement.clientWidth; return {
    wide: document.documentElement.scrollWidth > w,
    cut: [...document.querySelectorAll("main *:not(.hear)")].filter((e) => { const s = getComputedStyle(e); const r = e.getBoundingClientRect();
      return r.width > 2 && s.display !== "inline" && (r.right > w + 1 || e.clientWidth > 2 && e.scrollWidth > e.clientWidth + 2); }).map((e) => e.tagName + " " + e.textContent.trim().slice(0, 30)),
    small: [...document.querySelectorAll("a, button, select, input:not([type=hidden]), summary")].filter((e) => { const r = e.getBoundingClientRect();
      return r.width > 0 && !e.closest("p") && (r.width < 24 || r.height < 24); }).map((e) => e.outerHTML.slice(0, 60)) }; })()`);
  hold(!at.wide, `${name}: scrolls sideways`);
  hold(at.cut.length === 0, `${name}: cut: ${at.cut.slice(0, 3).join("; ")}`);
  hold(at.small.length === 0, `${name}: too small to press: ${at.small.slice(0, 3).join("; ")}`);
  const own = new URL(await page.run("location.href")).origin;
  for (const r of page.requests) hold(r.startsWith(own + "/") || r.startsWith("data:"), `${name}: asks for ${r}`);
  hold(page.problems.length === 0, `${name}: the browser says: ${page.problems.slice(0, 3).join("; ")}`);
  page.problems.length = 0;
}

async function audit(page, name) {
  await page.run(axe + "; 0");
  const found = await page.run(`axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })
    .then((r) => r.violations.map((v) => v.impact + ": " + v.id + ": " + v.nodes.slice(0, 2).map((n) => n.html.slice(0, 90)).join(" ; ")))`);
  hold(found.length === 0, `${name}: axe-core: ${found.join(" | ")}`);
}

const chromium = await browser();
let server = await serve(`${lan}:0`);
try {
  const page = await chromium.page();

  // Anglers, in every language, on every screen, in the light and in the dark.
  for (const [pattern, id] of ids)
    for (const lang of languages)
      for (const [w, h] of sizes) {
        const first = pattern === [...ids.keys()][0];
        if (!first && w === 1280) continue;
        for (const dark of first ? [false, true] : [false]) {
          await page.size(w, h, dark);
          await page.open(`${server.url}/${id}?lang=${lang}&set=continental&metal=bismuth&water=sea`);
          hold(page.bytes <= most, `${pattern}, ${lang}: ${page.bytes} bytes`);
          hold(page.requests.filter((r) => !r.startsWith("data:")).length === 1, `${pattern}, ${lang}: ${page.requests.length} requests`);
          await page.run("document.querySelectorAll('details').forEach((d) => (d.open = true)), 0");
          const name = `${pattern}, ${lang}, ${w} wide${dark ? ", dark" : ""}`;
          await look(page, name);
          if (first || lang === "de") await audit(page, name);
        }
      }
  for (const p of ["/?lang=pl", "/CKWB6V?lang=fr", "/-/find?id=9KYA&lang=it", "/-/unlock"]) {
    await page.size(320, 640);
    await page.open(server.url + p);
    page.problems.length = 0; // a status of 404 is one
    await look(page, p);
    await audit(page, p);
  }

  // Type twice as large, as readers set it in their browser.
  const large = await browser("--blink-settings=defaultFontSize=32");
  try {
    const big = await large.page();
    for (const lang of languages)
      for (const [w, h] of sizes) {
        await big.size(w, h);
        await big.open(`${server.url}/${[...ids.values()][0]}?lang=${lang}&water=sea`);
        await big.run("document.querySelectorAll('details').forEach((d) => (d.open = true)), 0");
        await look(big, `${lang}, ${w} wide, type of 200 %`);
      }
  } finally {
    await large.close();
  }

  // The choice, without scripts: made with the form, kept for the next visit.
  const id = [...ids.values()][0];
  await page.send("Network.clearBrowserCookies");
  await page.send("Emulation.setScriptExecutionDisabled", { value: true });
  await page.size(390, 844);
  await page.open(`${server.url}/${id}`);
  const before = await page.text();
  await page.run(`document.querySelector("#set").value = "continental", document.querySelector("#metal").value = "tungsten", 0`);
  await page.tap("input[value=sea]");
  await page.loaded(() => page.tap("#choose button"));
  const chosen = await page.text();
  hold(chosen !== before && /of tungsten/.test(chosen) && /would stand .* high/.test(chosen), "the form changes nothing: " + chosen.slice(0, 400));
  await page.open(`${server.url}/${id}`);
  hold((await page.text()) === chosen, "the choice is not kept");
  const [{ httpOnly, sameSite, value }] = (await page.send("Network.getCookies")).cookies;
  hold(httpOnly && sameSite === "Lax" && value.length < 80, `the cookie: ${value}`);
  await page.send("Emulation.setScriptExecutionDisabled", { value: false });

  // The maker, on a phone, from the second address.
  await page.open(`${server.url}/-/record/${id}`);
  hold((await page.run("location.pathname")) === "/-/unlock", "the maker's page is open to all");
  const unlock = async (typed) => {
    await page.run(`document.querySelector("#word").value = ${JSON.stringify(typed)}, 0`);
    await page.loaded(() => page.tap("main button"));
  };
  await unlock("not the word");
  hold(/That is not the word/.test(await page.text()), "a wrong word unlocks");
  await unlock(word);
  page.problems.length = 0; // the refusal is one
  hold((await page.run("location.pathname")) === `/-/record/${id}`, "the word does not unlock");
  const type = (selector, text) => page.run(`document.querySelector(${JSON.stringify(selector)}).value = ${JSON.stringify(text)}, 0`);
  const openAll = () => page.run("document.querySelectorAll('details').forEach((d) => (d.open = true)), 0");
  await type("#status", "sold");
  await type("[name=care]", "Dry it.");
  await page.loaded(() => page.tap("#facts button"));
  await openAll();
  await type("#notes textarea", "a note <script>alert(1)</script> from the phone");
  await page.loaded(() => page.tap("#notes form button"));
  // The server goes down and comes up while a form is open: the word is asked for
  // again, and nothing that was acknowledged is gone.
  await openAll();
  await type("#coats input[name=product]", "Weir varnish");
  const port = new URL(server.url).port;
  await server.stop("SIGKILL");
  server = await serve(`${lan}:${port}`);
  await page.loaded(() => page.tap("#coats form button"));
  hold(/Locked/.test(await page.text()), "a session outlives its server");
  page.problems.length = 0;
  await page.open(`${server.url}/-/record/${id}`);
  await unlock(word);
  await openAll();
  await type("#coats input[name=product]", "Weir varnish");
  await page.loaded(() => page.tap("#coats form button"));
  await openAll();
  await page.file("#photo", path.resolve(folder, "decal-sedge.png"));
  await type("#caption", "from the side");
  await page.loaded(() => page.tap("#photos form button"));
  for (const [w, h] of sizes)
    for (const dark of [false, true]) {
      await page.size(w, h, dark);
      await page.open(`${server.url}/-/record/${id}`);
      await openAll();
      await look(page, `the maker's page, ${w} wide${dark ? ", dark" : ""}`);
      await audit(page, `the maker's page, ${w} wide${dark ? ", dark" : ""}`);
    }
  const mine = await page.text();
  for (const said of ["sold", "<script>alert(1)</script> from the phone", "Weir varnish", "empty → sold"]) hold(mine.includes(said), "the maker's page does not say " + said);
  hold(await page.run("[...document.images].some((i) => i.alt === 'from the side')"), "the photograph is not there");
  await page.open(`${server.url}/${id}`);
  const open = await page.text();
  hold(open.includes("Dry it.") && !open.includes("Weir varnish") && !open.includes("from the phone"), "what anglers see: " + open);

  // A page that is a plain file: the choice works by its script and is kept; without
  // scripts there is the table.
  const web = "cmd/internal/web/";
  const files = http.createServer((q, r) => {
    const script = /\/page-\w+\.js$/.test(q.url);
    r.setHeader("Content-Type", script ? "text/javascript" : "text/html; charset=utf-8");
    r.end(fs.readFileSync(web + (script ? "plain.js" : "testdata/record-de-plain.html")));
  });
  await new Promise((ok) => files.listen(0, "127.0.0.1", ok));
  const plain = `http://127.0.0.1:${files.address().port}/9KYA3C/`;
  for (const [w, h] of sizes) {
    await page.size(w, h);
    await page.open(plain);
    await page.run("document.querySelectorAll('details').forEach((d) => (d.open = true)), 0");
    await look(page, `plain, ${w} wide`);
    await audit(page, `plain, ${w} wide`);
  }
  hold((await page.run("document.querySelector('#add-shot').innerText")) === "1 AAA", "the plain page begins with another shot");
  await page.tap("input[value=sea]");
  const seaside = await page.run("document.querySelector('#add').innerText");
  hold(/stünde die Spitze .* zu hoch/.test(seaside) && /1 AAA \+ 1 No\.3/.test(seaside), "the sea changes nothing: " + seaside);
  await page.open(plain);
  hold((await page.run("document.querySelector('#add').innerText")) === seaside, "the plain page keeps no choice");
  await page.send("Emulation.setScriptExecutionDisabled", { value: true });
  await page.open(plain);
  hold(/Meerwasser/.test(await page.run("document.querySelector('details').textContent")) && !(await page.run("document.querySelector('#choose').offsetHeight")), "without scripts there is no table, or a form that does nothing");
  files.close();
} finally {
  await chromium.close();
  await server.stop();
}

console.log(`${looked} pages looked at`);
for (const b of broken) console.error("broken: " + b);
process.exit(broken.length > 0 ? 1 : 0);
