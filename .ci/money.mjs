// Compares how prices and figures are written with Unicode's CLDR as npm's
// cldr-numbers-full has it: money.mjs FILE PEERS.
import { readFileSync } from "node:fs";
import { join } from "node:path";

const [file, peers] = process.argv.slice(2);
const { Money, Figures } = JSON.parse(readFileSync(file, "utf8"));
const read = (...path) => JSON.parse(readFileSync(join(peers, "node_modules", ...path), "utf8"));
const digits = read("cldr-core", "supplemental", "currencyData.json").supplemental.currencyData.fractions;

// CLDR leaves out a country that is as its language's largest; inherits what it
// does not say.
function locale(tag) {
  for (const name of [tag, tag.split("-")[0]])
    try {
      const numbers = read("cldr-numbers-full", "main", name, "numbers.json").main[name].numbers;
      const names = read("cldr-numbers-full", "main", name, "currencies.json").main[name].numbers.currencies;
      return { numbers, names };
    } catch {}
  throw new Error(`no CLDR data for ${tag}`);
}

// A currency's sign: CLDR's, its narrow one, or its code; which, is the writer's.
// A country's data may name another currency by its code where its language has a sign.
const signs = (tag, code) =>
  [...new Set([tag, tag.split("-")[0]].map((t) => locale(t).names[code]).flatMap((n) => [n.symbol, n["symbol-alt-narrow"]]).concat(code).filter(Boolean))];

// Where CLDR has changed how thousands are parted since the tables that prices are
// written by: the mark they have. A country whose readers know both.
const older = { "fr-CH": " " };

// money writes an amount by a locale's pattern of CLDR.
function money(tag, amount, code, sign) {
  const { numbers } = locale(tag);
  const symbols = numbers["symbols-numberSystem-latn"];
  const pattern = numbers["currencyFormats-numberSystem-latn"].standard.split(";")[0];
  const places = Number((digits[code] ?? digits.DEFAULT)._digits);
  let [whole, part = ""] = Number(amount).toFixed(places).split(".");
  const group = older[tag] ?? symbols.currencyGroup ?? symbols.group;
  if (whole.length >= 3 + Number(numbers.minimumGroupingDigits)) whole = whole.replace(/\B(?=(\d{3})+$)/g, group);
  const figure = part ? whole + (symbols.currencyDecimal ?? symbols.decimal) + part : whole;
  let text = pattern.replace(/[#0.,]+/, figure);
  // A code of letters keeps off the figure (CLDR, currencySpacing).
  if (/[A-Z]$/i.test(sign)) text = text.replace(/¤(?=\d)/, "¤\u00a0");
  return text.replace("¤", sign);
}

const plain = (text) => text.replace(/[\u202f\u00a0]/g, " ");
let wrong = 0;
for (const { Locale, Amount, Code, Text } of Money) {
  const want = signs(Locale, Code).map((sign) => money(Locale, Amount, Code, sign));
  if (want.some((w) => plain(w) === plain(Text))) continue;
  wrong++;
  console.log(`${Locale}: ${Amount} ${Code} is written "${Text}", CLDR says "${want.join('" or "')}"`);
}
for (const { Locale, Value, Text } of Figures) {
  const want = String(Value).replace(".", locale(Locale).numbers["symbols-numberSystem-latn"].decimal);
  if (want === Text) continue;
  wrong++;
  console.log(`${Locale}: ${Value} is written "${Text}", CLDR says "${want}"`);
}
console.log(`figure: ${Money.length} prices and ${Figures.length} figures, ${wrong} not as CLDR ${read("cldr-numbers-full", "package.json").version} has them`);
process.exit(wrong > 0 || Money.length < 300 ? 1 : 0);
