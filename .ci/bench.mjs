// The maker's own pages in a real browser: from an empty workshop to the printed
// files, as somebody does it for the first time, on a wide and on a narrow screen;
// all of it once more by keyboard alone; by touch; two browsers on one batch.
//
//   node --experimental-websocket .ci/bench.mjs FLOATMARK FOLDER [PEER]
//
// FLOATMARK is the program, FOLDER an empty folder to work in, PEER where
// node_modules with axe-core lies; without it axe-core is not asked. In FOLDER is
// then what was downloaded, with the ids that must stand in it, and there or in the
// folder that BENCH_PICTURES names a picture of every page, light and dark.
// BENCH_PART=1280, 390, keys or touch does that part alone.
import fs from "node:fs";
import path from "node:path";
import { byKeys } from "./benchkeys.mjs";
import { atHand, copy, imperial, phone, readings, records, together, working } from "./benchmore.mjs";
import { byTouch } from "./benchtouch.mjs";
import { browser } from "./chromium.mjs";
import { broken, folder, hold, maker, pasted, quote, seen, serve, sleep, stations } from "./maker.mjs";

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
    hold((await page.run(`document.querySelector(".next, .go")?.innerText`)) === "Test them at the tank", "the batch does not lead on to the tank");

    await me.open("b/26-11/tank");
    await me.look("15-tank");
    for (const reading of ["0.74", "0.77", "1.02"]) { // the third is far off its rating
      await me.type("#reading", reading);
      await me.press("Store it", "button");
      hold((await me.text()).includes("It is stored."), `the reading ${reading} is not stored`);
    }
    await me.look("16-tank-read");
    await readings(me, "b/26-11");
    await imperial(me, "b/26-11");
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
    await me.type("#spares", "2");
    await working(me, "23-sheets-working", () => me.press("Lay it out so", "button"));
    await atHand(me);
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
    await me.open("b/26-11");
    await me.look("27-batch-printed");
    await me.open("spares");
    await me.look("27-spares");
    const spares = await page.run(`[...document.querySelectorAll(".ready .id")].map((e) => e.innerText.trim())`);
    hold(spares.length > 0, "the spares that were asked for are not listed");
    fs.writeFileSync(path.join(downloads, "spares.txt"), spares.join("\n") + "\n");
    await together(me);

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
    await me.type("#v-id", ids[1]);
    await me.press("Tick off", "button");
    await me.open("b/26-11"); // printed, ticked off, packed
    await me.look("32-batch-packed");

    await me.open("b/26-11/cards");
    await me.until("the cards are laid out", `!document.querySelector("[data-work]")`);
    await me.look("33-cards");
    await me.type("[name='card/kind']", "fold");
    await working(me, "33-cards-working", () => me.press("Save, and look at them", "button"));
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
    hold((await page.run(`document.querySelector(".next, .go")?.innerText`)).startsWith("Tick the floats off"), "a batch that is printed does not lead on to its floats");
    await me.open("");
    await me.look("39-workshop");
    await records(me, "26-11", "sedge", ids[0]);
    await copy(me);
    await phone(me);
    await me.open("b/26-11/nowhere");
    me.refused();
    await me.look("40-nowhere");
  } finally {
    await server.stop();
  }
}

const chromium = await browser();
try {
  for (const [name, part] of [["1280", () => day(chromium, 1280)], ["390", () => day(chromium, 390)], ["keys", () => byKeys(chromium)], ["touch", () => byTouch(chromium)]]) {
    if (process.env.BENCH_PART && process.env.BENCH_PART !== name) continue;
    try { await part(); } catch (e) { broken.push(`${name}: ${e.stack}`); }
  }
} finally {
  await chromium.close();
}
console.log(`figure: ${seen.looked} pages looked at, light and dark; the heaviest without its pictures: ${seen.heaviest.name}, ${seen.heaviest.bytes} bytes`);
for (const b of broken) console.error(b);
process.exit(broken.length === 0 ? 0 : 1);
