// What every page of the bench does beyond its forms. All of it works without.
"use strict";
// On a narrow screen the day's way slides: the page that is shown is in sight.
{
  const here = document.querySelector(".day [aria-current]"), way = here && here.closest(".day");
  if (way) way.scrollLeft = here.offsetLeft - (way.clientWidth - here.offsetWidth) / 2;
}
// A change that is being stored is not sent twice.
document.addEventListener("submit", (e) => {
  const form = e.target;
  if (form.method !== "post" || e.defaultPrevented) return;
  if (form.dataset.sent) { e.preventDefault(); return; }
  form.dataset.sent = "1";
  window.addEventListener("pageshow", () => { delete form.dataset.sent; }, { once: true });
});
