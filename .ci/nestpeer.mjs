// Lays the mix of layouts/nest's tests by a published rectangle packer and
// compares it with what the tests report of ours on standard input:
//
//   go test ./layouts/nest -count 1 -run '^TestGoals$' -v | node .ci/nestpeer.mjs DIR
//
// DIR holds node_modules with maxrects-packer. It ends with 1 if ours needs more
// of the stock for either mix, or reports nothing. Lengths are millimetres. The
// packer sees bounding boxes, which it may turn; of all its ways of choosing, in
// several orders, the best one counts.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const dir = resolve(process.argv[2] ?? ".");
// The package names its CommonJS file as a module, so that its module is asked for.
const found = createRequire(join(dir, "here.js")).resolve("maxrects-packer");
const { MaxRectsPacker, PACKING_LOGIC } = await import(pathToFileURL(join(dirname(found), "maxrects-packer.mjs")));

const width = 200, height = 287, gap = 2;
// Upper radius, lower radius, slant of a frustum; diameter, length of a stem.
const ratings = [[2, 4, 12, 2.5, 9], [2, 5, 12, 3, 9], [3, 6, 14, 3, 10], [4, 8, 12, 4, 10], [5, 9.5, 20, 5, 12]];

// Sectors of up to half a turn, standing on their axis.
function sector([upper, lower, slant]) {
  const inner = upper * slant / (lower - upper), outer = inner + slant;
  const sweep = 2 * Math.PI * (lower - upper) / slant;
  return {
    width: 2 * outer * Math.sin(sweep / 2), height: outer - inner * Math.cos(sweep / 2),
    net: sweep / 2 * (outer * outer - inner * inner),
  };
}

function mix(sets, squares) {
  const all = [];
  const add = (n, p) => { for (let i = 0; i < n; i++) all.push({ ...p }); };
  for (let i = 0; i < sets; i++)
    for (const r of ratings) {
      add(6, sector(r));
      const w = Math.PI * r[3] + 1;
      add(4, { width: w, height: r[4], net: w * r[4] });
    }
  add(squares, { width: 9, height: 9, net: 81 });
  return all;
}

const orders = {
  "as given": () => 0,
  "by area": (a, b) => b.width * b.height - a.width * a.height,
  "by longer side": (a, b) => Math.max(b.width, b.height) - Math.max(a.width, a.height),
};

function peer(pieces) {
  let best;
  for (const [choice, logic] of Object.entries(PACKING_LOGIC).filter(([, v]) => typeof v === "number"))
    for (const [order, compare] of Object.entries(orders))
      for (const each of [false, true]) {
        const packer = new MaxRectsPacker(width, height, gap,
          { smart: false, pot: false, square: false, allowRotation: true, tag: false, border: 0, logic });
        const sorted = pieces.map((p) => ({ ...p })).sort(compare);
        if (each) for (const p of sorted) packer.add(p); else packer.addArray(sorted);
        const bins = packer.bins;
        const last = bins[bins.length - 1].rects;
        const strip = Math.max(...last.map((r) => r.y + r.height)) / height;
        const side = Math.max(...last.map((r) => r.x + r.width)) / width;
        const sheets = bins.length - 1 + Math.min(strip, side);
        if (!best || sheets < best.sheets) best = { sheets, opened: bins.length, rule: `${choice}, ${order}${each ? ", one by one" : ""}` };
      }
  return best;
}

const told = readFileSync(0, "utf8");
let bad = false;
for (const [sets, squares] of [[1, 10], [17, 150]]) {
  const pieces = mix(sets, squares);
  const start = performance.now();
  const p = peer(pieces);
  const ms = performance.now() - start;
  const net = pieces.reduce((s, q) => s + q.net, 0) / (width * height);
  const percent = (sheets) => (100 * net / sheets).toFixed(2);
  console.log(`peer: ${pieces.length} pieces: ${p.opened} sheets, ${p.sheets.toFixed(3)} spent, net ${percent(p.sheets)} % (${p.rule}; all ways ${ms.toFixed(0)} ms)`);
  const line = told.match(new RegExp(`ours: ${pieces.length} pieces: (\\d+) sheets, ([\\d.]+) spent, net ([\\d.]+) %.*`));
  if (!line) {
    console.log(`ours: nothing is told of ${pieces.length} pieces`);
    bad = true;
    continue;
  }
  console.log(line[0]);
  // The same mix, or the comparison is void: net area over stock must agree.
  if (Math.abs(Number(line[2]) * Number(line[3]) - 100 * net) > 0.02 * 100 * net) {
    console.log("the two mixes differ");
    bad = true;
  }
  if (Number(line[1]) > p.opened || Number(line[2]) > p.sheets) {
    console.log("ours is worse");
    bad = true;
  }
}
process.exit(bad ? 1 : 0);
