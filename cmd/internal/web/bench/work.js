// Work that goes on: the bar follows it, and the page comes anew when it has ended,
// unless something is being typed there: then it says that it is ready.
"use strict";
{
  const box = document.querySelector("[data-work]");
  const bar = box && box.querySelector("progress");
  const text = box && box.querySelector("[data-text]");
  const ready = box && box.querySelector("[data-ready]");
  // A picker of a colour is never empty; what it says stands in the field beside it.
  const typed = () => [...document.querySelectorAll("main input:not([type=color]), main textarea, main select")].some((one) =>
    one.options ? [...one.options].some((o) => o.selected !== o.defaultSelected) && one.selectedIndex > 0
      : one.type === "checkbox" || one.type === "radio" ? one.checked !== one.defaultChecked
        : one.value !== one.defaultValue);
  // anew comes back to the page's heading: by an address that is not the present
  // one, for else nothing would be loaded.
  const anew = () => {
    const to = new URL(box.dataset.here, location.href);
    to.searchParams.set("ended", Date.now());
    to.hash = "title";
    location.replace(to);
  };
  const look = async () => {
    try {
      const answer = await fetch(box.dataset.work, { cache: "no-store" });
      const now = await answer.json();
      if (!now.running) {
        if (!ready || !typed()) { anew(); return; }
        bar.hidden = text.hidden = true;
        ready.hidden = false;
        return;
      }
      text.textContent = now.total > 1 ? `${now.text} ${now.done}/${now.total}` : now.text;
      if (now.total > 0) { bar.max = now.total; bar.value = now.done; } else { bar.removeAttribute("value"); }
    } catch { /* the network is away for a moment: it is asked again */ }
    setTimeout(look, 400);
  };
  if (box) setTimeout(look, 150);
}
