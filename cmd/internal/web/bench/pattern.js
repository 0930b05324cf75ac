// The outline that is dragged, and the picture that follows what is typed. The
// table of stations is what counts: dragging types into it.
"use strict";
(() => {
  const form = document.getElementById("pattern"), stage = document.getElementById("stage"), shape = document.getElementById("shape");
  const table = document.getElementById("stations").tBodies[0];
  for (const e of document.querySelectorAll(".scripted")) e.hidden = false;
  for (const e of document.querySelectorAll(".swatch")) e.remove();
  document.getElementById("show").hidden = true;

  // Only the chosen way to say the shape is shown.
  const way = () => form.elements.shape.value;
  const ways = () => { for (const e of form.querySelectorAll("[data-way]")) e.hidden = e.dataset.way !== way(); };
  ways();

  // Colours: the picker and the text follow each other.
  for (const c of form.querySelectorAll("[data-colour]")) {
    const text = form.elements[c.dataset.colour];
    const bare = () => c.classList.toggle("none", !text.value); // no colour is shown where none is said
    bare();
    c.addEventListener("input", () => { text.value = c.value; bare(); follow(); });
    text.addEventListener("input", () => { bare(); if (/^#[0-9a-f]{6}$/i.test(text.value)) c.value = text.value; });
  }

  // The picture: one request at a time, the last one that was asked for.
  let busy = false, again = false;
  const follow = async () => {
    if (busy) { again = true; return; }
    busy = true;
    const q = new URLSearchParams();
    for (const [k, v] of new FormData(form)) if (typeof v === "string") q.append(k, v);
    try {
      const answer = await fetch(form.dataset.shape + "?" + q);
      if (answer.ok) { shape.innerHTML = await answer.text(); place(); }
    } catch (e) { /* the network comes and goes; the next change asks again */ }
    busy = false;
    if (again) { again = false; follow(); }
  };
  form.addEventListener("input", (e) => { if (e.target.type !== "file") follow(); });
  form.addEventListener("change", () => { ways(); place(); });

  // Rows of the table that have both numbers.
  // What a field says, in millimetres: in the page's units where it names none, as
  // the server reads it. What it says in other words is left to the server.
  const mm = Number(stage.dataset.mm), least = Number(stage.dataset.step) * mm, places = Number(stage.dataset.places);
  const inWords = (v) => { const s = v.toFixed(places), t = mm === 1 ? s.replace(/\.0$/, "") : s; return stage.dataset.comma === "true" ? t.replace(".", ",") : t; };
  const number = (text) => {
    const m = /^(?:(\d+)[ -])?(\d+)\/(\d+)\s*(.*)$/.exec(text.trim()) || /^()(-?\d*[.,]?\d+|\d+[.,])()\s*(.*)$/.exec(text.trim());
    if (!m) return NaN;
    const unit = m[4].toLowerCase(), per = unit === "" ? mm : unit === "mm" ? 1 : unit === "cm" ? 10 : /^(in\.?|inch|inches|"|″|zoll|po|cala)$/.test(unit) ? 25.4 : NaN;
    return (Number(m[1] || 0) + Number(m[2].replace(",", ".")) / Number(m[3] || 1)) * per;
  };
  const rows = () => [...table.rows].map((tr) => {
    const [z, d] = tr.querySelectorAll("input");
    return { z, d, tr };
  }).filter((r) => isFinite(number(r.z.value)) && isFinite(number(r.d.value))).sort((a, b) => number(a.z.value) - number(b.z.value));

  const free = (tr, n) => { for (const e of tr.querySelectorAll("[name]")) if (e.name.includes(".")) e.name = e.name.replace(/\d+$/, n); else e.value = n; };
  document.getElementById("add-station").addEventListener("click", () => {
    const last = table.rows[table.rows.length - 1], tr = last.cloneNode(true);
    free(tr, 1 + Math.max(...[...table.querySelectorAll("[name^='z.']")].map((e) => Number(e.name.slice(2)))));
    for (const e of tr.querySelectorAll("input")) { if (e.type === "checkbox") e.checked = false; else e.value = ""; }
    table.append(tr);
    tr.querySelector("input").focus();
  });
  table.addEventListener("click", (e) => {
    const b = e.target.closest("button[name=remove]");
    if (!b || table.rows.length < 2) return;
    e.preventDefault();
    for (const i of b.closest("tr").querySelectorAll("input:not([type=checkbox])")) i.value = "";
    b.closest("tr").remove();
    follow();
  });

  // The points lie over the picture, so that a new picture leaves them be.
  const ns = "http://www.w3.org/2000/svg";
  const over = document.createElementNS(ns, "svg");
  over.setAttribute("class", "overlay");
  stage.append(over);
  const points = [];
  const write = (input, v) => { input.value = inWords(v / mm); };

  // step moves a station within what its neighbours leave.
  const step = (p, z, d) => {
    const all = rows(), i = all.findIndex((r) => r.tr === p.row.tr);
    const lo = i > 0 ? number(all[i - 1].z.value) + least : 0, hi = i + 1 < all.length ? number(all[i + 1].z.value) - least : 600;
    write(p.row.z, i === 0 ? 0 : Math.min(hi, Math.max(lo, z)));
    write(p.row.d, Math.min(80, Math.max(i > 0 && i + 1 < all.length ? least : 0, d)));
    place();
    follow();
  };

  let scale = 1, axis = 0, left = 0;
  function place() {
    const svg = shape.querySelector(".drawing svg");
    const dragged = svg && way() === "stations";
    over.style.display = dragged ? "" : "none";
    stage.nextElementSibling.hidden = !dragged;
    if (!svg) return;
    const box = svg.getBoundingClientRect(), at = stage.getBoundingClientRect(), view = svg.viewBox.baseVal;
    scale = box.width / view.width;
    left = box.left - at.left + stage.scrollLeft - view.x * scale;
    axis = box.top - at.top + stage.scrollTop + (0 - view.y) * scale;
    over.setAttribute("width", stage.scrollWidth);
    over.setAttribute("height", box.bottom - at.top + stage.scrollTop);
    const all = rows();
    while (points.length > all.length) points.pop().g.remove();
    while (points.length < all.length) points.push(make());
    all.forEach((row, i) => {
      const p = points[i], z = number(row.z.value), d = number(row.d.value);
      p.row = row;
      for (const c of p.g.children) { c.setAttribute("cx", left + z * scale); c.setAttribute("cy", axis - d / 2 * scale); }
      p.g.setAttribute("aria-label", stage.dataset.say.replace("%1", i + 1).replace("%2", inWords(z / mm)).replace("%3", inWords(d / mm)));
    });
  }
  function make() {
    const g = document.createElementNS(ns, "g"), p = { g, row: null };
    g.setAttribute("tabindex", "0");
    g.setAttribute("role", "button");
    for (const [name, r] of [["grip", 22], ["point", 7]]) {
      const c = document.createElementNS(ns, "circle");
      c.setAttribute("class", name);
      c.setAttribute("r", r);
      c.setAttribute("stroke-width", 2);
      g.append(c);
    }
    g.addEventListener("keydown", (e) => {
      const by = (e.shiftKey ? 10 : 1) * least, z = number(p.row.z.value), d = number(p.row.d.value);
      const to = { ArrowRight: [z + by, d], ArrowLeft: [z - by, d], ArrowUp: [z, d + by], ArrowDown: [z, d - by] }[e.key];
      if (!to) return;
      e.preventDefault();
      step(p, ...to);
    });
    over.append(g);
    return p;
  }
  // Grips overlap where stations lie close together: the nearest point is meant.
  let held = null;
  over.addEventListener("pointerdown", (e) => {
    const at = over.getBoundingClientRect(), x = e.clientX - at.left, y = e.clientY - at.top;
    let best = Infinity;
    for (const p of points) {
      const c = p.g.lastChild, far = Math.hypot(c.getAttribute("cx") - x, c.getAttribute("cy") - y);
      if (far < best) { best = far; held = { p, x: e.clientX, y: e.clientY }; }
    }
    if (!held) return;
    held.z = number(held.p.row.z.value);
    held.d = number(held.p.row.d.value);
    held.p.g.lastChild.classList.add("held");
    held.p.g.focus();
    over.setPointerCapture(e.pointerId);
    e.preventDefault();
  });
  over.addEventListener("pointermove", (e) => {
    if (held) step(held.p, held.z + (e.clientX - held.x) / scale, held.d - 2 * (e.clientY - held.y) / scale);
  });
  const drop = () => { if (held) held.p.g.lastChild.classList.remove("held"); held = null; };
  over.addEventListener("pointerup", drop);
  over.addEventListener("pointercancel", drop);
  addEventListener("resize", place);
  place();
})();
