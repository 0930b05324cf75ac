// Draws 10,000 codes, all different, 200 on an A4 sheet, with a published PDF
// library, and compares its time with what our benchmark of the same job says on
// standard input:
//
//   go test ./layouts/pdf -run '^$' -bench '^BenchmarkCodes10000' -benchtime 2x -count 4 | node .ci/pdfpeer.mjs DIR
//
// DIR holds node_modules with pdfkit and qrcode-generator. It ends with 1 if ours
// is slower, or says nothing; how long ours takes beside packing the same streams
// alone, for which 1.3 times is the aim, it reports. The codes are made before the clock starts; each is one compound path
// of its dark runs.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";

const dir = resolve(process.argv[2] ?? ".");
const load = createRequire(join(dir, "here.js"));
const PDFDocument = load("pdfkit"), qrcode = load("qrcode-generator");

const codes = 10000, perSheet = 200, perRow = 10, module_ = 0.35, mm = 72 / 25.4;
const matrices = [];
for (let i = 0; i < codes; i++) {
  const qr = qrcode(0, "M");
  qr.addData("F.EXAMPLE/" + String(i * 7654321 % 10000000).padStart(7, "0"), "Alphanumeric");
  qr.make();
  matrices.push(qr);
}

const started = performance.now();
const doc = new PDFDocument({ size: "A4", margin: 0, autoFirstPage: false, compress: true });
let bytes = 0;
const done = new Promise(end => { doc.on("data", d => { bytes += d.length; }); doc.on("end", end); });
for (let page = 0; page < codes / perSheet; page++) {
  doc.addPage();
  for (let i = 0; i < perSheet; i++) {
    const qr = matrices[page * perSheet + i], n = qr.getModuleCount();
    const x0 = (12 + (i % perRow) * 18.5) * mm, y0 = (10 + Math.floor(i / perRow) * 13.5) * mm;
    for (let y = 0; y < n; y++)
      for (let x = 0; x < n; x++) {
        if (!qr.isDark(y, x)) continue;
        let end = x;
        while (end < n && qr.isDark(y, end)) end++;
        doc.rect(x0 + x * module_ * mm, y0 + y * module_ * mm, (end - x) * module_ * mm, module_ * mm);
        x = end;
      }
    doc.fill("black");
  }
}
doc.end();
await done;
const theirs = performance.now() - started;

const lines = readFileSync(0, "utf8").split("\n");
// Of several runs the fastest counts: what else the machine does only slows one.
const time = name => {
  const all = lines.map(l => l.match(new RegExp("^" + name + "(-\\d+)?\\s+\\d+\\s+(\\d+(\\.\\d+)?) ns/op"))).filter(Boolean);
  return all.length ? Math.min(...all.map(m => Number(m[2]) / 1e6)) : undefined;
};
const ours = time("BenchmarkCodes10000"), packing = time("BenchmarkCodes10000Packing");
console.log(`peer ${theirs.toFixed(0)} ms, ${(bytes / 1e6).toFixed(2)} MB; ours ${ours?.toFixed(0)} ms; packing alone ${packing?.toFixed(0)} ms, ours is ${(ours / packing).toFixed(2)} of it`);
process.exit(ours && packing && ours < theirs ? 0 : 1);
