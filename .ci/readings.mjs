// What must hold of codes that four readers were given, and the tables of it.
// Each of the functions takes the pictures { kind, answer, text, size, read:
// { gozxing, zxing, jsqr, zbar } }, prints its table and returns what does not
// hold, a sentence each. The lines that begin with "figure:" are the sums.

const readers = ["gozxing", "zxing", "jsqr", "zbar"];

// group returns a map of the pictures by what key gives.
function group(pictures, key) {
  const groups = new Map();
  for (const p of pictures) {
    if (!groups.has(key(p))) groups.set(key(p), []);
    groups.get(key(p)).push(p);
  }
  return groups;
}

const count = (pictures, reader) => pictures.filter((p) => p.read[reader]).length;

// Shares of the random pictures that must read where the closed form says yes,
// and may where it says no.
const readIfYes = { gozxing: 0.85, zxing: 0.95, jsqr: 0.85 };
const readIfNo = { gozxing: 0.22, zxing: 0.22 };

// randoms: answer is what the closed form says of the picture, yes or no; kind
// is plain or widened. It must hold of all together and of each kind.
export function randoms(pictures) {
  const broken = [];
  if (pictures.length < 1000) broken.push(`${pictures.length} pictures show nothing, 1000 do`);
  for (const [kind, of] of [["all", pictures], ...group(pictures, (p) => p.kind)])
    for (const reader of readers) {
      const share = {};
      for (const answer of ["yes", "no"]) {
        const told = of.filter((p) => p.answer === answer);
        if (told.length < 100) broken.push(`${kind}: ${told.length} pictures foretold ${answer} show nothing`);
        share[answer] = count(told, reader) / told.length;
        console.log(`figure: ${kind}: ${reader} reads ${count(told, reader)} of ${told.length} foretold ${answer}: ${share[answer].toFixed(3)}`);
      }
      if (!(share.yes >= (readIfYes[reader] ?? 0))) broken.push(`${kind}: ${reader} must read ${readIfYes[reader]} of those foretold`);
      if (!(share.no <= (readIfNo[reader] ?? 1))) broken.push(`${kind}: ${reader} may read ${readIfNo[reader]} of the others`);
    }
  return broken;
}

// symbols: flat, clean codes of known size, kind. Every reader reads each, and
// the reader that tells the size it read tells that one.
export function symbols(pictures) {
  const broken = [];
  if (pictures.length < 300) broken.push(`${pictures.length} codes show nothing, 300 do`);
  const sizes = [...group(pictures, (p) => p.kind).keys()];
  if (sizes.length < 12) broken.push(`${sizes.length} sizes of 12: ${sizes}`);
  for (const reader of readers) console.log(`figure: ${reader} reads ${count(pictures, reader)} of ${pictures.length} in ${sizes.length} sizes`);
  for (const p of pictures) {
    const missed = readers.filter((r) => !p.read[r]);
    if (missed.length > 0) broken.push(`${p.file} (${p.kind}), ${JSON.stringify(p.text)} is read by ${missed}`);
    else if (p.size !== p.kind) broken.push(`${p.file} is made as ${p.kind} and read as ${p.size}`);
  }
  return broken;
}

// What a design that passed the proof is to read in 16 pictures of its grade, and
// in how many of the designs it must: 16 pictures scatter. Under the floor no
// reader may fall with any design. The fourth reader is told and not held to it:
// it has next to no grip on the smallest codes on round bodies at all.
const wanted = { gozxing: 12, zxing: 15, jsqr: 12 }, hold = 0.95, floor = 12;

// verdicts: kind is a design that passed the proof, answer the grade it passed.
export function verdicts(pictures) {
  const broken = [], held = new Map();
  for (const [kind, of] of group(pictures, (p) => p.kind)) {
    const grade = of[0].answer, read = readers.map((r) => `${r} ${count(of, r)}`).join(", ");
    const good = Object.entries(wanted).every(([r, n]) => count(of, r) >= n);
    held.set(grade, [...(held.get(grade) ?? []), good]);
    console.log(`${grade}: ${kind}: of ${of.length} ${read}${good ? "" : ": not as wanted"}`);
    if (of.length !== 16) broken.push(`${kind}: ${of.length} pictures`);
    for (const r of Object.keys(wanted)) if (count(of, r) < floor) broken.push(`${kind}: ${r} reads ${count(of, r)}`);
  }
  for (const [grade, of] of held) {
    const n = of.filter(Boolean).length;
    console.log(`figure: ${grade}: ${n} of ${of.length} designs read as wanted`);
    if (n < hold * of.length || of.length < 20) broken.push(`${grade}: ${n} of ${of.length} designs`);
  }
  for (const grade of ["aim", "casual"]) if (!held.has(grade)) broken.push(`no design passed ${grade}`);
  return broken;
}
