// Has pictures of codes read by three readers from outside, beside the built-in
// one, whose answers come with the pictures:
//
//   node .ci/readers.mjs random|verdicts|symbols PICTURES MODULES
//
// PICTURES holds PGM files and index.tsv: file, kind, answer, 1 if the built-in
// reader read it, text. MODULES holds node_modules with zxing-wasm and jsqr;
// zbarimg is on the path. Only the right text counts as read, and each reader
// counts alone. The first word says what must hold; it ends with 1 if that does
// not, or if there are too few pictures to show anything.
import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { randoms, symbols, verdicts } from "./readings.mjs";

const rules = { random: randoms, verdicts, symbols }[process.argv[2]];
const pictures = resolve(process.argv[3]), modules = resolve(process.argv[4]);
const from = createRequire(join(modules, "here.js"));
const jsQR = from("jsqr").default ?? from("jsqr");
const { readBarcodes, prepareZXingModule } = await import(pathToFileURL(join(modules, "node_modules/zxing-wasm/dist/es/reader/index.js")));
const wasm = readFileSync(from.resolve("zxing-wasm/reader/zxing_reader.wasm"));
await prepareZXingModule({ overrides: { wasmBinary: wasm }, fireImmediately: true });

// pgm returns a grey picture as the readers want it: four bytes to a point.
function pgm(name) {
  const file = readFileSync(name);
  const head = /^P5\n(\d+) (\d+)\n255\n/.exec(file.subarray(0, 40).toString("latin1"));
  const width = Number(head[1]), height = Number(head[2]), grey = file.subarray(head[0].length);
  if (grey.length !== width * height) throw new Error(`${name}: ${grey.length} points`);
  const data = new Uint8ClampedArray(4 * grey.length).fill(255);
  grey.forEach((v, i) => { data[4 * i] = data[4 * i + 1] = data[4 * i + 2] = v; });
  return { data, width, height, colorSpace: "srgb" };
}

// zbar reads many files in one run and returns what it found in each.
function zbar(names) {
  const found = new Map();
  for (let i = 0; i < names.length; i += 500) {
    const batch = names.slice(i, i + 500);
    let out;
    try {
      out = execFileSync("zbarimg", ["--nodbus", "--quiet", "--xml", "-Sdisable", "-Sqrcode.enable", ...batch],
        { cwd: pictures, maxBuffer: 1 << 28, stdio: ["ignore", "pipe", "pipe"] });
    } catch (e) {
      if (e.status !== 4) throw e; // 4: some picture without a code
      out = e.stdout;
    }
    const sources = [...out.toString().matchAll(/<source href='([^']*)'>([^]*?)<\/source>/g)];
    if (sources.length !== batch.length) throw new Error(`zbarimg tells of ${sources.length} pictures, not ${batch.length}`);
    for (const [, name, inside] of sources)
      found.set(name, [...inside.matchAll(/<!\[CDATA\[([^]*?)\]\]>/g)].map((m) => m[1]));
  }
  return found;
}

const all = readFileSync(join(pictures, "index.tsv"), "utf8").split("\n").filter(Boolean).map((line) => {
  const [file, kind, answer, gozxing, text] = line.split("\t");
  return { file, kind, answer, text, read: { gozxing: gozxing === "1" } };
});
const byZbar = zbar(all.map((p) => p.file));
for (const p of all) {
  const picture = pgm(join(pictures, p.file));
  const found = (await readBarcodes(picture, { formats: ["QRCode"], tryHarder: true })).find((r) => r.text === p.text);
  p.read.zxing = found !== undefined;
  p.size = found && `V${found.version}-${found.ecLevel}`;
  try {
    p.read.jsqr = jsQR(picture.data, picture.width, picture.height, { inversionAttempts: "dontInvert" })?.data === p.text;
  } catch { // it counts in places off the picture now and then
    p.read.jsqr = false;
  }
  p.read.zbar = byZbar.get(p.file).includes(p.text);
}
const broken = rules(all);
for (const b of broken) console.log(`does not hold: ${b}`);
process.exit(broken.length > 0 ? 1 : 0);
