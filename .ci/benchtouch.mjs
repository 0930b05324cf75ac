// The pages under a finger, on a narrow screen: a point of the outline that is drawn,
// the float that is turned and tipped; and where a finger swipes up or down, the
// page scrolls all the same.
import path from "node:path";
import { folder, hold, maker, quote, serve, sleep } from "./maker.mjs";

const expected = ["station", "scrolled over the outline", "turned", "tipped", "scrolled over the float"];
const slowest = 150; // ms: what a picture that follows the finger may take

// byTouch goes over what follows a finger, on the demonstration batch.
export async function byTouch(chromium) {
  const server = await serve(path.join(folder, "workshop-touch")), done = new Set();
  try {
    const me = await maker(chromium, server, 390), { page } = me;
    await page.send("Emulation.setTouchEmulationEnabled", { enabled: true, maxTouchPoints: 5 });
    await me.open("");
    await me.press("Look around with an invented batch", "button");
    const batch = await me.where();
    await outline(me, batch, done);
    await float(me, batch, done);
  } finally {
    const missing = expected.filter((one) => !done.has(one));
    hold(missing.length === 0, `touch: not done: ${missing.join(", ")}`);
    await server.stop();
  }
}

// middle is where a finger meets a thing.
const middle = (me, selector) => me.page.run(`(() => { const e = document.querySelector(${quote(selector)}); e.scrollIntoView({ block: "center", inline: "center" }); const r = e.getBoundingClientRect();
  return { x: r.x + r.width / 2, y: r.y + r.height / 2, wide: r.width, high: r.height }; })()`);

// draw puts a finger down, and draws it by steps.
async function draw(me, from, ...by) {
  const touch = (type, at) => me.page.send("Input.dispatchTouchEvent", { type, touchPoints: at ? [{ x: at.x, y: at.y }] : [] });
  const at = { x: from.x, y: from.y };
  await touch("touchStart", at);
  for (const [x, y] of by) {
    const pieces = 6;
    for (let i = 0; i < pieces; i++) {
      at.x += x / pieces;
      at.y += y / pieces;
      await touch("touchMove", at);
      await sleep(30);
    }
  }
  await touch("touchEnd");
}

// swipe draws upwards or downwards, by which a page scrolls; it tells by how much.
async function swipe(me, from, y) {
  const was = await me.page.run("scrollY");
  await draw(me, from, [0, y]);
  await sleep(100);
  return (await me.page.run("scrollY")) - was;
}

async function outline(me, batch, done) {
  const { page } = me, value = (name) => page.run(`Number(document.querySelector(${quote(`[name='${name}']`)}).value)`);
  await me.open(`${batch}/patterns/0`);
  await me.until("the outline is there", `document.querySelector(".overlay .point")`);
  const k = 4, at = await middle(me, `.overlay g:nth-of-type(${k + 1}) .point`);
  const [z, d] = [await value(`z.${k}`), await value(`d.${k}`)];
  await draw(me, at, [0, -24]);
  hold((await value(`d.${k}`)) > d + 1, `touch: a point of the outline does not follow the finger: ${d} mm, ${await value(`d.${k}`)} mm`);
  hold((await value(`z.${k}`)) === z, "touch: a point drawn up went along the float");
  await me.until("the picture follows the finger", `(() => { const svg = document.querySelector("#shape svg"), p = document.querySelector(".overlay g:nth-of-type(${k + 1}) .point").getBoundingClientRect(); return svg && Math.abs(p.y - ${at.y} + 24) < 40; })()`, 5000);
  done.add("station");
  const stage = await middle(me, "#stage svg");
  hold((await swipe(me, { x: stage.x, y: stage.y + stage.high / 2 - 4 }, -220)) > 100, "touch: over the outline the page does not scroll");
  done.add("scrolled over the outline");
}

async function float(me, batch, done) {
  const { page } = me, pose = () => page.run(`(() => { const e = document.getElementById("float"); return { turn: Number(e.dataset.turn), tip: Number(e.dataset.tip), src: e.querySelector("img").src }; })()`);
  await me.open(`${batch}/marks/0`);
  await me.until("the code is tried", `!document.querySelector(".looking")`);
  const at = await middle(me, "#float"), was = await pose();
  await page.run("performance.clearResourceTimings()");
  await draw(me, at, [-at.wide / 4, 0]);
  await me.until("the float turns", `document.querySelector("#float img").src.includes("&turn=90&")`, 5000);
  hold((await pose()).tip === was.tip, "touch: a float that is turned tips");
  done.add("turned");
  await draw(me, at, [-at.wide / 18, 0], [0, -at.high / 4]); // first sideways: it holds the float
  await me.until("the float tips", `document.querySelector("#float img").src.includes("&tip=20")`, 5000);
  done.add("tipped");
  await sleep(900); // what is fetched ahead
  const took = await page.run(`performance.getEntriesByType("resource").filter((e) => e.name.includes("float.png")).map((e) => e.responseEnd - e.requestStart).sort((a, b) => a - b)`);
  const quick = took[Math.floor(took.length / 4)]; // of a machine that does other things too, those that were not kept waiting
  console.log(`figure: ${took.length} pictures of the float under the finger, a quarter of them within ${Math.round(quick)} ms, the slowest in ${Math.round(took.at(-1))} ms`);
  hold(quick <= slowest, `touch: a picture of the float takes ${Math.round(quick)} ms`);
  const held = await pose();
  hold((await swipe(me, await middle(me, "#float"), -220)) > 100, "touch: over the float the page does not scroll");
  const now = await pose();
  hold(now.turn === held.turn && now.tip === held.tip, "touch: a page that scrolls turns the float");
  done.add("scrolled over the float");
}
