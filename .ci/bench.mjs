// The maker's own pages in a real browser: from an empty workshop to the printed
// files, as somebody does it for the first time, on a wide and on a narrow screen;
// the beginning once more by keyboard alone; two browsers on one batch.
//
//   node --experimental-websocket .ci/bench.mjs FLOATMARK FOLDER [PEER]
//
// FLOATMARK is the program, FOLDER an empty folder to work in, PEER where
// node_modules with axe-core lies; without it axe-core is not asked. In FOLDER are
// then a picture of every page, light and dark, and what was downloaded, with the
// ids that must stand in it.
import { spawn } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { browser } from "./chromium.mjs";

const [program, folder, peer] = process.argv.slice(2);
const axe = peer && fs.readFileSync(path.join(peer, "node_modules/axe-core/axe.min.js"), "utf8");
const least = 44; // CSS pixels of a target: WCAG 2.2, target size (enhanced)
const most = 150_000; // bytes of a page without its pictures
const broken = [];
const hold = (is, what) => { if (!is) broken.push(what); };
const sleep = (ms) => new Promise((ok) => setTimeout(ok, ms));
const quote = JSON.stringify;
let looked = 0, heaviest = { bytes: 0 };

async function serve(workshop) {
  fs.mkdirSync(workshop, { recursive: true });
  const server = spawn(program, ["bench", "--no-browser", "--addr", "127.0.0.1:0", "--workshop", workshop], { stdio: ["ignore", "pipe", "pipe"] });
  let log = "";
  server.stderr.on("data", (d) => (log += d));
  const url = await new Promise((ok, no) => {
    server.stdout.on("data", (d) => { const m = String(d).match(/http:\/\/[\d.]+:\d+/); if (m) ok(m[0]); });
    server.on("exit", () => no(new Error("the server does not start: " + log)));
  });
  return { url, async stop() { const gone = new Promise((ok) => server.on("exit", ok)); server.kill("SIGTERM"); await gone; } };
}

// maker is somebody at a screen.
async function maker(chromium, server, width) {
  const page = await chromium.page();
  const height = width < 600 ? 844 : 900;
  await page.size(width, height);
  const me = {
    page, width,
    text: page.text,
    open: (to) => page.open(server.url + "/-/bench/" + to),
    is: (selector) => page.run(`!!document.querySelector(${quote(selector)})`),
    where: () => page.run(`location.pathname.replace("/-/bench/", "")`),
    // find is the first thing that is seen and says so; it gets a name to be pressed by.
    async find(selector, says) {
      const there = await page.run(`(() => { document.querySelector("[data-press]")?.removeAttribute("data-press");
        const e = [...document.querySelectorAll(${quote(selector)})].find((e) => e.innerText.trim().startsWith(${quote(says)}) && e.getBoundingClientRect().width > 2 && !e.matches(".first") && getComputedStyle(e).visibility !== "hidden");
        e?.setAttribute("data-press", ""); return !!e; })()`);
      if (!there) throw new Error(`no ${selector} says "${says}" at ${await me.where()}: ${(await page.text()).slice(0, 600)}`);
    },
    // press taps what says so, and waits for the page it leads to.
    async press(says, selector = "a, button") {
      await me.find(selector, says);
      await page.loaded(() => page.tap("[data-press]")).catch(async (e) => { throw new Error(`"${says}" leads nowhere at ${await me.where()}: ${e.message}`); });
    },
    async unfold(says) {
      await me.find("summary", says);
      if (!(await page.run(`document.querySelector("[data-press]").parentElement.open`))) await page.tap("[data-press]");
    },
    // type puts what is typed in place of what stands in a field.
    async type(selector, text) {
      const is = await page.run(`(() => { const e = document.querySelector(${quote(selector)}); if (!e) return ""; e.scrollIntoView({ block: "center" }); e.focus(); e.select?.(); return e.tagName; })()`);
      if (!is) throw new Error(`no ${selector} at ${await me.where()}`);
      if (is === "SELECT") {
        await page.run(`(() => { const e = document.querySelector(${quote(selector)}); const o = [...e.options].find((o) => o.value === ${quote(text)} || o.text === ${quote(text)}); if (!o) throw new Error("no option " + ${quote(text)});
          e.value = o.value; e.dispatchEvent(new Event("input", { bubbles: true })); e.dispatchEvent(new Event("change", { bubbles: true })); })()`);
      } else if (text === "") await me.key("Backspace");
      else await page.send("Input.insertText", { text });
    },
    async key(key, shift = false) {
      const code = { Tab: 9, Enter: 13, Backspace: 8, Space: 32, ArrowDown: 40, ArrowUp: 38, ArrowRight: 39, ArrowLeft: 37, Home: 36 }[key];
      const name = key === "Space" ? " " : key, text = { Enter: "\r", Space: " " }[key];
      const what = { key: name, code: key, windowsVirtualKeyCode: code, modifiers: shift ? 8 : 0 };
      await page.send("Input.dispatchKeyEvent", { type: text ? "keyDown" : "rawKeyDown", text, ...what });
      await page.send("Input.dispatchKeyEvent", { type: "keyUp", ...what });
    },
    // tab goes on by the Tab key until a thing has the focus.
    async tab(selector) {
      for (let i = 0; i < 150; i++) {
        await me.key("Tab");
        const at = await page.run(`(() => { const e = document.activeElement; const s = getComputedStyle(e); return { there: e.matches(${quote(selector)}), seen: s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 || parseFloat(getComputedStyle(e.querySelector(".point") ?? e).strokeWidth) >= 4, what: e.outerHTML.slice(0, 80) }; })()`);
        if (!at.seen && at.what.slice(0, 5) !== "<body") hold(false, `${await me.where()}: the focus is not seen on ${at.what}`);
        if (at.there) return;
      }
      throw new Error(`the Tab key does not lead to ${selector} at ${await me.where()}`);
    },
    async until(what, expression, ms = 60000) {
      for (const end = Date.now() + ms; Date.now() < end; await sleep(150)) if (await page.run(expression).catch(() => false)) return;
      throw new Error(`waited in vain: ${what}; ${await me.where()} says: ${(await page.text()).slice(0, 600)}`);
    },
    async look(name) { await look(page, width, height, server.url, name); },
    // refused forgets what the browser says of an answer that had to be a refusal.
    refused() { page.problems.length = 0; },
  };
  return me;
}

// look holds what must hold of every page, and takes its pictures.
async function look(page, width, height, own, name) {
  looked++;
  name = `${name}-${width}`;
  await page.run(`(async () => { for (let y = 0; y < document.body.scrollHeight; y += innerHeight) { scrollTo(0, y); await new Promise((ok) => setTimeout(ok, 30)); } scrollTo(0, 0);
    await Promise.race([Promise.all([...document.images].filter((i) => i.checkVisibility()).map((i) => i.decode().catch(() => {}))), new Promise((ok) => setTimeout(ok, 20000))]); })()`);
  const at = await page.run(`(() => { const w = document.documentElement.clientWidth; const seen = (e) => { const r = e.getBoundingClientRect(); return r.width > 2 && r.height > 2 && r.right > 0 && e.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true }); };
    const slides = (e) => { for (; e; e = e.parentElement) if (/auto|scroll/.test(getComputedStyle(e).overflowX)) return true; return false; };
    const inText = (e) => e.tagName === "A" && getComputedStyle(e).display === "inline" && [...e.parentElement.childNodes].some((n) => n !== e && n.textContent.trim().length > 1);
    const all = performance.getEntries().filter((e) => e.entryType === "navigation" || e.entryType === "resource");
    return {
      wide: document.documentElement.scrollWidth > w,
      cut: [...document.querySelectorAll("body *")].filter((e) => { const s = getComputedStyle(e); const r = e.getBoundingClientRect();
        return seen(e) && s.display !== "inline" && !e.closest("svg") && !slides(e) && (r.right > w + 1 || (e.clientWidth > 2 && s.overflowX !== "visible" && !/INPUT|TEXTAREA|SELECT/.test(e.tagName) && e.scrollWidth > e.clientWidth + 2)); }).map((e) => e.tagName + "." + e.className + " " + e.textContent.trim().slice(0, 30)),
      small: [...document.querySelectorAll("a, button, select, textarea, input:not([type=hidden]), summary, [role=slider]")].filter((e) => { if (!seen(e) || e.closest(".skip, .first") || inText(e)) return false;
        const label = /checkbox|radio/.test(e.type) && (e.closest("label") || (e.id && document.querySelector('label[for="' + e.id + '"]'))); const r = (label || e).getBoundingClientRect();
        return r.width < ${least - 0.5} || r.height < ${least - 0.5}; }).map((e) => { const r = e.getBoundingClientRect(); return Math.round(r.width) + "x" + Math.round(r.height) + " " + e.outerHTML.slice(0, 90); }),
      blank: [...document.images].filter((i) => seen(i) && !i.naturalWidth).map((i) => i.getAttribute("src")),
      bytes: all.filter((e) => e.entryType === "navigation" || e.initiatorType === "script" || e.initiatorType === "link" || e.initiatorType === "fetch").reduce((n, e) => n + e.encodedBodySize, 0),
      asked: all.map((e) => e.name), title: document.title, lang: document.documentElement.lang }; })()`);
  hold(!at.wide, `${name}: scrolls sideways`);
  hold(at.cut.length === 0, `${name}: cut: ${at.cut.slice(0, 3).join("; ")}`);
  hold(at.small.length === 0, `${name}: too small to press: ${at.small.slice(0, 4).join("; ")}`);
  hold(at.blank.length === 0, `${name}: pictures that do not show: ${at.blank.slice(0, 3).join("; ")}`);
  hold(at.bytes <= most, `${name}: ${at.bytes} bytes without its pictures`);
  if (at.bytes > heaviest.bytes) heaviest = { bytes: at.bytes, name };
  for (const r of [...at.asked, ...page.requests]) hold(r.startsWith(own + "/") || /^(data|about|blob):/.test(r), `${name}: asks for ${r}`);
  hold(page.problems.length === 0, `${name}: the browser says: ${page.problems.slice(0, 3).join("; ")}`);
  page.problems.length = 0;
  page.requests.length = 0;
  for (const dark of [false, true]) {
    await page.size(width, height, dark);
    if (axe) {
      await page.run(`window.axe || (${quote("")}, (0, eval)(${quote(axe)})); 0`);
      const found = await page.run(`axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })
        .then((r) => r.violations.map((v) => v.impact + ": " + v.id + ": " + v.nodes.slice(0, 2).map((n) => n.html.slice(0, 110)).join(" ; ")))`);
      hold(found.length === 0, `${name}${dark ? ", dark" : ""}: axe-core: ${found.join(" | ")}`);
    }
    const { cssContentSize: size } = await page.send("Page.getLayoutMetrics");
    await page.size(width, Math.max(height, Math.min(size.height, 8000)), dark); // all of it, with what sticks to an edge in its place
    const { data } = await page.send("Page.captureScreenshot", { format: "png" });
    fs.writeFileSync(path.join(folder, `${name}${dark ? "-dark" : ""}.png`), Buffer.from(data, "base64"));
  }
  await page.size(width, height);
}

// What is typed: a loaded waggler whose hull is thick enough for a code, as the
// calliper tells it, and its floats.
const stations = [[0, 3.4], [9, 4.4], [12, 7], [20, 14], [27, 16], [54, 13.4], [62, 12], [70, 4.6], [149, 4.2], [150, 3], [174, 3]];
const pasted = "number\tpattern\trating g\tbuilt in g\tmetal\treading\n4\tsedge\t8\t7.20\tbrass\t0.76 g\n5\tsedge\t8\t7.18\tbrass\t0.77 g\n";

async function sayWho(me) {
  await me.type("[name='maker/name']", "Withy Sluice Floats");
  await me.type("[name='maker/address']", "1 Weir Lane\nExampleton EX1 1EX");
  await me.type("[name='maker/contact']", "bench@withysluice.example");
  await me.type("[name='maker/market']", "GB");
  await me.type("[name='maker/currency']", "GBP");
  await me.type("[name='maker/host']", "f.example");
  await me.press("Save");
}

async function typeStations(me) {
  let rows = await me.page.run(`document.querySelectorAll("[name^='z.']").length`);
  for (; rows < stations.length; rows++) { await me.find("button", "Add a station"); await me.page.tap("[data-press]"); }
  for (const [i, [z, d]] of stations.entries()) { await me.type(`[name='z.${i}']`, String(z)); await me.type(`[name='d.${i}']`, String(d)); }
  for (let i = stations.length; i < rows; i++) { await me.type(`[name='z.${i}']`, ""); await me.type(`[name='d.${i}']`, ""); }
}

// day is the whole of it, on a screen of some width.
async function day(chromium, width) {
  const workshop = path.join(folder, `workshop-${width}`), downloads = path.join(folder, `downloads-${width}`);
  fs.mkdirSync(downloads, { recursive: true });
  const server = await serve(workshop);
  try {
    const me = await maker(chromium, server, width), { page } = me;
    await page.send("Browser.setDownloadBehavior", { behavior: "allow", downloadPath: downloads });
    await me.open("");
    await me.look("01-empty");
    await me.press("Say who makes the floats");
    await me.look("02-settings-empty");
    await sayWho(me);
    hold((await page.run(`document.querySelector("[name='maker/host']").value`)) === "f.example", "the settings are not kept");
    await me.look("03-settings");

    await me.press("Workshop");
    await me.type("#name", "26-11");
    await me.press("Begin", "button");
    hold((await me.where()) === "b/26-11/patterns", `a batch begins at ${await me.where()}`);
    await me.look("04-patterns-empty");
    await me.type("#n-name", "Sedge");
    await me.type("#n-kind", "loaded");
    await me.press("Add", "button");
    await me.look("05-pattern-new");
    const before = await page.run(`document.querySelector("#shape .numbers").innerText`);
    await typeStations(me);
    await me.type("[name='waterline_mm']", "158");
    await me.type("[name='tip_from_mm']", "156");
    await me.type("[name='key']", "sedge");
    await me.until("the figures follow what is typed", `document.querySelector("#shape .numbers")?.innerText && document.querySelector("#shape .numbers").innerText !== ${quote(before)}`);
    await me.look("06-pattern-typed");
    await me.press("Save");
    await me.open("b/26-11/patterns");
    await me.look("07-patterns");

    await me.press("Say which floats there are");
    await me.look("08-floats-empty");
    await me.type("[name='rating.0.load']", "8 g");
    await me.type("[name='rating.0.price']", "6.50");
    await me.press("Save the ratings");
    await me.type("#a-count", "3");
    await me.type("#a-built", "7.2");
    await me.type("#a-metal", "brass");
    await me.look("09-floats-ratings");
    await me.press("Add", "#add button");
    await me.look("10-floats");
    await me.unfold("Paste from a spreadsheet");
    await me.type("#text", pasted);
    await me.press("Look at what was understood");
    hold((await me.text()).includes("Floats that were understood: 2."), "what was pasted is not shown as understood");
    await me.look("11-floats-pasted");
    await me.press("Take them over");

    // Undo of a change, and the change once more.
    const rows = () => page.run(`document.querySelectorAll("#board tbody tr").length`);
    hold((await rows()) === 5, `${await rows()} floats, not 5`);
    await me.press("Undo", ".undo button");
    await me.open("b/26-11/floats");
    hold((await rows()) === 3, `undone, ${await rows()} floats are left, not 3`);
    await me.unfold("Paste from a spreadsheet");
    await me.type("#text", pasted);
    await me.press("Look at what was understood");
    await me.press("Take them over");
    await me.press("change", "a.change");
    await me.look("12-float-changed");
    await me.open("b/26-11/floats");
    await me.look("13-floats-whole");
    await me.open("b/26-11");
    await me.look("14-batch");
    hold((await page.run(`document.querySelector(".next")?.innerText`)) === "Test them at the tank", "the batch does not lead on to the tank");

    await me.open("b/26-11/tank");
    await me.look("15-tank");
    for (const reading of ["0.74", "0.77", "1.02"]) { // the third is far off its rating
      await me.type("#reading", reading);
      await me.press("Store it", "button");
      hold((await me.text()).includes("It is stored."), `the reading ${reading} is not stored`);
    }
    await me.look("16-tank-read");
    await me.open("b/26-11/grade");
    await me.look("17-grade");

    // A mark that does not lie where it was put, turned, and put right by a press.
    await me.open("b/26-11/marks");
    if (await me.is("#mark") === false) { await me.look("18-marks"); await page.loaded(() => page.tap("main a[href*='/marks/']")); }
    await me.look("19-mark");
    await me.type("#zone\\.0\\.style, [name$='style']", "full");
    await me.type("[name$='at_mm']", "60");
    await me.type("[name$='height_mm']", "25");
    await me.press("Save", "#mark .save button");
    await me.until("what helps is told", `!document.querySelector(".looking")`);
    const turned = await page.run(`document.querySelector("#float img").src`);
    await page.run(`document.getElementById("float").focus()`);
    for (let i = 0; i < 3; i++) await me.key("ArrowRight");
    await me.until("the float turns", `document.querySelector("#float img").src !== ${quote(turned)}`);
    await me.look("20-mark-troubled");
    hold(await me.is(".remedies button"), "nothing helps the mark across the shoulder");
    if (await me.is(".remedies button")) await page.loaded(() => page.tap(".remedies button"));
    await me.until("the code is tried", `!document.querySelector(".looking")`);
    await me.look("21-mark-helped");
    await me.type("[name$='at_mm']", "28");
    await me.press("Save", "#mark .save button");
    await me.until("the code is tried", `!document.querySelector(".looking")`);
    await me.look("22-mark");

    await me.open("b/26-11/sheets");
    await me.until("the sheets are laid out", `!document.querySelector("[data-work]")`);
    await me.look("23-sheets");
    await me.open("b/26-11/print");
    await me.look("24-print");
    await me.press("Make the print");
    if (await me.is("progress")) await me.look("25-print-made");
    await me.until("the print is made", `!document.querySelector("progress") && document.querySelector(".pending")`, 120000);
    await sleep(300);
    await me.look("26-print-pending");
    const found = await page.run(`[...document.querySelectorAll(".pending a[download]")].map((a) => a.download)`);
    for (const kind of ["decals", "backers", "jobsheet"]) {
      const name = `${kind}-26-11-print-1.pdf`;
      hold(found.includes(name), `no ${name} to download: ${found}`);
      await page.tap(`.pending a[download="${name}"]`);
      for (const end = Date.now() + 15000; Date.now() < end && !fs.existsSync(path.join(downloads, name)); ) await sleep(100);
      hold(fs.existsSync(path.join(downloads, name)) && fs.statSync(path.join(downloads, name)).size > 1000, `${name} is not downloaded: ${fs.readdirSync(downloads)}`);
    }
    await me.press("It came out right");
    await me.look("27-print-right");

    await me.open("b/26-11/tick");
    await me.look("28-tick");
    const ids = await page.run(`[...document.querySelectorAll(".missing .id")].map((e) => e.innerText.trim())`);
    hold(ids.length === 5, `${ids.length} floats are to be ticked off, not 5`);
    fs.writeFileSync(path.join(downloads, "ids.txt"), ids.join("\n") + "\n");
    await me.type("#v-id", ids[0]);
    await me.press("Tick off", "button");
    hold((await me.text()).includes("It is ticked off."), "the float is not ticked off");
    await me.look("29-ticked");
    await me.type("#p-id", ids[0]);
    await me.press("Then its card");
    await me.look("30-pack");
    await me.type("#p-id", ids[1]); // of another float
    await page.loaded(async () => { await me.find("button", "Put it on this card"); await page.tap("[data-press]"); });
    hold(await me.is("[role=alert]"), "a float is packed on the card of another");
    me.refused();
    await me.look("31-pack-wrong");
    await me.type("#p-id", ids[0]);
    await me.press(await me.is("[name=float]") ? "Put it on this card" : "Then its card", "button");
    if (await me.is("[name=float]")) { await me.type("#p-id", ids[0]); await me.press("Put it on this card", "button"); }
    hold((await me.text()).includes("It is on its card."), "the float is not on its card");
    await me.look("32-packed");

    await me.open("b/26-11/cards");
    await me.until("the cards are laid out", `!document.querySelector("[data-work]")`);
    await me.look("33-cards");
    await me.open("records");
    await me.look("34-records");
    await me.type("#q", "sedge");
    await me.press("Find", "button");
    hold((await page.run(`document.querySelectorAll(".found tbody tr").length`)) === 5, "the records do not find the five floats");
    await me.look("35-records-found");
    for (const [to, name] of [["records/publish", "36-publish"], ["printer", "37-printer"]]) { await me.open(to); await me.look(name); }
    const measures = await page.run(`[...new Set([...document.querySelectorAll("main a[href*='/printer/']")].map((a) => a.pathname.replace("/-/bench/", "")))]`);
    for (const [i, to] of measures.entries()) { await me.open(to); await me.look(`38-measure-${i}`); }
    await me.open("b/26-11");
    hold((await page.run(`document.querySelector(".next")?.innerText`)).startsWith("Tick the floats off"), "a batch that is printed does not lead on to its floats");
    await me.open("");
    await me.look("39-workshop");
    await me.open("b/26-11/nowhere");
    me.refused();
    await me.look("40-nowhere");
  } finally {
    await server.stop();
  }
}

// byKeys is the beginning by keyboard alone, and two browsers on its batch.
async function byKeys(chromium) {
  const server = await serve(path.join(folder, "workshop-keys"));
  try {
    const me = await maker(chromium, server, 1280), { page } = me;
    const say = async (selector, text) => { await me.tab(selector); if (text) await page.send("Input.insertText", { text }); };
    const enter = () => page.loaded(() => me.key("Enter"));
    await me.open("");
    await me.tab(".next a");
    await enter();
    await say("[name='maker/name']", "Withy Sluice Floats");
    await say("[name='maker/address']", "1 Weir Lane\nExampleton EX1 1EX");
    await say("[name='maker/host']", "f.example");
    await me.tab("main button[type=submit]");
    await enter();
    hold((await page.run(`document.querySelector("[name='maker/name']").value`)) === "Withy Sluice Floats", "by keyboard the settings are not kept");
    await me.tab("a.home");
    await enter();
    await say("#name", "keys");
    await enter();
    await say("#n-name", "Reed");
    await enter();
    await me.tab("[name='z.1']");
    await me.key("Tab");
    await page.run(`document.activeElement.select()`); // as Tab does for a reader with a keyboard
    await page.send("Input.insertText", { text: "7,8" });
    await enter();
    await me.open("b/keys/patterns/0");
    hold((await page.run(`document.querySelector("[name='d.1']").value`)) === "7.8", "by keyboard the station is not kept");
    // A point of the outline moves by arrow keys.
    await me.tab(".overlay [role=button]");
    await me.tab(".overlay [role=button]");
    await me.key("ArrowUp");
    hold((await page.run(`document.querySelector("[name='d.1']").value`)) !== "7.8", "a point of the outline does not move by arrow keys");

    // Two browsers: the second change was made on what is no more.
    const other = await maker(chromium, server, 390);
    await me.open("b/keys/patterns/0");
    await other.open("b/keys/patterns/0");
    await me.type("[name='waterline_mm']", "181");
    await me.press("Save", "#pattern .save button");
    await other.type("[name='waterline_mm']", "175");
    await other.press("Save", "#pattern .save button");
    hold((await other.text()).includes("Somebody else changed this meanwhile"), `the second browser is told nothing: ${(await other.text()).slice(0, 300)}`);
    other.refused();
    await other.look("41-two-browsers");
    await other.press("Look at what is there now");
    hold((await other.where()) === "b/keys/patterns/0", `from a refused change it leads to ${await other.where()}`);
    await me.open("b/keys/patterns/0");
    hold((await page.run(`document.querySelector("[name='waterline_mm']").value`)) === "181", "the second browser wrote over the first");
  } finally {
    await server.stop();
  }
}

const chromium = await browser();
try {
  for (const [name, part] of [["1280", () => day(chromium, 1280)], ["390", () => day(chromium, 390)], ["keys", () => byKeys(chromium)]]) {
    if (process.env.BENCH_PART && process.env.BENCH_PART !== name) continue;
    try { await part(); } catch (e) { broken.push(`${name}: ${e.stack}`); }
  }
} finally {
  await chromium.close();
}
console.log(`figure: ${looked} pages looked at, light and dark; the heaviest without its pictures: ${heaviest.name}, ${heaviest.bytes} bytes`);
for (const b of broken) console.error(b);
process.exit(broken.length === 0 ? 0 : 1);
