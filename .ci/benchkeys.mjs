// The whole of a maker's day by keyboard alone: Tab, Shift+Tab, Enter, Space, arrow
// keys and typing. Wherever the focus comes it must be seen, in the window and not
// covered; it goes in the order in which the page is read, leaves everything again,
// and after a change it is where the change was made.
import fs from "node:fs";
import path from "node:path";
import { folder, hold, maker, pasted, quote, serve, sleep, stations } from "./maker.mjs";

// What must have been done at the end.
const expected = ["skip link", "settings", "begin", "pattern", "stations", "arrow keys on the outline", "ratings", "floats", "paste", "tank", "grade", "mark", "remedy", "float turned", "float tipped",
  "sheets", "print", "download", "came out right", "tick off", "card", "cards", "search", "unlock word", "record", "publish", "calibration", "two browsers"];

// focus tells of what has the focus; kept is what had it before.
const focus = (selector, first = ".skip") => `(() => {
  const e = document.activeElement, was = window.hadFocus;
  window.hadFocus = e;
  if (!e || e === document.body || e === document.documentElement) return { body: true };
  const s = getComputedStyle(e), ring = parseFloat(getComputedStyle(e.querySelector(".point") ?? e).strokeWidth);
  const all = [...e.getClientRects()], r = all.find((r) => r.width > 0) ?? e.getBoundingClientRect(), w = innerWidth, h = innerHeight;
  const left = Math.max(r.left, 0), right = Math.min(r.right, w), top = Math.max(r.top, 0), bottom = Math.min(r.bottom, h);
  const inside = right - left > 2 && bottom - top > Math.min(12, r.height - 2);
  const mine = (hit) => hit && (e.contains(hit) || hit.contains(e) && !/sticky|fixed/.test(getComputedStyle(hit).position) || hit.closest("label")?.control === e || e.closest("svg")?.contains(hit));
  const open = [[.5, .5], [.1, .2], [.9, .8]].some(([x, y]) => mine(document.elementFromPoint(left + (right - left) * x, top + (bottom - top) * y)));
  let order = "";
  if (was && was !== e && was.isConnected && was !== document.body && !e.matches(${quote(first)})) {
    if (!(was.compareDocumentPosition(e) & Node.DOCUMENT_POSITION_FOLLOWING)) order = "before it in the page";
    else if (![e, was].some((x) => x.closest(".skip, .save, .undo, .overlay, .top"))) {
      const o = was.getBoundingClientRect(), n = e.getBoundingClientRect();
      if (n.bottom <= o.top + 1 && n.left < o.right) order = "above it";
    }
  }
  return { there: ${selector ? `e.matches(${quote(selector)})` : "false"}, skip: e.matches(".skip"), main: !!e.closest("main"),
    seen: s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 || s.boxShadow !== "none" || ring >= 4, inside, open, order, what: e.outerHTML.slice(0, 90) }; })()`;

// hands are somebody's at a keyboard.
function hands(me) {
  const { page } = me, done = new Set();
  let stops = 0, walked = 0;
  const check = async (at, back) => {
    if (at.body) return;
    stops++;
    const where = await me.where();
    hold(at.seen, `keys, ${where}: the focus is not seen on ${at.what}`);
    hold(at.inside, `keys, ${where}: the focus is out of the window on ${at.what}`);
    hold(at.open || !at.inside, `keys, ${where}: something covers what has the focus: ${at.what}`);
    hold(back || !at.order, `keys, ${where}: the focus comes to ${at.what}, ${at.order}`);
  };
  let last = Date.now();
  const it = {
    done(what) {
      done.add(what);
      if (process.env.BENCH_TIMES) console.log(`${what}: ${Date.now() - last} ms`);
      last = Date.now();
    },
    missing: () => expected.filter((one) => !done.has(one)),
    told: () => `${stops} stops of the focus, ${walked} pages walked from end to end`,
    // tab goes on by the Tab key until a thing has the focus, which may have it.
    async tab(selector, back = false) {
      const first = await page.run(focus(selector));
      if (first.there) return;
      for (let i = 0; i < 300; i++) {
        await me.key("Tab", back);
        const at = await page.run(focus(selector));
        await check(at, back);
        if (at.there) return;
      }
      throw new Error(`the Tab key does not lead to ${selector} at ${await me.where()}: ${(await page.text()).slice(0, 400)}`);
    },
    // says is tab to what says something.
    async says(text, selector = "a, button, summary") {
      await me.find(selector, text);
      await it.tab("[data-press]");
    },
    async type(selector, text) {
      await it.tab(selector);
      await me.key("a", false, "selectAll");
      await page.send("Input.insertText", { text });
    },
    async choose(selector, value) {
      await it.tab(selector);
      const now = () => page.run(`document.activeElement.value`);
      for (const key of ["ArrowDown", "ArrowUp"]) for (let i = 0; i < 30; i++) {
        if ((await now()) === value) return;
        const was = await now();
        await me.key(key);
        if ((await now()) === was) break;
      }
      hold((await now()) === value, `keys, ${await me.where()}: ${value} is not to be chosen of ${selector}`);
    },
    enter: () => page.loaded(() => me.key("Enter")),
    go: async (selector) => { await it.tab(selector); await it.enter(); },
    press: async (text, selector) => { await it.says(text, selector); await it.enter(); },
    // landed holds that after a change the focus is somewhere sensible.
    async landed(selector) {
      await sleep(60);
      await page.run(`window.hadFocus = null`);
      const at = await page.run(focus(selector)), where = await me.where();
      hold(!at.body, `keys, ${where}: after a change nothing has the focus`);
      await check(at);
      hold(at.body || at.there, `keys, ${where}: after a change the focus is on ${at.what}, not on ${selector}`);
    },
    // walk goes round a whole page, from its first thing, the skip link, to the end
    // and to it again.
    async walk(first = ".skip") {
      walked++;
      await page.run(`window.hadFocus = null`);
      const where = await me.where();
      let skip = 0, main = 0, i = 0;
      for (; i < 400 && skip < 2; i++) {
        await me.key("Tab");
        const at = await page.run(focus(first));
        await check(at);
        if (at.there) skip++; else if (skip === 1 && at.main) main++;
      }
      hold(skip === 2, `keys, ${where}: the Tab key does not come round: a trap, or no skip link`);
      hold(main > 0, `keys, ${where}: the Tab key comes to nothing of the page`);
      await me.key("Tab", true); // and back again
      hold(!(await page.run(focus(first))).there, `keys, ${where}: Shift+Tab does not lead back`);
    },
  };
  return it;
}

// byKeys is the day.
export async function byKeys(chromium) {
  const server = await serve(path.join(folder, "workshop-keys")), downloads = path.join(folder, "downloads-keys");
  fs.mkdirSync(downloads, { recursive: true });
  try {
    const me = await maker(chromium, server, 1280), { page } = me, by = hands(me);
    await page.send("Browser.setDownloadBehavior", { behavior: "allow", downloadPath: downloads });
    await page.send("Emulation.setFocusEmulationEnabled", { enabled: true });
    try {
      await begin(me, by);
      await pattern(me, by);
      await floats(me, by);
      await tank(me, by);
      await marks(me, by);
      await print(me, by, downloads);
      await varnished(me, by);
      await kept(me, by);
      await twoBrowsers(chromium, server, me);
      by.done("two browsers");
    } finally {
      const missing = by.missing();
      hold(missing.length === 0, `keys: not done: ${missing.join(", ")}`);
      console.log(`figure: by keyboard alone, ${by.told()}`);
    }
  } finally {
    await server.stop();
  }
}

async function begin(me, by) {
  const { page } = me;
  await me.open("");
  await by.walk();
  await me.open("");
  await by.tab(".skip");
  await me.key("Enter");
  await me.key("Tab");
  hold(await page.run(`!!document.activeElement.closest("main")`), "keys: the skip link does not lead to the page");
  by.done("skip link");
  await by.go(".next a");
  await by.type("[name='maker/name']", "Withy Sluice Floats");
  await by.type("[name='maker/address']", "1 Weir Lane\nExampleton EX1 1EX");
  await by.type("[name='maker/contact']", "bench@withysluice.example");
  await by.choose("[name='maker/market']", "GB");
  await by.type("[name='maker/currency']", "GBP");
  await by.type("[name='maker/host']", "f.example");
  await by.go("main form.form button[type=submit]");
  await by.landed("h1");
  hold((await page.run(`document.querySelector("[name='maker/name']").value`)) === "Withy Sluice Floats", "keys: the settings are not kept");
  by.done("settings");
  await by.walk();
  await by.go("a.home");
  await by.type("#name", "keys");
  await by.enter();
  await by.landed("h1");
  hold((await me.where()) === "b/keys/patterns", "keys: a batch does not begin");
  by.done("begin");
}

async function pattern(me, by) {
  const { page } = me, value = (name) => page.run(`document.querySelector(${quote(`[name='${name}']`)})?.value`);
  await by.type("#n-name", "Sedge");
  await by.choose("#n-kind", "loaded");
  await by.tab("main form[action$='/new'] button");
  await by.enter();
  await by.landed("h1");
  by.done("pattern");
  let rows = await page.run(`document.querySelectorAll("[name^='z.']").length`);
  for (let i = 0; i < Math.min(rows, stations.length); i++) {
    await by.type(`[name='z.${i}']`, String(stations[i][0]));
    await by.type(`[name='d.${i}']`, String(stations[i][1]).replace(".", ",")); // either decimal sign
  }
  for (; rows < stations.length; rows++) {
    await by.says("Add a station");
    await me.key("Space"); // the focus goes into the new line
    await by.type(`[name='z.${rows}']`, String(stations[rows][0]));
    await by.type(`[name='d.${rows}']`, String(stations[rows][1]));
  }
  await by.type("[name='key']", "sedge");
  await by.type("[name='waterline_mm']", "158");
  await by.type("[name='tip_from_mm']", "156");
  await by.go("#pattern .save button");
  await by.landed("h1");
  hold((await value("d.0")) === "3.4" && (await value("z.10")) === "174", `keys: the stations are not kept: ${await value("d.0")}, ${await value("z.10")}`);
  by.done("stations");
  await by.tab(".overlay g:nth-of-type(2)");
  await me.key("ArrowUp");
  hold((await value("d.1")) === "4.5", `keys: a point of the outline does not move by arrow keys: ${await value("d.1")}`);
  await me.key("ArrowRight");
  hold((await value("z.1")) === "9.1", "keys: a point of the outline does not move along by arrow keys");
  await me.key("ArrowDown");
  await me.key("ArrowLeft");
  hold((await value("d.1")) === "4.4" && (await value("z.1")) === "9", "keys: a point of the outline does not come back");
  by.done("arrow keys on the outline");
  await me.open("b/keys/patterns/0");
  await by.walk();
}

async function floats(me, by) {
  const { page } = me, rows = () => page.run(`document.querySelectorAll("#board tbody tr").length`);
  await by.go(".day a[href$='/floats']");
  await by.type("[name='rating.0.load']", "8 g");
  await by.type("[name='rating.0.price']", "6,50");
  await by.type("[name='rating.1.load']", "7,8 g");
  await by.press("Save the ratings", "button");
  await by.landed("#ratings h2");
  by.done("ratings");
  await by.type("#a-count", "3");
  await by.choose("#a-rating", await page.run(`[...document.querySelectorAll("#a-rating option")].find((o) => o.text.startsWith("8 g")).value`));
  await by.type("#a-built", "7,2");
  await by.choose("#a-metal", "brass");
  await by.press("Add", "#add button");
  await by.landed("#board");
  hold((await rows()) === 3, `keys: ${await rows()} floats, not 3`);
  by.done("floats");
  await by.says("Paste from a spreadsheet", "summary");
  if (!(await page.run(`document.activeElement.parentElement.open`))) await me.key("Enter");
  await by.type("#text", pasted);
  await by.press("Look at what was understood", "button");
  await by.press("Take them over", "button");
  await by.landed("#board");
  hold((await rows()) === 5, `keys: ${await rows()} floats, not 5`);
  by.done("paste");
  await me.open("b/keys/floats");
  await by.walk();
}

async function tank(me, by) {
  const { page } = me;
  await by.go(".day a[href$='/tank']");
  for (const reading of ["0,76", "0.56", "0.77"]) { // the second comes to the other rating
    await by.landed("#reading");
    await by.type("#reading", reading);
    await by.enter();
    hold((await me.text()).includes("It is stored."), `keys: the reading ${reading} is not stored`);
  }
  by.done("tank");
  await by.walk();
  await by.go(".day a[href$='/grade']");
  await me.until("the floats are graded", `!document.querySelector("progress") && document.querySelector(".outside form button")`, 4000);
  await by.press("Make it one of", ".outside button");
  await by.landed("#f2");
  await me.until("the float is regraded", `!document.querySelector("progress") && document.querySelector("#f2")`);
  hold(/7\.80? g/.test(await page.run(`document.querySelector("#f2").innerText`)), "keys: the float is not made one of another rating");
  by.done("grade");
  await me.open("b/keys/grade");
  await by.walk();
}

async function marks(me, by) {
  const { page } = me;
  await by.go(".day a[href$='/marks']");
  await by.go("main a[href*='/marks/']");
  await by.choose("[name='zone.0.style']", "full");
  await by.type("[name='zone.0.at_mm']", "60,0");
  await by.type("[name='zone.0.height_mm']", "25");
  await by.go("#mark .save button");
  await by.landed("h1");
  await me.until("what helps is told", `!document.querySelector(".looking")`);
  by.done("mark");
  const float = () => page.run(`(() => { const e = document.getElementById("float"); return { turn: e.dataset.turn, tip: e.dataset.tip, src: e.querySelector("img").src }; })()`);
  const was = await float();
  await by.tab("#float");
  await me.key("ArrowRight");
  await me.key("ArrowRight");
  await me.until("the float turns", `document.getElementById("float").querySelector("img").src.includes("turn=20&tip=0")`);
  hold((await float()).turn === "20" && (await float()).src !== was.src, "keys: the float does not turn by arrow keys");
  by.done("float turned");
  for (let i = 0; i < 6; i++) await me.key("ArrowUp");
  await me.until("the float tips", `document.getElementById("float").querySelector("img").src.includes("turn=20&tip=40")`); // and no farther
  by.done("float tipped");
  await by.go(".remedies button");
  await by.landed("h1");
  by.done("remedy");
  await by.type("[name='zone.0.at_mm']", "28");
  await by.enter();
  await by.landed("h1");
  await me.until("the code is tried", `!document.querySelector(".looking")`);
  await me.open("b/keys/marks/0");
  await by.walk();
}

async function print(me, by, downloads) {
  const { page } = me, idle = `!document.querySelector("progress")`;
  await by.go(".day a[href$='/sheets']");
  await me.until("the sheets are laid out", `${idle} && document.querySelector("#spares")`);
  await by.type("#spares", "0");
  await by.press("Lay it out so", "button");
  await me.until("the sheets are laid out anew", `${idle} && document.querySelector(".film img")`);
  await by.landed("h1");
  by.done("sheets");
  await by.walk();
  await by.go(".day a[href$='/print']");
  await by.press("Make the print", "button");
  await by.landed("h1");
  await me.until("the print is made", `${idle} && document.querySelector(".pending")`, 120000);
  await sleep(200);
  await by.landed("h1");
  by.done("print");
  await by.walk();
  await me.open("b/keys/print");
  const name = "decals-keys-print-1.pdf", file = path.join(downloads, name);
  await by.tab(`.pending a[download="${name}"]`);
  await me.key("Enter");
  for (const end = Date.now() + 15000; Date.now() < end && !fs.existsSync(file); ) await sleep(100);
  hold(fs.existsSync(file) && fs.readFileSync(file).subarray(0, 5).toString() === "%PDF-", `keys: ${name} is not downloaded`);
  by.done("download");
  await by.press("It came out right", "button");
  await by.landed("h1");
  hold(!(await me.is(".pending")), "keys: the print is still asked about");
  by.done("came out right");
}

async function varnished(me, by) {
  const { page } = me;
  await by.go(".day a[href$='/tick']");
  const ids = await page.run(`[...document.querySelectorAll(".missing .id")].map((e) => e.innerText.trim())`);
  hold(ids.length === 5, `keys: ${ids.length} floats are to be ticked off, not 5`);
  await by.landed("#v-id");
  await by.type("#v-id", ids[0]);
  await by.enter();
  await by.landed("#v-id");
  hold((await me.text()).includes("It is ticked off."), "keys: the float is not ticked off");
  by.done("tick off");
  await by.type("#p-id", ids[0]);
  await by.enter();
  await by.landed("#p-id");
  await by.type("#p-id", ids[0]);
  await by.enter();
  await by.landed("#p-id");
  hold((await me.text()).includes("It is on its card."), "keys: the float is not on its card");
  by.done("card");
  await by.walk();
  await by.go(".day a[href$='/cards']");
  await me.until("the cards are drawn", `!document.querySelector("progress") && document.querySelector(".faces img")`);
  await by.choose("[name='card/kind']", "fold");
  await by.press("Save, and look at them", "button");
  await me.until("the cards are drawn anew", `!document.querySelector("progress") && document.querySelector(".faces img")`);
  await by.landed("h1");
  hold((await page.run(`document.querySelector("[name='card/kind']").value`)) === "fold", "keys: the cards are not kept");
  by.done("cards");
  await me.open("b/keys/cards");
  await by.walk();
}

async function kept(me, by) {
  const { page } = me;
  await by.go(".about a[href$='records']");
  await by.type("#q", "sedge");
  await by.enter();
  await me.until("the floats are found", `document.querySelectorAll(".found tbody tr").length === 5`);
  by.done("search");
  await by.walk();
  await me.open("phone"); // records are changed with the unlock word
  await by.type("#word", "sluice gate weir");
  await by.type("#again", "sluice gate weir");
  await by.enter();
  await by.landed("h1");
  hold((await me.text()).includes("An unlock word is set."), "keys: the unlock word is not set");
  by.done("unlock word");
  await by.walk();
  await me.open("records?q=sedge");
  await by.go(".found a.id");
  if (await page.run(`location.pathname === "/-/unlock"`)) {
    await by.type("input[name=word]", "sluice gate weir");
    await by.enter();
  }
  hold(/record/.test(await page.run("location.pathname")), `keys: the record has no page: ${await page.run("location.pathname")} says ${(await me.text()).slice(0, 300)}`);
  await by.walk("header p:first-of-type a"); // nothing there to be skipped
  by.done("record");
  await me.open("records/publish");
  await by.press("Write the pages", "button");
  await by.landed("h1");
  await me.until("the pages are written", `!document.querySelector("progress") && document.querySelector("a[href$='site.zip']")`, 60000);
  await sleep(200);
  await by.landed("h1");
  by.done("publish");
  await by.walk();
  await me.open("printer/ruler");
  for (const [name, text] of [["name", "office"], ["x", "180,5"], ["y", "249.6"], ["d1", "308,0"], ["d2", "308.0"], ["margin", "4"]]) await by.type(`.readings [name='${name}']`, text);
  await by.go(".readings button.big");
  await by.landed("h1");
  hold((await me.text()).includes("Stored."), `keys: what was measured is not stored: ${(await me.text()).slice(0, 400)}`);
  by.done("calibration");
  await by.walk();
}

// Two browsers: the second change was made on what is no more.
async function twoBrowsers(chromium, server, me) {
  const { page } = me;
  const other = await maker(chromium, server, 390);
  await me.open("b/keys/patterns/0");
  await other.open("b/keys/patterns/0");
  await page.send("Page.bringToFront"); // what lies behind is drawn slowly
  await me.type("[name='waterline_mm']", "157");
  await me.press("Save", "#pattern .save button");
  await other.page.send("Page.bringToFront");
  await other.type("[name='waterline_mm']", "155");
  await other.press("Save", "#pattern .save button");
  hold((await other.text()).includes("Somebody else changed this meanwhile"), `the second browser is told nothing: ${(await other.text()).slice(0, 300)}`);
  other.refused();
  await other.look("41-two-browsers");
  await other.press("Look at what is there now");
  hold((await other.where()) === "b/keys/patterns/0", `from a refused change it leads to ${await other.where()}`);
  await me.open("b/keys/patterns/0");
  hold((await page.run(`document.querySelector("[name='waterline_mm']").value`)) === "157", "the second browser wrote over the first");
}
