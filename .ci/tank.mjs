// The page beside the test tank in a real browser, on the screen of a phone and
// from the address of this computer in its network, over plain http: readings
// while the network drops, answers are lost and the server is killed. In the end
// every reading must be stored, each once.
//
//   node --experimental-websocket .ci/tank.mjs FLOATMARK FOLDER [PEER]
//
// FLOATMARK is the program, FOLDER an empty folder to work in, PEER where
// node_modules with axe-core lies; without it axe-core is not asked.
import { execFileSync, spawn } from "node:child_process";
import fs from "node:fs";
import net from "node:net";
import os from "node:os";
import path from "node:path";
import { browser } from "./chromium.mjs";

const [program, folder, peer] = process.argv.slice(2);
const axe = peer && fs.readFileSync(path.join(peer, "node_modules/axe-core/axe.min.js"), "utf8");
const demo = path.join(import.meta.dirname, "../cmd/internal/batch/demo.toml");
const word = "sluice gate at dusk";
const least = 64; // CSS pixels that a wet thumb hits
const broken = [];
const hold = (is, what) => { if (!is) broken.push(what); };
const sleep = (ms) => new Promise((ok) => setTimeout(ok, ms));

// An address that is not loopback: there a browser trusts nothing and says less.
const lan = Object.values(os.networkInterfaces()).flat().find((a) => a.family === "IPv4" && !a.internal)?.address;
if (!lan) throw new Error("this computer is in no network: there is no address to ask from");

const at = ["--workshop", path.join(folder, "workshop")];
fs.mkdirSync(at[1], { recursive: true });
execFileSync(program, ["unlock", ...at], { input: word + "\n" });

async function serve(address) {
  const server = spawn(program, ["serve", "--addr", address, ...at], { stdio: ["ignore", "pipe", "pipe"] });
  let log = "";
  server.stderr.on("data", (d) => (log += d));
  const port = await new Promise((ok, no) => {
    server.stdout.on("data", (d) => { const m = String(d).match(/http:\/\/[\d.]+:(\d+)/); if (m) ok(Number(m[1])); });
    server.on("exit", () => no(new Error("the server does not start: " + log)));
  });
  return { port, log: () => log, async kill() { const gone = new Promise((ok) => server.on("exit", ok)); server.kill("SIGKILL"); await gone; } };
}

// The network between phone and server: "up", "down", or "mute", which lets
// requests through and loses the answers.
let network = "up";
let server = await serve(`${lan}:0`);
const wires = new Set();
let lost = 0;
const link = net.createServer((phone) => {
  if (network === "down") { phone.destroy(); return; }
  const up = net.connect(server.port, lan);
  wires.add(phone);
  phone.on("close", () => wires.delete(phone));
  const end = () => { phone.destroy(); up.destroy(); };
  for (const one of [phone, up]) { one.on("error", end); one.on("close", end); }
  phone.on("data", (d) => (network === "down" ? end() : up.write(d)));
  up.on("data", (d) => { if (network === "up") phone.write(d); else { lost++; end(); } });
});
await new Promise((ok) => link.listen(0, lan, ok));
const url = `http://${lan}:${link.address().port}`;

const chromium = await browser();
const page = await chromium.page();
const text = (selector) => page.run(`document.querySelector(${JSON.stringify(selector)})?.innerText ?? ""`);
const hidden = (selector) => page.run(`document.querySelector(${JSON.stringify(selector)})?.hidden ?? true`);
async function until(what, expression, ms = 20000) {
  for (const end = Date.now() + ms; Date.now() < end; await sleep(100)) if (await page.run(expression).catch(() => false)) return true;
  hold(false, `waited in vain: ${what}; the page says: ${(await page.text()).slice(0, 400)}`);
  return false;
}
const waiting = () => page.run(`Object.keys(localStorage).filter((k) => k.startsWith("tank/reading/")).length`);
const press = async (selector) => { await sleep(450); await page.tap(selector); }; // at once it would be the same press
const size = (name) => page.tap(`#sizes [data-size="${name}"]`);
async function read(...names) {
  const n = await text("#which b");
  for (const one of names) await size(one);
  await press("#here");
  await press("#save");
  return Number(n.replace(/\D/g, ""));
}
async function unlock() {
  await page.run(`document.getElementById("word").value = ${JSON.stringify(word)}`);
  await page.loaded(() => page.tap("form.find button"));
}

// The same without a terminal: on the bench's own page the maker sets the word and
// lets phones in, one reads a float, and he shuts the door.
async function byPage() {
  const own = ["--workshop", path.join(folder, "by-page")];
  const bench = spawn(program, ["bench", "--no-browser", "--addr", "127.0.0.1:0", "--phones", `${lan}:0`, ...own], { stdio: ["ignore", "pipe", "ignore"] });
  try {
    const home = await new Promise((ok, no) => {
      bench.stdout.on("data", (d) => { const m = String(d).match(/http:\/\/127[\d.]+:\d+/); if (m) ok(m[0]); });
      bench.on("exit", () => no(new Error("the bench does not start")));
    });
    await fetch(home + "/-/bench/demo", { method: "POST", redirect: "manual" });
    const submit = (form) => page.loaded(() => page.run(`document.querySelector('form[action="/-/bench/phone/${form}"]').requestSubmit()`));
    const fill = (word) => page.run(`for (const id of ["word", "again"]) document.getElementById(id).value = ${JSON.stringify(word)}`);
    const door = async () => (await page.run(`document.querySelector(".scan .link a")?.href ?? ""`));
    await page.size(1280, 900);
    await page.open(home + "/-/bench/b/26-11/tank");
    await page.loaded(() => page.run(`document.querySelector('#phone a[href^="/-/bench/phone"]').click()`));
    hold(await page.run(`document.querySelector('form[action="/-/bench/phone/on"] button').disabled`), "phones can be let in without a word");
    await fill("sluice");
    await submit("word");
    hold((await page.text()).includes("too short"), "a short word is taken");
    await fill(word);
    await submit("word");
    await submit("on");
    const to = await door();
    hold(to.startsWith(`http://${lan}:`) && to.endsWith("/-/tank?batch=26-11"), `the door leads to ${to}`);
    for (const [w, dark] of [[1280, false], [1280, true], [390, false], [390, true]]) {
      await page.size(w, 900, dark);
      hold(await page.run("document.documentElement.scrollWidth <= document.documentElement.clientWidth"), `the page of the door scrolls sideways at ${w}`);
      if (!axe) continue;
      await page.run("document.querySelectorAll('details').forEach((d) => (d.open = true)), 0");
      await page.run(axe + "; 0");
      const found = await page.run(`axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })
        .then((r) => r.violations.map((v) => v.impact + ": " + v.id + ": " + v.nodes.slice(0, 2).map((n) => n.html.slice(0, 90)).join(" ; ")))`);
      hold(found.length === 0, `the page of the door, ${w} wide: axe-core: ${found.join(" | ")}`);
    }
    await page.size(390, 844);
    hold((await (await fetch(new URL("/-/bench/", to), { redirect: "manual" })).status) === 303, "the bench is open to the network");
    await page.open(to + "&number=6");
    await unlock();
    await until("the tank through the door", `!document.getElementById("app").hidden`);
    for (let i = 0; i < 30 && !(await text("#which b")).includes("6"); i++) await page.tap("#after");
    hold((await read("AAA")) === 6, "float 6 is not offered");
    await until("the reading stored", `document.getElementById("state").innerText === "Everything is stored"`);
    await page.open(home + "/-/bench/phone?batch=26-11");
    await submit("off");
    hold((await door()) === "", "the page still shows the door");
    const gone = await fetch(to).then(() => false, () => true);
    hold(gone, "the door is shut, and still answers");
    const kept = JSON.parse(execFileSync(program, ["tank", "show", "26-11", "--json", ...own]).toString()).floats;
    hold(kept.length === 1 && kept[0].number === 6 && kept[0].readings[0].noted === "1 AAA", `through the door is stored ${JSON.stringify(kept)}`);
  } finally {
    const ended = new Promise((ok) => bench.on("exit", ok));
    bench.kill("SIGTERM");
    hold((await ended) === 0, "the bench does not end in order");
  }
}

const began = Date.now();
const step = (name) => process.env.TANK_TIMES && console.error(`${((Date.now() - began) / 1000).toFixed(1)} s: ${name}`);
const want = new Map(); // number of the float -> what was read
try {
  // Unlock, open the batch file that is on the phone.
  await page.size(390, 844);
  await page.open(url + "/-/tank");
  await unlock();
  hold((await page.run("location.pathname")) === "/-/tank", "unlocking does not lead back to the tank");
  await page.file("#file", demo);
  await page.loaded(() => page.tap("form[enctype] button"));
  hold((await page.run("location.search")) === "?batch=26-11", "the batch file is not opened");

  // One float: pressed, undone, off its mark, taken back and saved again.
  await size("SSG");
  await page.tap("#undo");
  await size("AAA");
  await size("No.10");
  await size("No.10");
  hold((await text("#total")) === "0.89\u00a0g", `0.81 g and twice 0.04 g are ${await text("#total")}`);
  hold((await text("#hung")) === "1\u00a0AAA + 2\u00a0No.10", `it says ${await text("#hung")}`);
  hold((await text("#sofar")).startsWith("7.21\u00a0g built in, 8.1\u00a0g"), `it says ${await text("#sofar")}`);
  await press("#here");
  for (const id of ["higher", "higher", "lower", "higher"]) await page.tap("#" + id);
  hold((await text("#stands")) === "1\u00a0mm above its mark", `it says ${await text("#stands")}`);
  await press("#save");
  for (let i = 0; i < 3; i++) await page.tap("#here"); // a finger that trembles opens and saves nothing
  hold((await hidden("#tip")) && (await waiting()) === 1, "one press too many is taken for another");
  hold((await text("#which b")).includes("2"), "it does not go on to the next float");
  await page.tap("#undo");
  hold((await text("#which b")).includes("1") && (await text("#total")) === "0.89\u00a0g", "what was saved is not taken back");
  await press("#here");
  await press("#save");
  want.set(1, "1 AAA + 2 No.10");
  await until("the first reading stored", `document.getElementById("state").innerText === "Everything is stored"`);

  step("The network drops");
  // The network drops, as the browser knows it; the page goes on.
  const offline = (is) => page.send("Network.emulateNetworkConditions", { offline: is, latency: 0, downloadThroughput: -1, uploadThroughput: -1 });
  await offline(true);
  want.set(await read("AAA", "No.8"), "1 AAA + 1 No.8");
  want.set(await read("AAA", "No.9"), "1 AAA + 1 No.9");
  await until("no network told", `!document.getElementById("alarm").hidden`);
  hold((await text("#state")) === "Waiting on this phone: 2", `offline it says ${await text("#state")}`);
  await page.tap("#after"); // and back: what is pressed for a float stays with it
  await page.tap("#before");
  await size("BB");
  await page.tap("#before");
  await page.tap("#after");
  hold((await text("#total")) === "0.4\u00a0g", "what was pressed is gone");
  await page.tap("#undo");
  await offline(false);
  await until("what waited stored", `document.getElementById("state").innerText === "Everything is stored"`);

  step("Answers are lost");
  // Answers are lost on the way: the server has the reading, the page does not
  // know, and sends it again.
  network = "mute";
  for (const w of wires) w.destroy();
  want.set(await read("AAA"), "1 AAA");
  for (const end = Date.now() + 15000; lost < 2 && Date.now() < end; ) await sleep(100);
  hold(lost >= 2 && (await waiting()) === 1, `${lost} answers were lost, ${await waiting()} readings wait`);

  step("The network is gone");
  // The network is gone, the server is killed; readings go on, and the page is
  // opened anew in between.
  network = "down";
  for (const w of wires) w.destroy();
  await server.kill();
  want.set(await read("BB", "BB"), "2 BB");
  await size("BB");
  server = await serve(`${lan}:0`);
  network = "up";
  await page.run(`dispatchEvent(new Event("focus"))`); // as when the phone is looked at again
  await until("locked told", `document.getElementById("alarm").innerText.includes("locked")`, 40000);
  hold((await waiting()) === 2, `${await waiting()} readings wait for the unlock word`);
  want.set(await read("BB", "No.1"), "2 BB + 1 No.1");
  await page.loaded(() => page.tap("#alarm a"));
  hold((await waiting()) === 3, `${await waiting()} readings wait before unlocking`);
  await unlock();
  hold((await page.run("location.search")) === "?batch=26-11", "unlocking does not lead back to the batch");
  await until("all stored after unlocking", `document.getElementById("state").innerText === "Everything is stored"`);

  step("What the server refuses");
  // What the server refuses is kept, and corrected.
  await page.run(`(() => { const s = document.getElementById("which-set"); s.value = ""; s.dispatchEvent(new Event("change")); })()`);
  const key = (c) => page.tap(`#sizes button:nth-child(${"123456789.0".indexOf(c) + 1})`);
  for (const c of "999") await key(c);
  await press("#here");
  await press("#save");
  await until("a refused reading told", `document.getElementById("waits").innerText.includes("is no load of a float")`);
  await page.tap("#waits button:last-child");
  for (let i = 0; i < 3; i++) await page.tap("#undo");
  for (const c of ".79") await key(c);
  hold((await text("#total")) === "0.79\u00a0g", `typed .79 it says ${await text("#total")}`);
  const corrected = Number((await text("#which b")).replace(/\D/g, ""));
  await press("#here");
  await press("#save");
  want.set(corrected, "0.79 g");
  await until("the corrected reading stored", `document.getElementById("waits").hidden && Object.keys(localStorage).every((k) => !k.startsWith("tank/reading/"))`);

  step("Every page in");
  // Every page in every language, on a phone and on the bench, light and dark.
  for (const lang of ["en", "de", "fr", "it", "pl"])
    for (const [w, h, dark] of [[390, 844, false], [390, 844, true], [320, 640, false], [1280, 900, false]])
      for (const where of ["/-/tank", "/-/tank?batch=26-11", "/-/tank/readings?batch=26-11"]) {
        await page.size(w, h, dark);
        await page.open(`${url}${where}${where.includes("?") ? "&" : "?"}lang=${lang}`);
        for (const panel of where.startsWith("/-/tank?") ? ["hang", "tip"] : [""]) {
          if (panel === "tip") await page.tap("#here");
          await page.run("document.querySelectorAll('details').forEach((d) => (d.open = true)), 0");
          const name = `${where}, ${lang}, ${w} wide${dark ? ", dark" : ""} ${panel}`;
          const bad = await page.run(`(() => { const w = document.documentElement.clientWidth; const out = [];
            if (document.documentElement.scrollWidth > w) out.push("scrolls sideways");
            for (const e of document.querySelectorAll("main *")) { const r = e.getBoundingClientRect(), s = getComputedStyle(e);
              if (r.width > 2 && s.display !== "inline" && !e.closest("select, .hear") && (r.right > w + 1 || e.clientWidth > 2 && e.scrollWidth > e.clientWidth + 2)) out.push("cut: " + e.tagName + " " + e.textContent.trim().slice(0, 30)); }
            for (const e of document.querySelectorAll("#app button, #app select, a.big, button.big")) { const r = e.getBoundingClientRect(); if (r.width > 0 && (r.width < ${least} || r.height < ${least})) out.push("small: " + e.outerHTML.slice(0, 60)); }
            return out; })()`);
          hold(bad.length === 0, `${name}: ${bad.slice(0, 3).join("; ")}`);
          if (axe && w === 390 && (!dark || lang === "en")) {
            await page.run(axe + "; 0");
            const found = await page.run(`axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })
              .then((r) => r.violations.map((v) => v.impact + ": " + v.id + ": " + v.nodes.slice(0, 2).map((n) => n.html.slice(0, 90)).join(" ; ")))`);
            hold(found.length === 0, `${name}: axe-core: ${found.join(" | ")}`);
          }
        }
      }
  // The browser itself has nothing to say, but that it could not reach the server
  // when there was none, and that an address in plain http is no safe one.
  const said = page.problems.filter((p) => !/Failed to load resource|Cross-Origin-Opener-Policy|Password field/.test(p));
  hold(said.length === 0, `the browser says: ${said.slice(0, 3).join("; ")}`);

  step("Without scripts a form");
  // Without scripts a form does it.
  await page.size(390, 844);
  await page.send("Emulation.setScriptExecutionDisabled", { value: true });
  await page.open(`${url}/-/tank?batch=26-11&lang=en&number=20`);
  await page.run(`document.getElementById("reading").value = "2,43"`);
  await page.run(`document.querySelector("#plain form").requestSubmit()`);
  await until("the form's next float", `location.search === "?batch=26-11&number=21"`);
  want.set(20, "2,43 g");

  step("The door is opened by page");
  await page.send("Emulation.setScriptExecutionDisabled", { value: false });
  await byPage();
} finally {
  await chromium.close();
  link.close();
  for (const w of wires) w.destroy();
  await server.kill();
}

// What is stored, as the program itself tells it.
const stored = JSON.parse(execFileSync(program, ["tank", "show", "26-11", "--json", ...at]).toString()).floats;
for (const [number, noted] of want) {
  const all = stored.filter((f) => f.number === number).flatMap((f) => f.readings);
  hold(all.length === 1 && all[0].noted === noted, `float ${number}: ${noted} was read, stored is ${JSON.stringify(all.map((r) => r.noted))}`);
}
hold(stored.length === want.size, `${want.size} floats were read, ${stored.length} are stored`);
if (broken.length) {
  console.error(broken.join("\n"));
  process.exit(1);
}
console.log(`figure: ${want.size} readings with the network cut twice, ${lost} answers lost and the server killed: each stored once`);
process.exit(0); // timers of the browser would hold it up
