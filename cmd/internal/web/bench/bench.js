// What every page of the bench does beyond its forms. All of it works without.
"use strict";
// On a narrow screen the day's way slides: the page that is shown is in sight.
{
  const here = document.querySelector(".day [aria-current]"), way = here && here.closest(".day");
  if (way) way.scrollLeft = here.offsetLeft - (way.clientWidth - here.offsetWidth) / 2;
}
// The focus goes with the address: to the heading of what it names, unfolded where
// it is folded.
const land = () => {
  const to = document.querySelector("main :target");
  if (!to) return;
  const folded = to.querySelector(":scope > details");
  if (folded) folded.open = true;
  const at = to.matches("section") && to.querySelector("summary, h2") || to;
  if (at.tabIndex < 0) at.tabIndex = -1;
  at.focus({ preventScroll: true });
};
addEventListener("hashchange", land);
addEventListener("load", () => { if (document.activeElement === document.body) land(); });
// What has the focus by keyboard does not hide under the bar that sticks to the
// lower edge.
document.addEventListener("focusin", (e) => {
  const bar = document.querySelector(".save");
  if (!bar || bar.contains(e.target) || !e.target.matches(":focus-visible")) return;
  const r = e.target.getBoundingClientRect(), b = bar.getBoundingClientRect();
  if (r.bottom > b.top && r.top < b.bottom && r.right > b.left && r.left < b.right) e.target.scrollIntoView({ block: "center" });
});
// A change that is being stored is not sent twice.
document.addEventListener("submit", (e) => {
  const form = e.target;
  if (form.method !== "post" || e.defaultPrevented) return;
  if (form.dataset.sent) { e.preventDefault(); return; }
  form.dataset.sent = "1";
  window.addEventListener("pageshow", () => { delete form.dataset.sent; }, { once: true });
});
// A colour is picked or typed: picker and text follow each other.
for (const c of document.querySelectorAll("input.picker")) {
  const text = c.form.elements[c.dataset.colour], swatch = c.parentElement.querySelector("svg");
  const hex = (s) => /^#[0-9a-f]{6}$/i.test(s);
  const bare = () => c.classList.toggle("none", !hex(text.value || text.placeholder));
  if (swatch) swatch.remove();
  c.hidden = false;
  bare();
  c.addEventListener("input", () => { text.value = c.value; bare(); });
  text.addEventListener("input", () => { bare(); if (hex(text.value)) c.value = text.value; });
}
