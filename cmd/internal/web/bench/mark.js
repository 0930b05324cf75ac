// The float that turns and tips under the finger, the picture that follows what is typed,
// and what is said of the mark when it is known.
"use strict";
(() => {
  const form = document.getElementById("mark"), look = document.getElementById("look"), unsaved = document.getElementById("unsaved");
  if (!form) return;
  document.getElementById("show").hidden = true;
  const stepBy = 10, mostTip = 40;
  let turn = 0, tip = 0, shown = "", busy = false;
  const mod = (v) => ((Math.round(v / stepBy) * stepBy) % 360 + 360) % 360;
  const within = (v) => Math.min(mostTip, Math.max(-mostTip, Math.round(v / stepBy) * stepBy)) || 0;
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
  const address = (t, up) => stage().dataset.picture + "&turn=" + t + "&tip=" + up;
  const says = (at) => at.dataset.say.replace("%1", turn).replace("%2", tip);

  // show turns and tips to the nearest steps; the picture follows.
  const show = (to, up) => {
    const at = stage();
    if (!at) return;
    turn = mod(to);
    tip = within(up);
    at.dataset.turn = turn;
    at.dataset.tip = tip;
    at.setAttribute("aria-valuenow", turn);
    at.setAttribute("aria-valuetext", says(at));
    for (const a of look.querySelectorAll(".quarters a")) {
      const here = a.dataset.turn === undefined ? Number(a.dataset.tip) === tip : Number(a.dataset.turn) === turn;
      if (here) a.setAttribute("aria-current", "true"); else a.removeAttribute("aria-current");
    }
    picture();
  };
  // One picture at a time, of the pose that holds then: what a quick finger passes
  // over is not asked for. Its neighbours are asked for when it is there. A page that
  // nobody turns on asks for one picture.
  const picture = async () => {
    if (busy) return;
    busy = true;
    for (let at = stage(), src; at && (src = address(turn, tip)) !== shown; at = stage()) {
      const img = fetchPicture(src);
      try { await img.decode(); } catch (e) { kept.delete(src); break; }
      if (stage() !== at) continue;
      at.querySelector("img").src = img.src;
      shown = src;
    }
    busy = false;
    const now = shown;
    for (const [by, bend] of [[stepBy, 0], [-stepBy, 0], [0, stepBy], [0, -stepBy]]) {
      if (busy || !stage() || now !== shown || now !== address(turn, tip)) return;
      try { await fetchPicture(address(mod(turn + by), within(tip + bend))).decode(); } catch (e) { return; }
    }
  };

  const ready = () => {
    const at = stage();
    if (!at) return;
    at.setAttribute("tabindex", "0");
    at.setAttribute("role", "slider");
    at.setAttribute("aria-valuemin", "0");
    at.setAttribute("aria-valuemax", "350");
    at.setAttribute("aria-label", at.dataset.say.replace("%1", "0").replace("%2", "0"));
    turn = mod(Number(at.dataset.turn));
    tip = within(Number(at.dataset.tip));
    for (const e of look.querySelectorAll(".scripted")) e.hidden = false;
    at.setAttribute("aria-valuenow", turn);
    at.setAttribute("aria-valuetext", says(at));
    shown = address(turn, tip);
    const img = at.querySelector("img");
    if (img.complete) tell(); else for (const then of ["load", "error"]) img.addEventListener(then, tell, { once: true });
  };

  // A full turn is as far as the picture is wide; half its height tips the float
  // as far as it goes. A finger that begins upwards or downwards scrolls the page:
  // one that begins sideways holds the float.
  let drag = null;
  look.addEventListener("pointerdown", (e) => {
    const at = e.target.closest("#float");
    if (!at || !e.isPrimary) return;
    drag = { x: e.clientX, y: e.clientY, turn, tip, wide: at.clientWidth, high: at.clientHeight, id: e.pointerId, held: e.pointerType !== "touch" };
    at.setPointerCapture(e.pointerId);
    at.focus({ preventScroll: true });
    show(turn, tip);
  });
  look.addEventListener("pointermove", (e) => {
    if (!drag || e.pointerId !== drag.id) return;
    drag.held ||= Math.abs(e.clientX - drag.x) > 6; // pixels: no finger goes quite straight
    if (!drag.held) return;
    const to = mod(drag.turn - (e.clientX - drag.x) / drag.wide * 360), up = within(drag.tip - (e.clientY - drag.y) / drag.high * 2 * mostTip);
    if (to !== turn || up !== tip) show(to, up);
  });
  look.addEventListener("pointerup", (e) => { if (drag && e.pointerId === drag.id) drag = null; });
  look.addEventListener("pointercancel", (e) => { // the page scrolls instead
    if (!drag || e.pointerId !== drag.id) return;
    const was = drag;
    drag = null;
    show(was.turn, was.tip);
  });
  look.addEventListener("keydown", (e) => {
    if (!e.target.closest("#float") || e.ctrlKey || e.metaKey || e.altKey) return;
    const by = { ArrowRight: [stepBy, 0], ArrowLeft: [-stepBy, 0], ArrowUp: [0, stepBy], ArrowDown: [0, -stepBy], PageUp: [90, 0], PageDown: [-90, 0] }[e.key];
    if (e.key === "Home") show(0, 0); else if (by) show(turn + by[0], tip + by[1]); else return;
    e.preventDefault();
  });
  look.addEventListener("click", (e) => {
    const a = e.target.closest(".quarters a");
    if (!a || e.ctrlKey || e.metaKey || e.shiftKey) return;
    e.preventDefault();
    if (a.dataset.turn === undefined) show(turn, Number(a.dataset.tip)); else show(Number(a.dataset.turn), tip);
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
  let following = false, again = false;
  const follow = async (same) => {
    if (following) { again = true; return; }
    following = true;
    if (same !== true) unsaved.hidden = false;
    const q = new URLSearchParams();
    if (!unsaved.hidden) for (const [k, v] of new FormData(form)) if (typeof v === "string" && k !== "version") q.append(k, v);
    q.set("turn", turn);
    q.set("tip", tip);
    try {
      const answer = await fetch(form.dataset.look + "?" + q);
      if (answer.ok) {
        const held = document.activeElement && document.activeElement.id === "float";
        look.innerHTML = await answer.text();
        ready();
        if (held && stage()) stage().focus({ preventScroll: true });
      }
    } catch (e) { /* the next change asks again */ }
    following = false;
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
