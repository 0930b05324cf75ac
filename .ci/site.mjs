// A published folder on a plain host, in a real browser.
//
//   node --experimental-websocket .ci/site.mjs FLOATMARK WORKSHOP FOLDER [PEER]
//
// FLOATMARK is the program, WORKSHOP one with printed floats, FOLDER an empty
// folder to publish into, PEER where node_modules with axe-core lies. The host
// hands files out, adds index.html and answers with 404.html, and does nothing
// else. It fails when an id in any way of writing does not lead to its page, the
// choice does not tell what the server tells, a page needs a script to be of use,
// asks for anything from elsewhere, weighs too much, or has a serious finding of
// axe-core.
import { execFileSync, spawn } from "node:child_process";
import fs from "node:fs";
import http from "node:http";
import path from "node:path";
import { browser } from "./chromium.mjs";

const [program, workshop, folder, peer] = process.argv.slice(2);
const axe = peer ? fs.readFileSync(path.join(peer, "node_modules/axe-core/axe.min.js"), "utf8") : "";
const most = 30000; // bytes of a page and all it needs, photographs apart
const broken = [];
const hold = (is, what) => { if (!is) broken.push(what); };
const at = ["--workshop", workshop];
const run = (...args) => execFileSync(program, [...args, ...at], { stdio: ["pipe", "pipe", "pipe"] }).toString();
run("publish", folder);
run("check-links", folder);
const id = JSON.parse(run("record", "list", "--json"))[0].id;
const mixed = [...id].map((c, i) => (i % 2 ? c.toLowerCase() : c)).join("");

const types = { ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".jpg": "image/jpeg" };
const host = http.createServer((req, res) => {
  let name = path.join(folder, decodeURIComponent(new URL(req.url, "http://h/").pathname));
  if (fs.existsSync(name) && fs.statSync(name).isDirectory()) {
    if (!req.url.endsWith("/")) return res.writeHead(301, { Location: req.url + "/" }).end();
    name = path.join(name, "index.html");
  }
  const found = fs.existsSync(name);
  if (!found) name = path.join(folder, "404.html");
  res.writeHead(found ? 200 : 404, { "Content-Type": types[path.extname(name)] ?? "application/octet-stream" }).end(fs.readFileSync(name));
});
await new Promise((ok) => host.listen(0, "127.0.0.1", ok));
const url = `http://127.0.0.1:${host.address().port}`;
const server = spawn(program, ["serve", "--addr", "127.0.0.1:0", ...at], { stdio: ["ignore", "pipe", "ignore"] });
const live = await new Promise((ok) => server.stdout.on("data", (d) => { const m = String(d).match(/http:\/\/\S+?(?=\/?\s)/); if (m) ok(m[0]); }));

const chrome = await browser("--accept-lang=de,en");
try {
  const page = await chrome.page();
  await page.size(390, 844);
  const where = () => page.run("location.pathname");
  const settled = async (want, what) => {
    for (let i = 0; i < 100; i++) {
      if ((await where().catch(() => "")) === want) return;
      await new Promise((ok) => setTimeout(ok, 50));
    }
    broken.push(`${what}: leads to ${await where()} and not ${want}`);
  };
  const look = async (name) => {
    hold(page.requests.every((r) => r.startsWith(url) || r.startsWith("data:")), `${name} asks for ${page.requests.filter((r) => !r.startsWith(url))}`);
    hold(page.bytes <= most, `${name} weighs ${page.bytes} bytes`);
    hold(await page.run("document.documentElement.scrollWidth <= innerWidth"), `${name} scrolls sideways`);
    if (!axe) return;
    await page.run(axe);
    const bad = await page.run("axe.run().then((r) => r.violations.filter((v) => ['serious', 'critical'].includes(v.impact)).map((v) => v.id + ' ' + v.nodes[0].html))");
    hold(bad.length === 0, `${name}: ${bad.join("; ")}`);
  };

  // Every way to write an id; a language that is offered and kept.
  for (const way of [id + "/", id, id.toLowerCase(), mixed, id.slice(0, 3) + "-" + id.slice(3)]) {
    await page.open(`${url}/${way}`);
    await settled(way === id.toLowerCase() ? `/${id.toLowerCase()}/` : `/${id}/`, way);
  }
  await page.open(`${url}/${id}/`);
  hold(await page.run("document.querySelector('#offer a')?.lang") === "de", "German is not offered to a German reader");
  await look("the page of a float");
  page.bytes = 0;
  await page.loaded(() => page.tap("#offer a"));
  hold((await where()) === `/${id}/de/`, "the offer does not lead to the German page");
  await look("its German page");
  await page.loaded(() => page.tap("nav a[hreflang=en]"));
  hold((await where()) === `/${id}/` && !(await page.run("document.querySelector('#offer')")), "English was chosen and is not kept");

  // The choice tells what the server tells.
  const sets = await page.run("[...document.querySelectorAll('#set option')].map((o) => o.value)");
  const metals = await page.run("[...document.querySelectorAll('#metal option')].map((o) => o.value)");
  for (const set of sets) for (const metal of metals) for (const water of ["fresh", "sea"]) {
    const told = await page.run(`(() => {
      document.querySelector("#set").value = ${JSON.stringify(set)};
      document.querySelector("#metal").value = ${JSON.stringify(metal)};
      document.querySelector("input[name=water][value=${water}]").checked = true;
      document.querySelector("#choose").dispatchEvent(new Event("change", { bubbles: true }));
      return document.querySelector("#add-shot").textContent + " " + document.querySelector("#add-gram").textContent;
    })()`);
    const answer = await (await fetch(`${live}/${id}?set=${set}&metal=${metal}&water=${water}`, { headers: { "Accept-Language": "en" } })).text();
    const of = (what) => (answer.match(new RegExp(`id="${what}"[^>]*>([^<]*)<`))?.[1] ?? "").replaceAll("&#43;", "+");
    const even = (s) => s.replace(/[\s\u00a0]+/g, " ").trim();
    hold(even(told) === even(of("add-shot") + " " + of("add-gram")), `${set} ${metal} ${water}: "${even(told)}", the server says "${even(of("add-shot") + " " + of("add-gram"))}"`);
  }
  await page.open(`${url}/${id}/`);
  hold(await page.run("document.querySelector('#set').value + document.querySelector('input[name=water]:checked').value") === sets.at(-1) + "sea", "the choice is not kept");

  // The entrance, and what there is no page of.
  await page.open(`${url}/`);
  await look("the entrance");
  await page.run(`(() => { const f = [...document.forms].find((f) => f.offsetParent); f.elements.id.value = ${JSON.stringify(" " + mixed.slice(0, 3) + " " + mixed.slice(3))}; f.requestSubmit(); })()`);
  await settled(`/${id}/`, "an id typed at the entrance");
  await page.open("about:blank"); // what is under way belongs to the page before
  await page.open(`${url}/ZZZZZZ`);
  hold((await page.text()).includes("No float has this id"), "a missing page does not say so");
  await look("the page for what is missing");
  await page.open(`${url}/nothing/here`);
  hold((await where()) === "/nothing/here", "what is no id is led elsewhere");

  // Without scripts: the add of the mark, and every set in a table.
  await page.send("Emulation.setScriptExecutionDisabled", { value: true });
  await page.open(`${url}/${id}/`);
  const html = (await page.send("DOM.getOuterHTML", { nodeId: (await page.send("DOM.getDocument", { depth: -1 })).root.nodeId })).outerHTML;
  hold(/id="add-shot">[^<]+</.test(html) && (html.match(/<th scope="row">/g) ?? []).length >= 2 * sets.length, "without scripts there is no add, or no table of sets");
  await page.open(`${url}/`);
  const entrance = (await page.send("DOM.getOuterHTML", { nodeId: (await page.send("DOM.getDocument", { depth: -1 })).root.nodeId })).outerHTML;
  hold(entrance.includes("/9KYA3C/"), "without scripts the entrance does not say what to do");
  hold(page.problems.filter((p) => !p.includes("404")).length === 0, "the browser complains: " + page.problems.filter((p) => !p.includes("404")).join("; "));
  console.log(`site: ${sets.length * metals.length * 2} choices told as by the server, ${broken.length} faults`);
} finally {
  await chrome.close();
  server.kill();
  host.close();
}
for (const b of broken) console.error(b);
process.exit(broken.length ? 1 : 0);
