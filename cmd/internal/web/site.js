// A page of a site of plain files: the reader is offered his own language, and the
// one he chose is kept.
(function () {
  var key = "language", now = document.documentElement.lang;
  var links = Array.prototype.slice.call(document.querySelectorAll("nav a[hreflang]"));
  function kept(value) {
    try {
      if (value) localStorage.setItem(key, value);
      return localStorage.getItem(key);
    } catch (e) { return null; /* not allowed: then it is not kept */ }
  }
  function linkTo(tag) { return links.filter(function (a) { return a.hreflang === tag; })[0]; }
  links.forEach(function (a) { a.addEventListener("click", function () { kept(a.hreflang); }); });
  var chosen = kept();
  if (chosen && chosen !== now && linkTo(chosen)) { location.replace(linkTo(chosen).href); return; }
  var wants = (navigator.languages || [navigator.language || ""]).map(function (t) { return t.toLowerCase().split("-")[0]; });
  var own = chosen ? undefined : wants.filter(function (t) { return t === now || linkTo(t); })[0];
  if (!own || own === now) return;
  var to = linkTo(own), p = document.createElement("p"), a = document.createElement("a");
  a.href = to.href; a.lang = a.hreflang = own; a.textContent = to.title;
  a.addEventListener("click", function () { kept(own); });
  p.id = "offer"; p.className = "lead"; p.appendChild(a);
  document.querySelector("main").insertBefore(p, document.querySelector("main > header"));
})();
