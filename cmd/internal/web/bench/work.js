// Work that goes on: the bar follows it, and the page comes anew when it has ended.
"use strict";
{
  const box = document.querySelector("[data-work]");
  const bar = box && box.querySelector("progress");
  const text = box && box.querySelector("[data-text]");
  const look = async () => {
    try {
      const answer = await fetch(box.dataset.work, { cache: "no-store" });
      const now = await answer.json();
      if (!now.running) { location.replace(box.dataset.here); return; }
      text.textContent = now.total > 1 ? `${now.text} ${now.done}/${now.total}` : now.text;
      if (now.total > 0) { bar.max = now.total; bar.value = now.done; } else { bar.removeAttribute("value"); }
    } catch { /* the network is away for a moment: it is asked again */ }
    setTimeout(look, 500);
  };
  if (box) setTimeout(look, 300);
}
