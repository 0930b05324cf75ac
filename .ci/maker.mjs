// Somebody at a browser who makes floats: what the checks of the maker's own pages
// are driven with, and what holds of each of those pages.
import { spawn } from "node:child_process";
import fs from "node:fs";
import path from "node:path";

export const [program, folder, peer] = process.argv.slice(2);
// Where the pictures of the pages go, named by page, width and "dark".
const pictures = process.env.BENCH_PICTURES ?? folder;
fs.mkdirSync(pictures, { recursive: true });
const axe = peer && fs.readFileSync(path.join(peer, "node_modules/axe-core/axe.min.js"), "utf8");
const least = 44; // CSS pixels of a target: WCAG 2.2, target size (enhanced)
const most = 150_000; // bytes of a page without its pictures
export const broken = [];
export const hold = (is, what) => { if (!is) broken.push(what); };
export const sleep = (ms) => new Promise((ok) => setTimeout(ok, ms));
export const quote = JSON.stringify;
export const seen = { looked: 0, heaviest: { bytes: 0 } };

export async function serve(workshop) {
  fs.mkdirSync(workshop, { recursive: true });
  const server = spawn(program, ["bench", "--no-browser", "--addr", "127.0.0.1:0", "--phones", "127.0.0.1:0", "--workshop", workshop], { stdio: ["ignore", "pipe", "pipe"] });
  let log = "";
  server.stderr.on("data", (d) => (log += d));
  const url = await new Promise((ok, no) => {
    server.stdout.on("data", (d) => { const m = String(d).match(/http:\/\/[\d.]+:\d+/); if (m) ok(m[0]); });
    server.on("exit", () => no(new Error("the server does not start: " + log)));
  });
  return { url, async stop() { const gone = new Promise((ok) => server.on("exit", ok)); server.kill("SIGTERM"); await gone; } };
}

// maker is somebody at a screen.
export async function maker(chromium, server, width) {
  const page = await chromium.page();
  const height = width < 600 ? 844 : 900;
  await page.size(width, height);
  const me = {
    page, width, home: server.url,
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
    // key presses one key; edit is what an editor does of it, as the browser's own
    // keys would.
    async key(key, shift = false, edit) {
      const code = { Tab: 9, Enter: 13, Backspace: 8, Space: 32, ArrowDown: 40, ArrowUp: 38, ArrowRight: 39, ArrowLeft: 37, Home: 36, a: 65 }[key];
      const name = key === "Space" ? " " : key, text = { Enter: "\r", Space: " " }[key];
      const what = { key: name, code: key, windowsVirtualKeyCode: code, modifiers: edit ? 2 : shift ? 8 : 0, commands: edit ? [edit] : undefined };
      await page.send("Input.dispatchKeyEvent", { type: text ? "keyDown" : "rawKeyDown", text, ...what });
      await page.send("Input.dispatchKeyEvent", { type: "keyUp", ...what });
    },
    async until(what, expression, ms = 60000) {
      for (const end = Date.now() + ms; Date.now() < end; await sleep(150)) if (await page.run(expression).catch(() => false)) return;
      throw new Error(`waited in vain: ${what}; ${await me.where()} says: ${(await page.text()).slice(0, 1600)}`);
    },
    async look(name) { await look(page, width, height, server.url, name); },
    // refused forgets what the browser says of an answer that had to be a refusal.
    refused() { page.problems.length = 0; },
  };
  return me;
}

// What is seen of a page, and what of it is cut.
const helpers = `const w = document.documentElement.clientWidth; const seen = (e) => { const r = e.getBoundingClientRect(); return r.width > 2 && r.height > 2 && r.right > 0 && e.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true }); };
    const slides = (e) => { for (; e; e = e.parentElement) if (/auto|scroll/.test(getComputedStyle(e).overflowX)) return true; return false; };`;
const cut = `[...document.querySelectorAll("body *")].filter((e) => { const s = getComputedStyle(e); const r = e.getBoundingClientRect();
        return seen(e) && s.display !== "inline" && !e.closest("svg") && !slides(e) && (r.right > w + 1 || (e.clientWidth > 2 && s.overflowX !== "visible" && !/INPUT|TEXTAREA|SELECT/.test(e.tagName) && e.scrollWidth > e.clientWidth + 2)); }).map((e) => e.tagName + "." + e.className + " " + e.textContent.trim().slice(0, 30))`;

// What axe-core is asked: in the dark only what depends on colours, for all else is
// as in the light.
const everything = { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] };
const colours = { type: "rule", values: ["color-contrast", "link-in-text-block"] };

// look holds what must hold of every page, and takes its pictures.
async function look(page, width, height, own, name) {
  seen.looked++;
  name = `${name}-${width}`;
  await page.run(`(async () => { for (let y = 0; y < document.body.scrollHeight; y += innerHeight) { scrollTo(0, y); await new Promise((ok) => setTimeout(ok, 30)); } scrollTo(0, 0);
    await Promise.race([Promise.all([...document.images].filter((i) => i.checkVisibility()).map((i) => i.decode().catch(() => {}))), new Promise((ok) => setTimeout(ok, 20000))]); })()`);
  const at = await page.run(`(() => { ${helpers}
    const inText = (e) => e.tagName === "A" && getComputedStyle(e).display === "inline" && [...e.parentElement.childNodes].some((n) => n !== e && n.textContent.trim().length > 1);
    const all = performance.getEntries().filter((e) => e.entryType === "navigation" || e.entryType === "resource");
    return {
      wide: document.documentElement.scrollWidth > w,
      keyless: [...document.querySelectorAll("input:not([type]), input[type=text], input[type=number]")].filter((e) => !e.readOnly && (e.type === "number" || (/_mm$|price|count/.test(e.name) && !e.closest(".edit")) || /^[+-]?\\d+([.,]\\d+)?$/.test(e.value))
        && !/decimal|numeric/.test(e.inputMode) && !(e.inputMode === "text" && e.form?.elements.units?.value === "imperial") && !/reading|bare|above|diameters|girths|card_size|name|note|id$|key|date/.test(e.name)).map((e) => e.name),
      cut: ${cut},
      small: [...document.querySelectorAll("a, button, select, textarea, input:not([type=hidden]), summary, [role=slider]")].filter((e) => { if (!seen(e) || e.closest(".skip, .first") || inText(e)) return false;
        const label = /checkbox|radio/.test(e.type) && (e.closest("label") || (e.id && document.querySelector('label[for="' + e.id + '"]'))); const r = (label || e).getBoundingClientRect();
        return r.width < ${least - 0.5} || r.height < ${least - 0.5}; }).map((e) => { const r = e.getBoundingClientRect(); return Math.round(r.width) + "x" + Math.round(r.height) + " " + e.outerHTML.slice(0, 90); }),
      blank: [...document.images].filter((i) => seen(i) && !i.naturalWidth).map((i) => i.getAttribute("src")),
      bytes: all.filter((e) => e.entryType === "navigation" || e.initiatorType === "script" || e.initiatorType === "link" || e.initiatorType === "fetch").reduce((n, e) => n + e.encodedBodySize, 0),
      asked: all.map((e) => e.name), title: document.title, lang: document.documentElement.lang }; })()`);
  hold(!at.wide, `${name}: scrolls sideways`);
  hold(at.cut.length === 0, `${name}: cut: ${at.cut.slice(0, 3).join("; ")}`);
  hold(at.keyless.length === 0, `${name}: numbers that a phone shows no number keys for: ${at.keyless.slice(0, 4).join(", ")}`);
  hold(at.small.length === 0, `${name}: too small to press: ${at.small.slice(0, 4).join("; ")}`);
  hold(at.blank.length === 0, `${name}: pictures that do not show: ${at.blank.slice(0, 3).join("; ")}`);
  hold(at.bytes <= most, `${name}: ${at.bytes} bytes without its pictures`);
  if (at.bytes > seen.heaviest.bytes) seen.heaviest = { bytes: at.bytes, name };
  for (const r of [...at.asked, ...page.requests]) hold(r.startsWith(own + "/") || /^(data|about|blob):/.test(r), `${name}: asks for ${r}`);
  hold(page.problems.length === 0, `${name}: the browser says: ${page.problems.slice(0, 3).join("; ")}`);
  page.problems.length = 0;
  page.requests.length = 0;
  if (width < 600) { // letters twice as large, as somebody reads who sees little
    const big = await page.run(`(() => { const root = document.documentElement; root.style.fontSize = parseFloat(getComputedStyle(root).fontSize) * 2 + "px"; ${helpers} const out = { wide: root.scrollWidth > w, cut: ${cut} }; root.style.fontSize = ""; return out; })()`);
    hold(!big.wide, `${name}: with letters twice as large it scrolls sideways`);
    hold(big.cut.length === 0, `${name}: with letters twice as large cut: ${big.cut.slice(0, 3).join("; ")}`);
  }
  for (const dark of [false, true]) {
    await page.size(width, height, dark);
    if (axe) {
      await page.run(`window.axe || (${quote("")}, (0, eval)(${quote(axe)})); 0`);
      const found = await page.run(`axe.run(document, { runOnly: ${quote(dark ? colours : everything)} })
        .then((r) => r.violations.map((v) => v.impact + ": " + v.id + ": " + v.nodes.slice(0, 2).map((n) => n.html.slice(0, 110)).join(" ; ")))`);
      hold(found.length === 0, `${name}${dark ? ", dark" : ""}: axe-core: ${found.join(" | ")}`);
    }
    const { cssContentSize: size } = await page.send("Page.getLayoutMetrics");
    await page.size(width, Math.max(height, Math.min(size.height, 8000)), dark); // all of it, with what sticks to an edge in its place
    const { data } = await page.send("Page.captureScreenshot", { format: "png" });
    fs.writeFileSync(path.join(pictures, `${name}${dark ? "-dark" : ""}.png`), Buffer.from(data, "base64"));
  }
  await page.size(width, height);
}

// What is typed: a loaded waggler whose hull is thick enough for a code, as the
// calliper tells it, and its floats.
export const stations = [[0, 3.4], [9, 4.4], [12, 7], [20, 14], [27, 16], [54, 13.4], [62, 12], [70, 4.6], [149, 4.2], [150, 3], [174, 3]];
export const pasted = "number\tpattern\trating g\tbuilt in g\tmetal\treading\n4\tsedge\t8\t7.20\tbrass\t0.76 g\n5\tsedge\t8\t7.18\tbrass\t0.77 g\n";
