// The float that turns under the finger, the picture that follows what is typed,
// and what is said of the mark when it is known.
"use strict";
(() => {
  const form = document.getElementById("mark"), look = document.getElementById("look"), unsaved = document.getElementById("unsaved");
  if (!form) return;
  document.getElementById("show").hidden = true;
  const stepBy = 10;
  let turn = 0, asked = 0;
  const mod = (v) => ((Math.round(v / stepBy) * stepBy) % 360 + 360) % 360;
  const kept = new Map(); // pictures by their address, so that turning back is at once
  const fetchPicture = (src) => {
    if (!kept.has(src)) {
      const img = new Image();
      img.src = src;
      kept.set(src, img);
      if (kept.size > 150) kept.delete(kept.keys().next().value);
    }
    return kept.get(src);
  };
  const stage = () => document.getElementById("float");
  const address = (t) => stage().dataset.picture + "&turn=" + t;

  // show turns to the nearest step; the neighbours are asked for when it is there.
  // A page that nobody turns on asks for one picture.
  const show = async (to) => {
    const at = stage();
    if (!at) return;
    turn = mod(to);
    at.dataset.turn = turn;
    at.setAttribute("aria-valuenow", turn);
    at.setAttribute("aria-valuetext", at.dataset.say.replace("%1", turn));
    for (const a of look.querySelectorAll(".quarters a")) if (Number(a.dataset.to) * 90 === turn) a.setAttribute("aria-current", "true"); else a.removeAttribute("aria-current");
    const mine = ++asked, img = fetchPicture(address(turn));
    try { await img.decode(); } catch (e) { return; }
    if (mine !== asked || stage() !== at) return;
    at.querySelector("img").src = img.src;
    for (const by of [stepBy, -stepBy, 2 * stepBy, -2 * stepBy]) {
      if (mine !== asked) return;
      try { await fetchPicture(address(mod(turn + by))).decode(); } catch (e) { return; }
    }
  };

  const ready = () => {
    const at = stage();
    if (!at) return;
    at.setAttribute("tabindex", "0");
    at.setAttribute("role", "slider");
    at.setAttribute("aria-valuemin", "0");
    at.setAttribute("aria-valuemax", "350");
    at.setAttribute("aria-label", at.dataset.say.replace("%1", "0"));
    turn = mod(Number(at.dataset.turn));
    at.setAttribute("aria-valuenow", turn);
    at.setAttribute("aria-valuetext", at.dataset.say.replace("%1", turn));
    const img = at.querySelector("img");
        if (img.complete) tell(); else for (const then of ["load", "error"]) img.addEventListener(then, tell, { once: true });
  };

  // A full turn is as far as the picture is wide. The float lies, so its skin runs
  // with the finger up and down; left and right turn it too.
  let drag = null;
  look.addEventListener("pointerdown", (e) => {
    const at = e.target.closest("#float");
    if (!at) return;
    drag = { x: e.clientX, turn, wide: at.clientWidth };
    at.setPointerCapture(e.pointerId);
    at.focus({ preventScroll: true });
    show(turn);
  });
  look.addEventListener("pointermove", (e) => { if (drag) { const to = mod(drag.turn - (e.clientX - drag.x) / drag.wide * 360); if (to !== turn) show(to); } });
  for (const end of ["pointerup", "pointercancel"]) look.addEventListener(end, () => { drag = null; });
  look.addEventListener("keydown", (e) => {
    if (!e.target.closest("#float")) return;
    const by = { ArrowRight: stepBy, ArrowUp: stepBy, ArrowLeft: -stepBy, ArrowDown: -stepBy, PageUp: 90, PageDown: -90 }[e.key];
    if (e.key === "Home") show(0); else if (by) show(turn + by); else return;
    e.preventDefault();
  });
  look.addEventListener("click", (e) => {
    const a = e.target.closest(".quarters a");
    if (!a || e.ctrlKey || e.metaKey || e.shiftKey) return;
    e.preventDefault();
    show(Number(a.dataset.to) * 90);
  });

  // tell asks for what takes longer: whether the code reads, and what helps.
  let asking = new AbortController();
  const tell = async () => {
    const said = document.getElementById("said"), whole = said && said.querySelector(".whole");
    if (whole) whole.hidden = true;
    if (!said || !said.dataset.src) return;
    const src = said.dataset.src;
    said.dataset.src = "";
    asking.abort(); // what was typed before is no matter any more
    const mine = asking = new AbortController();
    if (!unsaved.hidden) await new Promise((ok) => setTimeout(ok, 1000));
    if (mine !== asking) return;
    try {
      const answer = await fetch(src, { signal: mine.signal });
      if (!answer.ok || document.getElementById("said") !== said) return;
      const text = await answer.text(), seen = look.querySelector(".seen");
      said.innerHTML = text;
      const v = said.firstElementChild.dataset.v;
      if (v && seen && v !== seen.dataset.v) follow(true); // pictures told more of the code, or moved it to the card
    } catch (e) { /* the page says how to look again */ }
  };

  // What is typed is looked at, one request at a time, the last one asked for.
  let busy = false, again = false;
  const follow = async (same) => {
    if (busy) { again = true; return; }
    busy = true;
    if (same !== true) unsaved.hidden = false;
    const q = new URLSearchParams();
    if (!unsaved.hidden) for (const [k, v] of new FormData(form)) if (typeof v === "string" && k !== "version") q.append(k, v);
    q.set("turn", turn);
    try {
      const answer = await fetch(form.dataset.look + "?" + q);
      if (answer.ok) {
        const held = document.activeElement && document.activeElement.id === "float";
        look.innerHTML = await answer.text();
        ready();
        if (held && stage()) stage().focus({ preventScroll: true });
      }
    } catch (e) { /* the next change asks again */ }
    busy = false;
    if (again) { again = false; follow(); }
  };
  form.addEventListener("change", (e) => {
    if (e.target.type === "file") return;
    if (e.target.dataset.style) for (const d of form.querySelectorAll("[data-parts]")) if (d.dataset.parts === e.target.dataset.style && e.target.value === "own") d.open = true;
    follow();
  });
  let soon = 0;
  form.addEventListener("input", (e) => { if (e.target.type === "file") return; clearTimeout(soon); soon = setTimeout(follow, 250); });
  ready();
})();
