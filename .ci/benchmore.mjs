// The maker's pages that lie beside his day: what is at hand, several batches on one
// sheet, phones, copies of the records, and pages that are being worked out.
import fs from "node:fs";
import path from "node:path";
import { folder, hold, sleep } from "./maker.mjs";

// working looks at a page while what it shows is worked out: the answer to how far it
// is stays away as long as that takes.
export async function working(me, name, begin) {
  const { page } = me;
  await page.send("Fetch.enable", { patterns: [{ urlPattern: "*/state*" }] });
  try {
    await begin();
    hold(await me.is("progress"), `${name}: ${await me.where()} does not show that it is worked out`);
    await me.look(name);
  } finally {
    await page.send("Fetch.disable");
  }
}

const open = (me, own) => me.page.open(new URL(own, me.home).href);

// atHand are the answers at hand, each asked.
export async function atHand(me) {
  await me.open("convert?load=3AAA%2B2No4&tip=3");
  await me.look("42-convert");
  await me.open("trim?weight=7.2+g&of=brass&side=inside&takes=0.62+g&want=0.8+g&metal=tin&rod=6&tip=dry&wide=3");
  await me.look("43-trim");
  await me.open("stocks");
  await me.type("[name='name']", "Office film");
  await me.type("[name='wide']", "200");
  await me.type("[name='high']", "280");
  await me.press("Add it", "button");
  await me.look("44-stocks");
  await me.open("one?load=0.8+g&diameter=14&height=20&tip=3&built=7.2+g&metal=brass&style=full");
  await me.look("45-one");
  for (const name of ["mend-1", "mend-2"]) {
    await me.open("one?load=0.8+g&diameter=14&height=20&tip=3&built=7.2+g&metal=brass&style=full");
    await me.type("#name", name);
    await me.press("Make it a batch of one", "button");
  }
}

// imperial is what shows inches where the settings say so.
export async function imperial(me, batch) {
  const units = async (which) => { await me.open("workshop"); await me.type("[name='maker/units']", which); await me.press("Save", "button"); };
  await units("imperial");
  await me.look("46-settings-imperial");
  await me.open(`${batch}/tank?number=1`); // where all are read one is asked for
  hold(/, in\b/.test(await me.page.run(`document.querySelector("label[for=above]").innerText`)), "the tank does not ask for inches");
  await me.look("47-tank-imperial");
  await units("");
}

// readings are those of the tank one by one, one of them a slip.
export async function readings(me, batch) {
  await me.open(`${batch}/tank/readings`);
  await me.press("Strike it out", "button");
  hold(await me.is("li.struck"), "a reading that was struck out is not shown so");
  await me.look("48-readings");
  await me.press("Let it count again", "button");
}

// together are two batches that share a sheet, up to their common print.
export async function together(me) {
  await me.open("b/mend-1/together");
  await me.look("49-together");
  await me.open("b/mend-1/together?with=mend-2");
  await me.until("what it saves is worked out", `!document.querySelector("progress") && document.querySelector(".against")`);
  await me.look("50-together-saves");
  await me.press("Make the prints together", "button");
  await me.until("the prints are made", `!document.querySelector("progress") && document.querySelector(".pending")`, 120000);
  await sleep(300);
  await me.look("51-together-pending");
  await me.press("All of it came out right", "button");
}

// phone is how a phone comes in, from no word to an open door.
export async function phone(me) {
  await me.open("phone");
  await me.look("52-phone");
  await me.type("#word", "sluice gate weir");
  await me.type("#again", "sluice gate weir");
  await me.press("Set the word", "button");
  await me.look("53-phone-word");
  await me.press("Let phones in", "button");
  hold(await me.is(".scan img"), "the door does not open");
  await me.look("54-phone-open");
  await me.press("Shut the door", "button");
}

// records are a float's, its batch's and its pattern's, as the maker changes them.
export async function records(me, batch, pattern, id) {
  for (const [name, to] of [["55-record", `record/${id}`], ["56-record-batch", `build/batch/${batch}`], ["57-record-pattern", `build/pattern/${pattern}`]]) {
    await open(me, `/-/${to}`);
    await me.look(name);
  }
}

// copy is a backup that is sent back, and left alone.
export async function copy(me) {
  const file = path.join(folder, `backup-${me.width}.db`);
  fs.writeFileSync(file, Buffer.from(await (await fetch(new URL("/-/bench/records/backup.db", me.home))).arrayBuffer()));
  await me.open("records/restore");
  await me.look("58-restore");
  await me.page.file("#file", file);
  await me.press("Look what is in it", "button");
  hold(await me.is("form[action$='/restore/do']"), `a backup is not taken: ${(await me.text()).slice(0, 400)}`);
  await me.look("59-restore-sent");
  await me.press("Leave all as it is", "button");
}
