
// The page beside the tank: one float after another, by buttons that a wet hand
// finds. Whatever was pressed is kept at once, so that a page opened anew goes on
// where it was.
(() => {
  const data = JSON.parse(document.getElementById("tank").dataset.tank);
  const say = data.say;
  const get = (id) => document.getElementById(id);
  const step = data.inch ? 25.4 / 64 : 0.5; // mm, as finely as an eye sets a tip
  const bounce = 400; // ms in which a wet finger may press twice and mean once
  const nowName = "tank/now/" + data.batch, setName = "tank/set/" + data.batch;
  const draftName = (which) => "tank/draft/" + data.batch + "/" + which;
  const floats = data.floats;
  const app = get("app");
  let draft = null; // of the float that hangs: {number, set, pressed, typed, above, stage}
  let last = null; // the reading saved last
  let untouched = false; // nothing was pressed since
  let turned = -bounce; // when the lower buttons last changed their meaning

  const fill = (phrase, ...parts) => parts.reduce((text, part) => text.replace("%s", part), phrase);
  const decimal = (text) => (data.comma ? text.replace(".", ",") : text);
  const number = (v, digits) => decimal(String(Number(v.toFixed(digits))));
  const gram = (v) => number(v, 3) + "\u00a0g";
  // A mass with its uncertainty, both to the same decimals, as the server writes
  // them: three, and no more than two digits of the uncertainty.
  const sure = (v, u) => {
    let places = u > 0 && u < 0.001 ? 4 : 3;
    let digits = u > 0 ? Math.floor(Math.log10(u)) + 1 : 0;
    if (u > 0 && Math.round(u * 10 ** (2 - digits)) >= 100) digits++;
    if (u > 0) places = Math.max(0, Math.min(places, 2 - digits));
    const text = (n) => decimal((Math.round(n * 10 ** places) / 10 ** places || 0).toFixed(places)) + "\u00a0g";
    return text(v) + " ± " + text(u);
  };
  const ounces = (v) => (data.inch ? " (" + decimal((v / 28.349523125).toPrecision(3)) + "\u00a0oz)" : ""); // beside a main figure
  const make = (tag, text, props = {}, ...inside) => {
    const el = Object.assign(document.createElement(tag), props);
    if (text) el.append(text);
    el.append(...inside);
    return el;
  };

  const queue = tankQueue(data.post, data.token, (said) => {
    if (said && said.batch === data.batch) {
      for (const one of said.floats) {
        const f = floats.find((o) => o.number === one.number);
        if (f) f.done = one.done;
      }
      if (app) show();
    }
    showQueue();
  });

  const float = () => floats.find((f) => f.number === draft.number);
  const set = () => data.sets.find((s) => s.key === draft.set) ?? data.sets[0];
  const mass = (name) => set().sizes.find((z) => z.name === name)?.mass ?? 0;
  const weighed = () => set().key === "";
  const total = () => (weighed() ? Number(draft.typed || 0) : draft.pressed.reduce((sum, name) => sum + mass(name), 0));
  const stage = () => (float().stages.includes(draft.stage) ? draft.stage : float().stage);

  function counts() {
    const all = new Map();
    for (const z of set().sizes) {
      const n = draft.pressed.filter((name) => name === z.name).length;
      if (n) all.set(z.name, n);
    }
    return all;
  }

  // What was saved last can be taken back until it is sent, or until something is
  // pressed for the next float: one press too many must not undo the float before.
  function canTakeBack() {
    const one = untouched && last && queue.read("tank/reading/" + last.key);
    return Boolean(one && !one.tried);
  }

  function hungText(one) {
    if (!one.shot?.length) return one.reading ? decimal(one.reading) : gram(0);
    return one.shot.map((s) => s.n + "\u00a0" + s.size).join(" + ");
  }

  function tipText(mm) {
    if (Math.abs(mm) < 1e-6) return say.AtMark;
    return fill(mm > 0 ? say.Above : say.Below, data.inch ? decimal((Math.abs(mm) / 25.4).toFixed(3)) + "\u00a0" + data.inch : number(Math.abs(mm), 1) + "\u00a0mm");
  }

  // begin goes to a float: to what was pressed for it before, if anything was.
  function begin(which, stageKept) {
    draft = queue.read(draftName(which)) ?? { number: which, set: queue.read(setName) ?? data.sets[0].key, pressed: [], typed: "", above: 0, stage: stageKept ?? "" };
    if (!data.sets.some((s) => s.key === draft.set)) draft = { ...draft, set: data.sets[0].key, pressed: [], typed: "" };
    keep();
  }

  function keep() {
    queue.write(nowName, JSON.stringify(draft.number));
    if (draft.pressed.length || draft.typed || draft.above || draft.corrects) queue.write(draftName(draft.number), JSON.stringify(draft));
    else queue.drop(draftName(draft.number));
  }

  function pressed() {
    untouched = false;
    keep();
    show();
  }

  function showFloat() {
    const f = float(), at = floats.indexOf(f);
    get("which").firstElementChild.textContent = fill(say.Number, f.number);
    get("which").lastElementChild.textContent = [f.pattern, f.nominal_g ? gram(f.nominal_g) + ounces(f.nominal_g) : "", f.id ?? ""].filter(Boolean).join(" · ");
    get("before").disabled = at === 0;
    get("after").disabled = at === floats.length - 1;
    const read = f.done.map((d) => [fill(say.Read, d.mass_g || d.uncertainty_g ? sure(d.mass_g, d.uncertainty_g) : d.last, say.Stages[d.stage]), ...d.told].join(". "));
    const waits = queue.waiting().filter((one) => one.batch === data.batch && one.number === f.number && !one.refused);
    read.push(...waits.map((one) => fill(say.Read, hungText(one), say.Stages[one.stage])));
    get("read").textContent = f.setups ? say.BySetups : read.join(" · ");
    get("hang").hidden = f.setups || get("hang").hidden && !get("tip").hidden;
    if (f.setups) get("tip").hidden = true;
  }

  function showHung() {
    const f = float(), grams = total(), n = counts();
    get("total").textContent = weighed() ? decimal(draft.typed || "0") + "\u00a0g" : gram(grams);
    if (data.inch) get("total").append(make("small", ounces(grams)));
    get("hung").textContent = [...n].map(([name, k]) => k + "\u00a0" + name).join(" + ") || (grams === 0 ? say.NothingYet : "");
    get("hung").classList.toggle("hint", n.size === 0);
    get("sofar").textContent = f.built_in_g ? fill(say.SoFar, gram(f.built_in_g), gram(f.built_in_g + grams)) : "";
    get("undo").textContent = canTakeBack() ? say.TakeBack : say.Undo;
    get("undo").disabled = !canTakeBack() && (weighed() ? !draft.typed : !draft.pressed.length);
    for (const b of get("sizes").children) {
      const k = n.get(b.dataset.size);
      b.classList.toggle("on", Boolean(k));
      if (!weighed()) b.firstChild.textContent = (k ? k + "\u00a0×\u00a0" : "") + b.dataset.size;
    }
  }

  function showTip() {
    get("stands").textContent = tipText(draft.above);
    get("stages").replaceChildren(...float().stages.map((one) => {
      const b = make("button", say.Stages[one], { type: "button" });
      b.setAttribute("aria-pressed", String(one === stage()));
      b.onclick = () => {
        draft.stage = one;
        pressed();
      };
      return b;
    }));
  }

  function showAll() {
    get("floats").replaceChildren(...floats.map((f) => {
      const done = f.done.some((d) => d.stage === stageOf(f)) || queue.waiting().some((one) => !one.refused && one.batch === data.batch && one.number === f.number && one.stage === stageOf(f));
      const b = make("button", String(f.number), { type: "button" }, make("small", done ? "✓" : f.setups ? "–" : "\u00a0"));
      b.setAttribute("aria-current", String(f === float()));
      b.onclick = () => {
        go(f.number);
        scrollTo(0, 0);
      };
      return b;
    }));
  }

  const stageOf = (f) => (f.stages.includes(draft.stage) ? draft.stage : f.stage);

  function show() {
    showFloat();
    showHung();
    showTip();
    showAll();
  }

  // The buttons of a set: one for each size, or figures to type a mass by.
  function showSizes() {
    const grid = get("sizes");
    grid.classList.toggle("keys", weighed());
    if (weighed()) {
      grid.replaceChildren(..."123456789.0".split("").map((c) => {
        const b = make("button", decimal(c), { type: "button" });
        b.onclick = () => {
          if (c === "." && draft.typed.includes(".") || draft.typed.length > 7) return;
          draft.typed = (draft.typed === "0" && c !== "." ? "" : draft.typed || (c === "." ? "0" : "")) + c;
          pressed();
        };
        return b;
      }));
    } else {
      grid.replaceChildren(...set().sizes.map((z) => {
        const b = make("button", "", { type: "button" }, make("span", z.name), make("small", gram(z.mass) + (z.unsure ? " ?" : "")));
        b.dataset.size = z.name;
        b.onclick = () => {
          draft.pressed.push(z.name);
          pressed();
        };
        return b;
      }));
    }
    get("unsure").hidden = !set().sizes.some((z) => z.unsure);
    get("which-set").value = set().key;
  }

  // turn shows one half of the work or the other. Their lower buttons lie in one
  // place, so that a press that comes at once is of the same finger.
  function turn(toTip) {
    turned = performance.now();
    get("hang").hidden = toTip || float().setups;
    get("tip").hidden = !toTip;
    get(toTip ? "save" : "here").focus({ preventScroll: true });
    scrollTo(0, 0);
  }

  function go(which) {
    if (which !== draft.number) {
      const stageKept = draft.stage;
      begin(which, stageKept);
    }
    turn(false);
    showSizes();
    show();
  }

  const next = (by) => floats[floats.indexOf(float()) + by];

  function today() {
    const d = new Date();
    return [d.getFullYear(), d.getMonth() + 1, d.getDate()].map((n) => String(n).padStart(2, "0")).join("-");
  }

  function save() {
    const one = { batch: data.batch, number: draft.number, set: set().key, stage: stage(), above_mm: String(draft.above), date: today() };
    if (weighed()) one.reading = draft.typed || "0";
    else if (draft.pressed.length) one.shot = [...counts()].map(([size, n]) => ({ size, n }));
    else one.reading = "0";
    one.draft = { ...draft, pressed: [...draft.pressed] };
    last = queue.add(one);
    if (draft.corrects) queue.remove(draft.corrects);
    queue.drop(draftName(draft.number));
    let to = next(1);
    while (to?.setups) to = floats[floats.indexOf(to) + 1];
    begin(to?.number ?? draft.number, draft.stage);
    turn(false);
    showSizes();
    show();
    untouched = true;
    showHung();
    get("kept").hidden = false;
    get("kept").textContent = fill(say.Kept, one.number, hungText(one)) + (to ? "" : ". " + say.Last);
  }

  function undo() {
    if (canTakeBack()) {
      const one = queue.takeBack(last.key);
      get("kept").hidden = true;
      if (one) resume(one);
      return;
    }
    if (weighed()) draft.typed = draft.typed.slice(0, -1);
    else draft.pressed.pop();
    pressed();
  }

  function resume(one) {
    draft = { ...one.draft };
    untouched = false;
    keep();
    turn(false);
    showSizes();
    show();
  }

  function showQueue() {
    const all = queue.waiting(), open = all.filter((one) => !one.refused).length;
    const state = queue.state();
    get("state").textContent = open ? fill(say.Waiting, open) + (state === "sending" ? ", " + say.Sending : "") : all.length ? say.Refused + ": " + all.length : data.token && data.batch ? say.AllSent : "";
    const alarm = get("alarm"), text = alarm.firstElementChild, link = alarm.lastElementChild;
    const said = { away: say.NoNetwork, locked: say.Locked, stale: say.Anew }[state] ?? (queue.keeps() ? "" : say.NotKept);
    alarm.hidden = !said || state === "away" && !open;
    if (text.textContent !== said) text.textContent = said;
    link.hidden = state !== "locked" && state !== "stale";
    link.textContent = state === "locked" ? say.Unlock : say.OpenAnew;
    link.href = state === "locked" ? data.unlock : data.here;
    get("waits").hidden = all.length === 0;
    get("waits").lastElementChild.replaceChildren(...all.map(showWaiting));
    if (draft) showHung();
  }

  function showWaiting(one) {
    const what = [one.batch === data.batch ? "" : one.batch, fill(say.Number, one.number), hungText(one), say.Stages[one.stage], tipText(Number(one.above_mm))].filter(Boolean).join(" · ");
    const li = make("li", "", {}, make("p", what));
    if (!one.refused) return li;
    li.append(make("p", say.Refused + ": " + one.refused.what + ". " + one.refused.do, { className: "note" }));
    const pair = make("div", "", { className: "pair" });
    const correct = make("button", say.Correct, { type: "button", className: "big" });
    correct.disabled = one.batch !== data.batch || !floats.some((f) => f.number === one.number);
    correct.onclick = () => resume({ draft: { ...one.draft, corrects: one.key } });
    const drop = make("button", say.Drop, { type: "button", className: "big plain" });
    drop.onclick = () => {
      if (drop.textContent === say.DropSure) queue.remove(one.key);
      else drop.textContent = say.DropSure;
    };
    pair.append(drop, correct);
    li.append(pair);
    return li;
  }

  if (app && floats.length && data.sets.length) {
    get("plain").remove();
    app.hidden = false;
    for (const s of data.sets) get("which-set").append(make("option", s.name, { value: s.key }));
    const asked = Number(new URLSearchParams(location.search).get("number"));
    const now = queue.read(nowName);
    const start = floats.find((f) => f.number === (asked || now)) ?? floats.find((f) => !f.setups && !f.done.length) ?? floats[0];
    begin(start.number);
    get("which-set").onchange = () => {
      draft = { ...draft, set: get("which-set").value, pressed: [], typed: "" };
      untouched = false;
      queue.write(setName, JSON.stringify(draft.set));
      keep();
      showSizes();
      show();
    };
    get("undo").onclick = undo;
    get("before").onclick = () => next(-1) && go(next(-1).number);
    get("after").onclick = () => next(1) && go(next(1).number);
    const meant = (f) => () => performance.now() - turned > bounce && f();
    get("here").onclick = meant(() => turn(true));
    get("back").onclick = meant(() => turn(false));
    for (const [id, by] of [["higher", step], ["lower", -step]]) {
      get(id).onclick = () => {
        draft.above = Math.max(-20, Math.min(20, Number((draft.above + by).toFixed(6))));
        pressed();
      };
    }
    get("save").onclick = meant(save);
    showSizes();
    show();
  }
  showQueue();
  queue.send();
})();
